package ruler

import "math"

// tick is a mark with its number along the ruler.
type tick struct {
	*mark
	n int
}

// How far a tick may lie from where the ones before it lead to while a ruler is
// followed, in pixels and as a share of the pitch, and how many may be missing in a row.
const (
	strayPixels = 1.1
	strayShare  = 0.01
	maxGap      = 2
	// ahead is how many marks further down the second tick is looked for among.
	ahead = 12
)

// progressions follows equal distances down a column from every pair of marks, and
// returns the longest runs: those that are no part of one that was found before.
func (c *column) progressions() [][]tick {
	var found [][]tick
	inside := map[[2]*mark]bool{} // neighbours in a run that was found
	for i := range c.marks {
		for j := i + 1; j < len(c.marks) && j <= i+ahead; j++ {
			pitch := c.marks[j].row - c.marks[i].row
			if pitch < minPitch || inside[[2]*mark{c.marks[i], c.marks[j]}] {
				continue
			}
			if ticks := c.follow(i, j, pitch); len(ticks) >= minTicks {
				found = append(found, ticks)
				for k := 1; k < len(ticks); k++ {
					inside[[2]*mark{ticks[k-1].mark, ticks[k].mark}] = ticks[k].n == ticks[k-1].n+1
				}
			}
		}
	}
	return found
}

// follow goes down the column by the pitch, which it learns on the way.
func (c *column) follow(i, j int, pitch float64) []tick {
	ticks := []tick{{c.marks[i], 0}, {c.marks[j], 1}}
	next := j + 1
	for gap := 0; gap <= maxGap; {
		last := ticks[len(ticks)-1]
		want := last.row + pitch*float64(gap+1)
		for next < len(c.marks) && c.marks[next].row < want-stray(pitch) {
			next++
		}
		best := nearest(c.marks[next:], want, stray(pitch))
		if best < 0 {
			gap++
			continue
		}
		ticks = append(ticks, tick{c.marks[next+best], last.n + gap + 1})
		next += best + 1
		gap = 0
		first, newest := ticks[0], ticks[len(ticks)-1]
		pitch = (newest.row - first.row) / float64(newest.n)
	}
	return ticks
}

func stray(pitch float64) float64 { return strayPixels + strayShare*pitch }

// nearest is the mark nearest to a row, -1 where none is within reach. The marks are in
// the order of their rows.
func nearest(marks []*mark, row, reach float64) int {
	best, least := -1, reach
	for i, m := range marks {
		if m.row > row+reach {
			break
		}
		if d := math.Abs(m.row - row); d <= least {
			best, least = i, d
		}
	}
	return best
}
