package export

import (
	"strings"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/export/deid"
)

func (w *writer) differences() Table {
	type row = *analyse.Difference
	d := definition[row]{
		name: "differences", title: "Differences",
		about:   "One row for each rate of a protocol and its items: this audit less the one before, or, without studies that only an earlier audit has, its last month less the month before.",
		subject: func(row) *deid.Subject { return nil },
		columns: []column[row]{
			{Column: Column{Name: "protocol", Heading: "Protocol id", Kind: Text, Width: 24, Place: Aside, Meaning: "The protocol. It is matched by its name, and items by theirs: tables do not tell its version."},
				cell: func(r row) Cell { return text(r.Protocol) }},
			{Column: Column{Heading: "Protocol", Kind: Text, Width: 28, Wrap: true, Place: Front},
				cell: func(r row) Cell { return text(w.result.ProtocolTitle(r.Protocol)) }},
			{Column: Column{Name: "rate", Heading: "Rate", Kind: Text, Wording: InWords, Width: 17, Place: Front, Meaning: rateMeaning},
				cell: func(r row) Cell { return text(string(r.Of)) }},
			{Column: Column{Name: "item", Heading: "Item id", Kind: Text, Width: 28, Place: Aside, Meaning: "The required item, where the rate is of one."},
				cell: func(r row) Cell { return text(r.Item) }},
			{Column: Column{Heading: "Item", Kind: Text, Width: 42, Wrap: true, Place: Front},
				cell: func(r row) Cell { return text(r.Title) }},
			{Column: Column{Name: "now", Heading: "Now", Kind: Text, Width: 11, Place: Front, Meaning: "What is compared: this audit, or a month; of months identity none says which of the two only."},
				cell: func(r row) Cell { return text(w.side(r, r.NowIs, "last month")) }},
			{Column: Column{Name: "before", Heading: "Before", Kind: Text, Width: 18, Wrap: true, Place: Front, Rule: deid.Path, Meaning: "What it is compared with: the folder of the earlier audit's tables, or a month."},
				cell: func(r row) Cell { return text(w.side(r, r.BeforeIs, "month before")) }, ruleOf: sideRule},
			{Column: Column{Name: "now_numerator", Heading: "Met now", Kind: Integer, Width: 7, Place: Front, Meaning: "Studies or items that meet it now."},
				cell: func(r row) Cell { return shown(&r.Now, r.Now.Numerator) }},
			{Column: Column{Name: "now_denominator", Heading: "Of", Kind: Integer, Width: 7, Place: Front, Meaning: "Those that could be judged now."},
				cell: func(r row) Cell { return shown(&r.Now, r.Now.Denominator) }},
			{Column: Column{Name: "before_numerator", Heading: "Met before", Kind: Integer, Width: 7, Place: Front, Meaning: "Studies or items that met it before. A study that is in both audits counts now."},
				cell: func(r row) Cell { return shown(&r.Before, r.Before.Numerator) }},
			{Column: Column{Name: "before_denominator", Heading: "Of", Kind: Integer, Width: 7, Place: Front, Meaning: "Those that could be judged before."},
				cell: func(r row) Cell { return shown(&r.Before, r.Before.Denominator) }},
			{Column: Column{Name: "difference", Heading: "Difference (points of %)", Kind: Share, Unit: "1", Width: 11, Place: Front, Meaning: "Share now less share before, from −1 to 1."},
				cell: func(r row) Cell { return optional(r.Value) }},
			{Column: Column{Name: "low", Heading: "95 % from", Kind: Share, Unit: "1", Width: 9, Place: Front, Meaning: "Lower end of its 95 % interval (Newcombe 1998, method 10), for independent studies. Of twenty rows that did not change, one on average leaves out 0."},
				cell: func(r row) Cell { return optional(r.Low) }},
			{Column: Column{Name: "high", Heading: "95 % to", Kind: Share, Unit: "1", Width: 9, Place: Front, Meaning: "Upper end of the interval."},
				cell: func(r row) Cell { return optional(r.High) }},
			{Column: Column{Name: "direction", Heading: "Direction", Kind: Text, Width: 10, Place: Front, Signal: ByWord, Meaning: "better or worse where the interval leaves out 0, else unclear."},
				cell: func(r row) Cell { return text(r.Direction()) }},
			{Column: Column{Name: "suppressed", Heading: "Left out", Kind: Flag, Width: 9, Meaning: "Whether it is left out, because a count, or one that is given away, is below --min-cell."},
				cell: func(r row) Cell { return flag(r.Now.Suppressed) }},
			{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 40, Wrap: true, Place: Front, Meaning: "Why there is no difference."},
				cell: func(r row) Cell { return text(r.Note) }},
		},
	}
	list := w.result.Month.Differences
	return d.table(w.rules, len(list), pointers(list))
}

// side names one side of a difference; a month stays unnamed where dates are shifted.
func (w *writer) side(d *analyse.Difference, name, unnamed string) string {
	if d.NowIs != analyse.ThisAudit && !w.inTime() {
		return unnamed
	}
	return name
}

// sideRule is that of a path where the difference is to another audit.
func sideRule(d *analyse.Difference) deid.Rule {
	if d.NowIs == analyse.ThisAudit {
		return deid.Path
	}
	return deid.Keep
}

// signalMeaning lists the run rules with their sources.
func signalMeaning() string {
	parts := make([]string, len(stats.Rules))
	for i, r := range stats.Rules {
		parts[i] = r.ID + " (" + r.Title + "; " + r.Source + ")"
	}
	return "Run rules that end at the point, separated by \"" + listSeparator + "\": " + strings.Join(parts, ", ") + ". A signal asks what was special then; it is no proof, and steady processes give false ones."
}
