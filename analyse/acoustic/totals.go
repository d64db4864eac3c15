package acoustic

import (
	"cmp"
	"slices"

	"leadline/analyse"
)

// Totals add the rows of all months against the lowest limit of each exam and index:
// one total for each, with the devices that lie above it, those of the largest share
// first. Exams without a limit have none, and neither have those of which no header
// gives the index.
func Totals(rows []analyse.AcousticRow) []analyse.AcousticTotal {
	var totals []analyse.AcousticTotal
	for i := range rows {
		r := &rows[i]
		if r.Limit == nil || r.With == 0 {
			continue
		}
		at := slices.IndexFunc(totals, func(t analyse.AcousticTotal) bool { return t.Exam == r.Exam && t.Index == r.Index })
		switch {
		case at < 0:
			at = len(totals)
			totals = append(totals, analyse.AcousticTotal{Exam: r.Exam, Index: r.Index, Limit: r.Limit})
		case r.Limit.Above < totals[at].Limit.Above:
			totals[at] = analyse.AcousticTotal{Exam: r.Exam, Index: r.Index, Limit: r.Limit}
		case r.Limit.Above > totals[at].Limit.Above:
			continue
		}
		add(&totals[at], r)
	}
	for i := range totals {
		slices.SortStableFunc(totals[i].Devices, func(a, b analyse.AcousticShare) int {
			// By share, without dividing.
			return cmp.Or(cmp.Compare(b.Above*a.With, a.Above*b.With), cmp.Compare(b.Above, a.Above), cmp.Compare(analyse.DeviceName(a.Device), analyse.DeviceName(b.Device)))
		})
	}
	return totals
}

func add(t *analyse.AcousticTotal, r *analyse.AcousticRow) {
	t.Above, t.With, t.Max = t.Above+r.Above, t.With+r.With, max(t.Max, r.Max.Value)
	name := analyse.DeviceName(r.Device)
	at := slices.IndexFunc(t.Devices, func(s analyse.AcousticShare) bool { return analyse.DeviceName(s.Device) == name })
	if at < 0 {
		at = len(t.Devices)
		t.Devices = append(t.Devices, analyse.AcousticShare{Device: r.Device})
	}
	t.Devices[at].Above += r.Above
	t.Devices[at].With += r.With
}
