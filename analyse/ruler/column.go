package ruler

import "sort"

// column is marks that stand one below the other: their left edges, right edges or
// middles lie within a pixel. They are in the order of their rows.
type column struct {
	at    float64
	marks []*mark
}

// edges are the ways in which marks stand in a column, each as a place in half pixels
// so that middles are whole numbers too.
var edges = []func(*mark) int{
	func(m *mark) int { return 2 * m.x0 },
	func(m *mark) int { return 2*m.x1 + 2 },
	func(m *mark) int { return m.x0 + m.x1 + 1 },
}

// together is how far the places of a column lie apart, in half pixels.
const together = 2

// maxInColumn bounds the marks of one column: more are grain, in which no ruler is
// told apart.
const maxInColumn = 250

// maxLooked bounds how many marks are looked at in all columns and runs of a picture,
// each as often as it stands in one: else a picture made of dots takes minutes. The
// drawn and the real pictures of the tests stay below a quarter of it.
const maxLooked = 400_000

// columns puts marks into columns, in each way; a column that holds no mark beyond
// those of the one before it is left out.
func columns(marks []mark) []column {
	var out []column
	sorted := make([]*mark, len(marks))
	for _, edge := range edges {
		for i := range marks {
			sorted[i] = &marks[i]
		}
		sort.SliceStable(sorted, func(i, j int) bool { return edge(sorted[i]) < edge(sorted[j]) })
		for from, to, before := 0, 0, 0; from < len(sorted); from++ {
			if from > 0 && edge(sorted[from]) == edge(sorted[from-1]) {
				continue
			}
			for to < len(sorted) && edge(sorted[to]) <= edge(sorted[from])+together {
				to++
			}
			if n := to - from; n >= minTicks && n <= maxInColumn && to > before {
				out = append(out, columnOf(sorted[from:to]))
				before = to
			}
		}
	}
	return out
}

func columnOf(marks []*mark) column {
	c := column{marks: append([]*mark(nil), marks...)}
	sort.SliceStable(c.marks, func(i, j int) bool { return c.marks[i].row < c.marks[j].row })
	sum := 0.0
	for _, m := range c.marks {
		sum += float64(m.x0+m.x1+1) / 2
	}
	c.at = sum / float64(len(c.marks))
	return c
}
