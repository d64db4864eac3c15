package demo

import "math"

// scene is what a probe looks at: shapes in a background, in centimetres, x to the
// right of the middle of the probe's face and y the depth below it.
type scene struct {
	base   float64
	shapes []shape
}

// shape is one structure. dist is the distance to its border in cm, negative
// inside, at a phase of the cycle (0 to 1, end diastole or end expiration at 0).
// level is its echo (0 black, 1 white), rim that of its border, which fades over
// rimCM. flow is the peak velocity of what moves in it, positive towards the probe.
type shape struct {
	dist       func(x, y, phase float64) float64
	level      float64
	rim, rimCM float64
	flow       float64
}

// at is the echo and the flow velocity at a place. Later shapes lie on earlier ones.
func (s scene) at(x, y, phase float64) (level, flow float64) {
	level = s.base
	for i := range s.shapes {
		sh := &s.shapes[i]
		d := sh.dist(x, y, phase)
		if d < 0 {
			level, flow = sh.level, sh.flow*math.Min(1, -d/0.15)*pulse(phase)
		}
		if sh.rim > 0 && math.Abs(d) < 3*sh.rimCM {
			level = math.Max(level, sh.rim*math.Exp(-(d*d)/(sh.rimCM*sh.rimCM)))
		}
	}
	return level, flow
}

// contraction runs from 0 at end diastole to 1 at end systole and back.
func contraction(phase float64) float64 {
	phase -= math.Floor(phase)
	const systole = 0.4
	if phase < systole {
		return 0.5 - 0.5*math.Cos(math.Pi*phase/systole)
	}
	relaxed := math.Min(1, (phase-systole)/0.35)
	return 0.5 + 0.5*math.Cos(math.Pi*relaxed)
}

// pulse is how strongly blood moves over the cycle, 0.35 to 1.
func pulse(phase float64) float64 { return 0.35 + 0.65*contraction(phase) }

// ellipse is centred at (cx, cy) with semi-axes a and b, turned by tilt; squeeze is
// the part of its size that it loses at end systole (negative: gains).
func ellipse(cx, cy, a, b, tilt, squeeze float64) func(x, y, phase float64) float64 {
	sin, cos := math.Sincos(tilt)
	return func(x, y, phase float64) float64 {
		k := 1 - squeeze*contraction(phase)
		u := ((x-cx)*cos + (y-cy)*sin) / (a * k)
		v := (-(x-cx)*sin + (y-cy)*cos) / (b * k)
		return (math.Hypot(u, v) - 1) * math.Min(a, b) * k
	}
}

// tube runs from (x0, y0) to (x1, y1) with the radius r.
func tube(x0, y0, x1, y1, r float64) func(x, y, phase float64) float64 {
	dx, dy := x1-x0, y1-y0
	return func(x, y, _ float64) float64 {
		t := math.Min(1, math.Max(0, ((x-x0)*dx+(y-y0)*dy)/(dx*dx+dy*dy)))
		return math.Hypot(x-x0-t*dx, y-y0-t*dy) - r
	}
}

// arc is a band of width 2r around a circle of radius R about (cx, cy), above the
// depth yEnd only.
func arc(cx, cy, R, r, yEnd float64) func(x, y, phase float64) float64 {
	return func(x, y, _ float64) float64 {
		d := math.Abs(math.Hypot(x-cx, y-cy)-R) - r
		return math.Max(d, y-yEnd)
	}
}

// joined is one hollow of several parts, without walls between them.
func joined(parts ...func(x, y, phase float64) float64) func(x, y, phase float64) float64 {
	return func(x, y, phase float64) float64 {
		nearest := math.Inf(1)
		for _, dist := range parts {
			nearest = math.Min(nearest, dist(x, y, phase))
		}
		return nearest
	}
}

// band lies between two depths over the whole width.
func band(y0, y1 float64) func(x, y, phase float64) float64 {
	return func(_, y, _ float64) float64 { return math.Max(y0-y, y-y1) }
}

// chamber is blood with a bright border, vessel the same with a thinner one.
func chamber(dist func(x, y, phase float64) float64, flow float64) shape {
	return shape{dist: dist, level: 0.05, rim: 0.75, rimCM: 0.06, flow: flow}
}

func vessel(dist func(x, y, phase float64) float64, flow float64) shape {
	return shape{dist: dist, level: 0.04, rim: 0.8, rimCM: 0.035, flow: flow}
}

func tissue(dist func(x, y, phase float64) float64, level float64) shape {
	return shape{dist: dist, level: level}
}
