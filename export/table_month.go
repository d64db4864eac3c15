package export

import (
	"iter"

	"leadline/analyse"
	"leadline/export/deid"
)

// inTime tells whether what stands in the order of time may be written: with identity
// none the dates of each patient are shifted, which a true order would undo.
func (w *writer) inTime() bool { return w.rules.Identity() != deid.None }

// chosen are the elements of a list that may be written, and how many they are.
func chosen[T any](list []T, may func(*T) bool) (int, iter.Seq[*T]) {
	n := 0
	for i := range list {
		if may(&list[i]) {
			n++
		}
	}
	return n, func(yield func(*T) bool) {
		for i := range list {
			if may(&list[i]) && !yield(&list[i]) {
				return
			}
		}
	}
}

// shown is a count, absent where it is left out.
func shown(p *analyse.Proportion, n int) Cell {
	if p.Suppressed {
		return Cell{}
	}
	return count(n)
}

// rateMeaning is what the codebook says of the kinds of rate.
const rateMeaning = "complete-studies (studies with no required item partial or missing, of those of which something could be judged), items-met (required items met, of those that could be judged, over all studies; items of one study go together, which widens the interval by design_effect), item-met (studies that meet one required item, of those in which it could be judged)."

func (w *writer) rates() Table {
	type row = *analyse.GroupRate
	d := definition[row]{
		name: "rates", title: "Rates",
		about:   "One row for each rate of a protocol: the whole, each item, and by device, unit, operator, month and week.",
		subject: func(row) *deid.Subject { return nil },
		columns: []column[row]{
			{Column: Column{Name: "protocol", Heading: "Protocol id", Kind: Text, Width: 24, Place: Aside, Meaning: "The protocol."},
				cell: func(r row) Cell { return text(r.Protocol) }},
			{Column: Column{Heading: "Protocol", Kind: Text, Width: 28, Wrap: true, Place: Front},
				cell: func(r row) Cell { return text(w.result.ProtocolTitle(r.Protocol)) }},
			{Column: Column{Name: "rate", Heading: "Rate", Kind: Text, Wording: InWords, Width: 17, Place: Front, Meaning: rateMeaning},
				cell: func(r row) Cell { return text(string(r.Of)) }},
			{Column: Column{Name: "by", Heading: "By", Kind: Text, Width: 10, Place: Front,
				Meaning: "protocol (all studies of this audit), item, device, unit, operator, month or week. Rates by month and week hold the studies of earlier audits too."},
				cell: func(r row) Cell { return text(string(r.By)) }},
			{Column: Column{Name: "item", Heading: "Item id", Kind: Text, Width: 28, Place: Aside, Meaning: "The required item, where the rate is of one."},
				cell: func(r row) Cell { return text(r.Item) }},
			{Column: Column{Heading: "Item", Kind: Text, Width: 42, Wrap: true, Place: Front},
				cell: func(r row) Cell { return text(r.Title) }},
			{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: Front, Rule: deid.Device,
				Meaning: "The device that made most images of each study, where the rate is by device; absent where the files name none."},
				cell: func(r row) Cell { return w.rateDevice(r) }, ruleOf: settled[row]},
			{Column: Column{Name: "hospital_unit", Heading: "Unit", Kind: Text, Width: 28, Wrap: true, Place: Front, Rule: deid.Code,
				Meaning: "Institution Name (0008,0080) and Institutional Department Name (0008,1040), where the rate is by unit; Station Name (0008,1010) stands for a department that is absent."},
				cell: func(r row) Cell { return text(r.Unit) }},
			{Column: Column{Name: "operator", Heading: "Operator", Kind: Text, Width: 12, Place: Front, Rule: deid.Person,
				Meaning: "Who scanned, where the rate is by operator; a study of two people counts for both. Judge no person by it."},
				cell: func(r row) Cell { return text(r.Operator) }},
			{Column: Column{Name: "period", Heading: "Period", Kind: Text, Width: 10, Place: Front,
				Meaning: "Month (2026-09) or ISO 8601 week (2026-W36) of the study date. Identity none: rates by month and week are left out."},
				cell: func(r row) Cell { return text(r.Period) }},
			{Column: Column{Name: "numerator", Heading: "Met", Kind: Integer, Width: 8, Place: Front, Meaning: "Studies or items that meet it."},
				cell: func(r row) Cell { return shown(&r.Proportion, r.Numerator) }},
			{Column: Column{Name: "denominator", Heading: "Of", Kind: Integer, Width: 8, Place: Front, Meaning: "Studies or items that could be judged."},
				cell: func(r row) Cell { return shown(&r.Proportion, r.Denominator) }},
			{Column: Column{Name: "share", Heading: "Share (%)", Kind: Share, Unit: "1", Width: 9, Place: Front, Meaning: "numerator ÷ denominator, from 0 to 1; absent where nothing could be judged."},
				cell: func(r row) Cell { return optional(r.Value) }},
			{Column: Column{Name: "low", Heading: "95 % from", Kind: Share, Unit: "1", Width: 9, Place: Front, Meaning: "Lower end of its 95 % interval by Wilson's score method (Newcombe 1998)."},
				cell: func(r row) Cell { return optional(r.Low) }},
			{Column: Column{Name: "high", Heading: "95 % to", Kind: Share, Unit: "1", Width: 9, Place: Front, Meaning: "Upper end of the interval."},
				cell: func(r row) Cell { return optional(r.High) }},
			{Column: Column{Name: "not_assessable", Heading: "Not assessable", Kind: Integer, Width: 11, Place: Front, Meaning: "Studies or items that could not be judged; they are in neither count."},
				cell: func(r row) Cell { return shown(&r.Proportion, r.NotAssessable) }},
			{Column: Column{Name: "small", Heading: "Small", Kind: Flag, Width: 8, Place: Front, Meaning: "Whether the denominator is below 20 (common practice, no source): read the interval, not the share."},
				cell: func(r row) Cell { return ifShown(&r.Proportion, flag(r.Small)) }},
			{Column: Column{Name: "suppressed", Heading: "Left out", Kind: Flag, Width: 9, Meaning: "Whether the counts are left out, because one of them, or one that they give away, is below --min-cell."},
				cell: func(r row) Cell { return flag(r.Suppressed) }},
			{Column: Column{Name: "earlier", Heading: "With earlier audits", Kind: Flag, Width: 10, Meaning: "Whether studies of earlier audits (--compare) are in it."},
				cell: func(r row) Cell { return flag(r.Earlier) }},
			{Column: Column{Name: "design_effect", Heading: "Design effect", Kind: Number, Width: 9, Places: 2, Place: Aside,
				Meaning: "Of items-met: the interval is that of numerator and denominator divided by it, since items of one study go together (Rao and Scott 1992; Korn and Graubard 1998); absent elsewhere, and with --min-cell, where the interval is too narrow."},
				cell: func(r row) Cell { return optional(r.DesignEffect) }},
		},
	}
	n, rows := chosen(w.result.Month.Rates, func(r row) bool { return r.Period == "" || w.inTime() })
	return d.table(w.rules, n, rows)
}

func (w *writer) rateDevice(r *analyse.GroupRate) Cell {
	if r.Device == nil {
		return Cell{}
	}
	return text(w.device(r.Device))
}

func ifShown(p *analyse.Proportion, c Cell) Cell {
	if p.Suppressed {
		return Cell{}
	}
	return c
}
