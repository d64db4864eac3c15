package demo

import "math"

// scaleLook is how a device draws its ruler: on which side, as lines or dots, and with
// steps of half centimetres where its pictures are shallow.
type scaleLook struct{ left, dots, half bool }

// ruler draws ticks along the depth on an edge of a region: at every centimetre, a
// larger one every fifth, or at every half centimetre, a larger one every second.
func ruler(c canvas, r region, look scaleLook) {
	_, bottom := r.physical(r.corner())
	step, every := 1.0, 5
	if look.half {
		step, every = 0.5, 2
	}
	for n := 0; float64(n)*step <= bottom; n++ {
		tick(c, r, look, float64(n)*step, n%every == 0)
	}
}

// tick stands on the pixel row where the calibration puts a depth, shared between two
// rows where it falls between them.
func tick(c canvas, r region, look scaleLook, cm float64, large bool) {
	row := r.at(0, cm).Y - 0.5
	upper := math.Floor(row)
	from, to := r.x1-3, r.x1
	switch {
	case look.dots && large:
		from, to = r.x1-4, r.x1-1
	case look.dots:
		from, to = r.x1-3, r.x1-2
	case large:
		from = r.x1 - 6
	}
	if look.left {
		from, to = r.x0+r.x1-to, r.x0+r.x1-from
	}
	for x := from; x <= to; x++ {
		c.grey(x, int(upper), 0.9*(1-(row-upper)))
		if row > upper {
			c.grey(x, int(upper)+1, 0.9*(row-upper))
		}
		if look.dots && large && x > from && x < to {
			c.grey(x, int(upper)-1, 0.9)
			c.grey(x, int(upper)+1, 0.9)
		}
	}
}
