package physical

import "math"

// BiplaneVolume is that of elliptic discs whose diameters are those of two planes at
// right angles, in mL. Each plane is cut along its own axis; all discs have the height
// that the longer of both axes gives, since the shorter one is a plane that missed the
// apex (Schiller 1989, J Am Soc Echocardiogr 2:358; Lang 2015, J Am Soc Echocardiogr
// 28:1; both from memory):
//
//	V = π/4 · L/n · Σ a_i·b_i,  L = max(L_a, L_b)
//
// The planes share no point, so their parts of the uncertainty are independent. It is
// that of the longer axis as drawn: where both are equal within some pixels, either may
// be the longer one, which adds next to nothing to the diameters' part.
//
// work, where not nil, gets the steps of both planes and of the volume.
func BiplaneVolume(a, b *Cavity, work *Work) (Quantity, error) {
	k := math.Pi / 4 / Discs / mm3PerML
	sum, length := 0.0, math.Max(a.length, b.length)
	byA, byB := make([]vec, len(a.byLength)), make([]vec, len(b.byLength))
	products := make([]float64, 0, 2*Discs)
	for i := range Discs {
		sum += a.diameters[i] * b.diameters[i]
		products = append(products, a.diameters[i], b.diameters[i])
		add(byA, a.byDiameter[i], k*length*b.diameters[i])
		add(byB, b.byDiameter[i], k*length*a.diameters[i])
	}
	if a.length >= b.length {
		add(byA, a.byLength, k*sum)
	} else {
		add(byB, b.byLength, k*sum)
	}
	value := k * length * sum
	qa, err := a.plane.result(value, ML, a.points, byA)
	if err != nil {
		return Quantity{}, err
	}
	qb, err := b.plane.result(value, ML, b.points, byB)
	if err != nil {
		return Quantity{}, err
	}
	q, err := checked(Quantity{Value: value, StdU: math.Hypot(qa.StdU, qb.StdU), Unit: ML})
	if work != nil && err == nil {
		work.join(a.plane.Work, b.plane.Work)
		work.value("longer axis", MM, length, "%v", length)
		work.value("sum of products", MM2, sum, Plus(Discs, "%v * %v"), products...)
		work.value("volume", ML, value, "pi / 4 * %v / 20 * %v / 1000", length, sum)
		work.Add(PartUncertainty, "u of both planes", ML, q.StdU, "sqrt(%v^2 + %v^2)", qa.StdU, qb.StdU)
	}
	return q, err
}

// Length is the length of the axis in mm.
func (c *Cavity) Length() float64 { return c.length }

// PlaneWork is the work of one of two planes, 1 or 2, whose points follow that many of
// the plane before. Its steps say which plane they are of.
func PlaneWork(plane string, before int) *Work { return &Work{plane: plane + ", ", before: before} }

// join takes over what was written down of two planes.
func (w *Work) join(a, b *Work) {
	for _, part := range []*Work{a, b} {
		w.Points = append(w.Points, part.Points...)
		w.Steps = append(w.Steps, part.Steps...)
		w.Terms = append(w.Terms, part.Terms...)
	}
}
