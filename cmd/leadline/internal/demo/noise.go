package demo

import "math"

// lattice is a value of -1 to 1 that belongs to the grid point (ix, iy) of a seed:
// the mixing function of SplitMix64 (Steele, Lea, Flood 2014) over the three.
func lattice(ix, iy int, seed uint64) float64 {
	z := seed + uint64(uint32(ix))*0x9E3779B97F4A7C15 + uint64(uint32(iy))*0xC2B2AE3D27D4EB4F
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	z ^= z >> 31
	return float64(int64(z>>11))/float64(1<<52) - 1
}

// smooth is lattice noise, interpolated between grid points.
func smooth(x, y float64, seed uint64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	tx, ty := x-fx, y-fy
	top := lattice(ix, iy, seed)*(1-tx) + lattice(ix+1, iy, seed)*tx
	bottom := lattice(ix, iy+1, seed)*(1-tx) + lattice(ix+1, iy+1, seed)*tx
	return top*(1-ty) + bottom*ty
}

// speckle is the magnitude of a sum of scatterers, whose real and imaginary parts
// vary apart from each other: grainy, never negative, 0.6 or so in the middle. The
// two grids are turned against each other and the picture, so that neither shows.
func speckle(x, y float64, seed uint64) float64 {
	re := smooth(0.95*x+0.29*y, 0.97*y-0.21*x, seed)
	im := smooth(0.93*x-0.34*y, 0.95*y+0.3*x, ^seed)
	return math.Hypot(re, im) * 1.25
}
