package references

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// chart names rows that belong together: limits by week from one source.
type chart struct{ population, limits, source, weeks string }

// week is one row of a chart and where the value lies against it.
type week struct {
	span     ingest.Span
	standing analyse.Standing
}

// chartOf tells the chart of a row whose week is not told.
func chartOf(r *row, untoldOf []string) (chart, ingest.Span, bool) {
	key := chart{r.Population, r.Limits, r.Source, gestation}
	byBirth, byConception := slices.Contains(untoldOf, gestation), slices.Contains(untoldOf, postmenstrual)
	if byBirth == byConception {
		return chart{}, ingest.Span{}, false
	}
	if byBirth {
		return key, r.GestationWeeks, true
	}
	key.weeks = postmenstrual
	return key, r.PostmenstrualWeeks, true
}

// merge writes the standings of all weeks into one comparison. Limits are left
// out: every week has its own.
func merge(one *analyse.Comparison, weeks []week) {
	slices.SortStableFunc(weeks, func(a, b week) int { return cmp.Compare(from(a.span), from(b.span)) })
	var runs []string
	for i := 0; i < len(weeks); {
		j := i
		for j+1 < len(weeks) && weeks[j+1].standing == weeks[i].standing {
			j++
		}
		runs = append(runs, spanWords(weeks[i].span, weeks[j].span)+" "+string(weeks[i].standing))
		i = j + 1
	}
	one.Low, one.High, one.Close = ingest.Optional[float64]{}, ingest.Optional[float64]{}, false
	if len(runs) > 1 {
		one.Standing = analyse.StandingDepending
	}
	one.Chart = strings.Join(runs, ", ")
}

func from(s ingest.Span) float64 {
	if s.From.Set {
		return s.From.Value
	}
	return math.Inf(-1)
}

// spanWords writes from..to of the first to the last row as the table writes it.
func spanWords(first, last ingest.Span) string {
	return end(first.From) + ".." + end(last.To)
}

func end(v ingest.Optional[float64]) string {
	if !v.Set {
		return ""
	}
	return strconv.FormatFloat(v.Value, 'g', -1, 64)
}
