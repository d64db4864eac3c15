package overview

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/analyse/stats"
)

// hide marks the counts that would show a cell that the month leaves out.
func (o *Overview) hide(r *analyse.Result) {
	m := &r.Month
	for _, p := range r.Protocols {
		o.Hidden = o.Hidden || m.Suppresses(p.Name, analyse.CompleteStudies, "")
	}
	for i := range o.Shortfalls {
		s := &o.Shortfalls[i]
		s.Hidden = m.Suppresses(s.Protocol, analyse.ItemMet, s.Item) || m.Below(s.Missing) || m.Below(s.Partial)
	}
	for i := range o.Findings {
		f := &o.Findings[i]
		switch f.ID {
		case checks.ItemMissing.ID, checks.ItemPartial.ID, checks.ItemNotAssessable.ID:
			f.Hidden = m.Below(f.Studies) || m.Below(o.Studies-f.Studies)
		}
	}
}

// The most that MonthLines names.
const (
	namedProtocols = 2
	namedSignals   = 3
)

// MonthLines says in three to six sentences what all studies together say: each rate
// with its number and interval and the direction since last time, signals, and what
// was left out. Periods are named where the reader may know them.
func MonthLines(result *analyse.Result, periods bool) []string {
	m := &result.Month
	lines := []string{}
	more := 0
	for i := range m.Rates {
		r := &m.Rates[i]
		if r.By != analyse.ByProtocol || r.Of != analyse.CompleteStudies {
			continue
		}
		if len(lines) == namedProtocols {
			more++
			continue
		}
		lines = append(lines, rateLine(result, r, periods))
	}
	if more > 0 {
		lines = append(lines, analyse.Counted(more, "more protocol", "more protocols")+": see the rates.")
	}
	if len(lines) > 0 {
		lines = append(lines, signalLine(result, periods))
		if periods {
			lines = append(lines, itemLines(m)...)
		}
	}
	if m.Suppressed > 0 {
		lines = append(lines, fmt.Sprintf("Left out of the rows, points and charts over many studies: %d, which count fewer than %d or give away one that does.", m.Suppressed, m.MinCell))
	}
	return lines
}

// rateLine is the rate of complete studies of a protocol.
func rateLine(result *analyse.Result, r *analyse.GroupRate, periods bool) string {
	var b strings.Builder
	m := &result.Month
	b.WriteString(result.ProtocolTitle(r.Protocol) + ": ")
	switch {
	case r.Suppressed:
		fmt.Fprintf(&b, "left out, since a cell counts fewer than %d.", m.MinCell)
		return b.String()
	case !r.Value.Set:
		fmt.Fprintf(&b, "of %s none could be judged.", analyse.Counted(r.NotAssessable, "study", "studies"))
		return b.String()
	}
	fmt.Fprintf(&b, "%d of %s complete, %s (95 %% interval %s to %s)", r.Numerator, analyse.Counted(r.Denominator, "study", "studies"), percent(r.Value.Value), percent(r.Low.Value), percent(r.High.Value))
	if r.NotAssessable > 0 {
		fmt.Fprintf(&b, ", and %d that could not be judged", r.NotAssessable)
	}
	if r.Small {
		fmt.Fprintf(&b, "; fewer than %d: read the interval, not the rate", analyse.SmallDenominator)
	}
	b.WriteString(changeOf(m, r.Protocol, periods) + ".")
	return b.String()
}

// changeOf is the direction against the audit or the month before.
func changeOf(m *analyse.Month, protocol string, periods bool) string {
	for i := range m.Differences {
		d := &m.Differences[i]
		if d.Protocol != protocol || d.Of != analyse.CompleteStudies || !d.Value.Set {
			continue
		}
		what := "against the audit before"
		switch {
		case d.NowIs == analyse.ThisAudit:
		case periods:
			what = d.NowIs + " against " + d.BeforeIs
		default:
			what = "the last month against the one before"
		}
		word := map[string]string{"better": "better", "worse": "worse", "unclear": "no difference that the numbers show"}[d.Direction()]
		return fmt.Sprintf("; %s %s percentage points (%s to %s): %s", what, points(d.Value.Value), points(d.Low.Value), points(d.High.Value), word)
	}
	return ""
}

// signalLine names the first signals of charts, or says that there are none.
func signalLine(result *analyse.Result, periods bool) string {
	m := &result.Month
	limited, found := 0, 0
	var named []string
	for i := range m.Charts {
		c := &m.Charts[i]
		if c.Item != "" {
			continue
		}
		held := false
		for j := range c.Points {
			p := &c.Points[j]
			held = held || p.Centre.Set
			if len(p.Signals) == 0 {
				continue
			}
			if found++; len(named) < namedSignals {
				title := c.Title
				if c.Protocol != m.Charts[0].Protocol || c.Protocol != m.Charts[len(m.Charts)-1].Protocol {
					title = result.ProtocolTitle(c.Protocol) + ", " + title
				}
				named = append(named, signal(title, p))
			}
		}
		if held {
			limited++
		}
	}
	switch {
	case !periods:
		return "Charts in the order of time are left out, because dates are shifted patient by patient."
	case limited == 0 && m.MinCell > 1:
		return "No chart that may be shown has points enough for limits."
	case limited == 0:
		return "No chart has points enough for limits; add earlier audits by --compare."
	case found == 0:
		return fmt.Sprintf("No signal in %s with limits.", analyse.Counted(limited, "chart", "charts"))
	case found > len(named):
		return fmt.Sprintf("%d points of %s with limits are signals, the first: %s.", found, analyse.Counted(limited, "chart", "charts"), strings.Join(named, "; "))
	}
	return fmt.Sprintf("Signals: %s.", strings.Join(named, "; "))
}

// itemLines names the items whose charts have signals, those that most studies lack
// first; nothing where no such chart has limits.
func itemLines(m *analyse.Month) []string {
	limited := 0
	var named []string
	for i := range m.Charts {
		c := &m.Charts[i]
		if c.Item == "" || !slices.ContainsFunc(c.Points, func(p analyse.ChartPoint) bool { return p.Centre.Set }) {
			continue
		}
		limited++
		if slices.ContainsFunc(c.Points, func(p analyse.ChartPoint) bool { return len(p.Signals) > 0 }) {
			named = append(named, c.Title)
		}
	}
	if len(named) == 0 {
		return nil
	}
	said := strings.Join(named[:min(len(named), namedSignals)], "; ")
	if more := len(named) - namedSignals; more > 0 {
		said += fmt.Sprintf("; and %d more", more)
	}
	return []string{fmt.Sprintf("Signals in %d of %s of single items with limits: %s. Of many charts some signal by chance.", len(named), analyse.Counted(limited, "chart", "charts"), said)}
}

// signal says in words that a chart has a signal at a point, and by which rules.
func signal(title string, p *analyse.ChartPoint) string {
	var why []string
	for _, r := range stats.Rules {
		if slices.Contains(p.Signals, r.ID) {
			why = append(why, r.Title)
		}
	}
	return fmt.Sprintf("%s, %s: %s", title, p.Label, strings.Join(why, " and "))
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", math.Round(100*share)) }

// points writes a difference of shares in percentage points, with its sign.
func points(difference float64) string {
	n := int(math.Round(100 * difference))
	if n == 0 {
		return "0"
	}
	return fmt.Sprintf("%+d", n)
}
