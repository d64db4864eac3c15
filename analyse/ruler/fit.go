package ruler

import "math"

// placing is the standard uncertainty of a tick's row in pixels, at least: a device
// sets it on a whole row, so that it may be half a pixel off (rectangular, JCGM 100
// 4.3.7).
var placing = 0.5 / math.Sqrt(3)

// line is the straight line through rows against numbers, by least squares.
// scatter is u by the scatter alone.
type line struct{ first, pitch, u, residual, scatter float64 }

// fit draws the line and gives the standard uncertainty of its slope: that of a row,
// from the scatter or from placing, whichever is larger, by the root of the sum of
// squares of the numbers about their mean (JCGM 100 H.3).
func fit(ticks []tick) line {
	count := float64(len(ticks))
	n, row := 0.0, 0.0
	for _, t := range ticks {
		n += float64(t.n) / count
		row += t.row / count
	}
	nn, nr := 0.0, 0.0
	for _, t := range ticks {
		d := float64(t.n) - n
		nn += d * d
		nr += d * (t.row - row)
	}
	l := line{pitch: nr / nn}
	l.first = row - l.pitch*n
	squares := 0.0
	for _, t := range ticks {
		d := t.row - l.first - l.pitch*float64(t.n)
		squares += d * d
	}
	l.residual = math.Sqrt(squares / count)
	l.scatter = math.Sqrt(squares/(count-2)) / math.Sqrt(nn)
	l.u = math.Max(placing/math.Sqrt(nn), l.scatter)
	return l
}

// trimmed leaves out ticks that lie off the line by more than a row may be misplaced:
// something else stood there.
func trimmed(ticks []tick) ([]tick, line) {
	const off = 1.0
	for {
		l := fit(ticks)
		worst, at := off, -1
		for i, t := range ticks {
			if d := math.Abs(t.row - l.first - l.pitch*float64(t.n)); d > worst {
				worst, at = d, i
			}
		}
		if at < 0 || len(ticks) <= minTicks {
			return ticks, l
		}
		ticks = append(append([]tick(nil), ticks[:at]...), ticks[at+1:]...)
		for i, first := 0, ticks[0].n; i < len(ticks); i++ {
			ticks[i].n -= first
		}
	}
}
