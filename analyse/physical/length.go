package physical

import "leadline/ingest"

// Distance is the straight distance between two points, in mm.
//
//	d = √((Δx·δx)² + (Δy·δy)²)
//
// Each axis is scaled before the root, since pixels need not be square (PS3.3
// C.8.5.5.1.17). Both axes must be lengths. Points that coincide are refused: the
// derivative is undefined there. The linear model of uncertainty holds from a pixel
// on: u is 5 % too large at one pixel, a quarter at half a pixel, and the value is
// then biased upward (by simulation).
func (p Plane) Distance(a, b ingest.Point) (Quantity, error) {
	return p.path([]ingest.Point{a, b}, false)
}

// PathLength is the length of an open path through the points, in mm, as its
// straight pieces. It needs two points; pieces of no length are left out.
func (p Plane) PathLength(points []ingest.Point) (Quantity, error) {
	return p.path(points, false)
}

// Perimeter is the length of the closed outline through the points, in mm; the
// last point is joined to the first, which need not be repeated. It needs three.
func (p Plane) Perimeter(points []ingest.Point) (Quantity, error) {
	points = ring(points)
	if len(points) < 3 {
		return Quantity{}, ErrPointCount
	}
	return p.path(points, true)
}

// path sums the pieces. The derivative by a vertex is the sum of the unit vectors
// along its two pieces, so a vertex on a straight run adds nothing: a shift along
// the path takes from one piece what it gives to the other.
func (p Plane) path(points []ingest.Point, closed bool) (Quantity, error) {
	if !p.Lengths() {
		return Quantity{}, ErrAxes
	}
	if len(points) < 2 {
		return Quantity{}, ErrPointCount
	}
	used := merged(pixels(points))
	if len(used) < len(points) {
		points = pointsOf(used)
	}
	if p.Work != nil {
		p.Work.Points = points
	}
	places := used
	for i := range places {
		places[i] = places[i].scaled(p)
	}
	pieces := len(places) - 1
	if closed && len(places) > 2 {
		pieces = len(places)
	}
	if pieces < 1 {
		return Quantity{}, ErrDegenerate
	}
	total, partials := 0.0, make([]vec, len(places))
	for i := range pieces {
		j := (i + 1) % len(places)
		step := places[j].minus(places[i])
		length := step.length()
		if length == 0 {
			return Quantity{}, ErrDegenerate
		}
		total += length
		if p.Work != nil {
			p.Work.piece(p, i, j, pieces == 1, step, length)
		}
		along := step.over(length)
		partials[i] = partials[i].minus(along)
		partials[j] = partials[j].plus(along)
	}
	if p.Work != nil && pieces > 1 {
		p.Work.sum("length", MM, total, "piece ")
	}
	return p.result(total, MM, points, partials)
}

// merged leaves out points that repeat the one before. A caliper set down twice
// on one spot is one vertex; counting it twice would need a derivative that is
// not defined.
func merged(places []vec) []vec {
	out := places[:0]
	for i, v := range places {
		if i > 0 && v.minus(out[len(out)-1]).isZero() {
			continue
		}
		out = append(out, v)
	}
	return out
}

// ring leaves out a last point that repeats the first (PS3.3 C.18.6.1.2: a
// polyline whose first and last points are the same is closed).
func ring(points []ingest.Point) []ingest.Point {
	for len(points) > 1 && points[0] == points[len(points)-1] {
		points = points[:len(points)-1]
	}
	return points
}
