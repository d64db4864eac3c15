package demo

import (
	"math"

	"leadline/ingest/coord"
)

// The arithmetic of a device: what it would show for a caliper of a region. It is
// kept apart from analyse/rebuild, which must come to the same numbers.

// distanceMM is the length of a path in a 2D region (units cm on both axes).
func (r region) distanceMM(points []coord.Point) float64 {
	total := 0.0
	for i := 1; i < len(points); i++ {
		x0, y0 := r.physical(points[i-1])
		x1, y1 := r.physical(points[i])
		total += math.Hypot(x1-x0, y1-y0)
	}
	return 10 * total
}

// depthMM is the difference of depth of a line in an M-mode strip.
func (r region) depthMM(points []coord.Point) float64 {
	_, y0 := r.physical(points[0])
	_, y1 := r.physical(points[1])
	return 10 * math.Abs(y1-y0)
}

// durationMS is the time between the ends of a line in a strip.
func (r region) durationMS(points []coord.Point) float64 {
	x0, _ := r.physical(points[0])
	x1, _ := r.physical(points[1])
	return 1000 * math.Abs(x1-x0)
}

// velocity is the signed velocity in cm/s at a point of a spectral strip.
func (r region) velocity(points []coord.Point) float64 {
	_, v := r.physical(points[0])
	return v
}

// areaMM2 is the area of a polygon of a 2D region (the shoelace formula).
func (r region) areaMM2(points []coord.Point) float64 {
	sum := 0.0
	for i := range points {
		x0, y0 := r.physical(points[i])
		x1, y1 := r.physical(points[(i+1)%len(points)])
		sum += x0*y1 - x1*y0
	}
	return 100 * math.Abs(sum) / 2
}

// biplaneML is the volume in mL of twenty elliptic discs of two contours; twice the same
// one for round discs. The first two points of each are its long axis; the longer one
// counts.
func biplaneML(a region, p []coord.Point, b region, q []coord.Point) float64 {
	const n = 20
	first, la := a.widthsMM(p, n)
	second, lb := b.widthsMM(q, n)
	sum := 0.0
	for i := range n {
		sum += math.Pi / 4 * first[i] * second[i] * math.Max(la, lb) / n
	}
	return sum / 1000
}

// widthsMM are the widths of a contour across its axis, at the middle of each of n
// equal parts of it, and the length of the axis.
func (r region) widthsMM(points []coord.Point, n int) (widths []float64, length float64) {
	var x, y []float64
	for _, p := range points {
		px, py := r.physical(p)
		x, y = append(x, 10*px), append(y, 10*py)
	}
	length = math.Hypot(x[1]-x[0], y[1]-y[0])
	cos, sin := (x[1]-x[0])/length, (y[1]-y[0])/length
	x0, y0 := x[0], y[0]
	for i := range x {
		x[i], y[i] = (x[i]-x0)*cos+(y[i]-y0)*sin, (y[i]-y0)*cos-(x[i]-x0)*sin
	}
	x, y = x[2:], y[2:]
	for i := range n {
		at := length * (float64(i) + 0.5) / float64(n)
		low, high := math.Inf(1), math.Inf(-1)
		for j := range x {
			k := (j + 1) % len(x)
			if (x[j] < at) == (x[k] < at) {
				continue
			}
			v := y[j] + (y[k]-y[j])*(at-x[j])/(x[k]-x[j])
			low, high = math.Min(low, v), math.Max(high, v)
		}
		widths = append(widths, high-low)
	}
	return widths, length
}

// snap moves a point to the nearest half pixel, which single precision holds
// exactly: graphic data are FL (PS3.3 C.18.6).
func snap(p coord.Point) coord.Point {
	return coord.Point{X: math.Round(2*p.X) / 2, Y: math.Round(2*p.Y) / 2}
}
