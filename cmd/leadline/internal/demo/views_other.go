package demo

import (
	"math"

	"leadline/ingest"
)

// The lung, the head and vessels.

// lungScene is a chest wall with ribs, the pleural line at 0.7 cm, its repeats
// below, and so many bright rays that move with breathing.
func lungScene(rays int) scene {
	const pleura = 0.7
	shapes := []shape{{dist: band(0, pleura), level: 0.5}}
	for k := 2; k <= 4; k++ {
		echo := 0.62 - 0.13*float64(k)
		shapes = append(shapes, shape{dist: band(pleura*float64(k), pleura*float64(k)+0.03), level: echo, rim: echo, rimCM: 0.04})
	}
	for i := range rays {
		x := -1.3 + 2.6*(float64(i)+0.5)/float64(rays)
		shapes = append(shapes, shape{level: 0.55, rim: 0.55, rimCM: 0.05, dist: func(px, py, phase float64) float64 {
			return math.Max(math.Abs(px-x-0.15*contraction(phase))-0.05, pleura-py)
		}})
	}
	shapes = append(shapes, shape{dist: band(pleura, pleura+0.06), level: 0.95, rim: 0.9, rimCM: 0.04})
	for _, x := range []float64{-1.55, 1.55} {
		shapes = append(shapes,
			shape{level: 0.03, dist: func(px, py, _ float64) float64 { return math.Max(math.Abs(px-x)-0.26, 0.45-py) }},
			shape{dist: ellipse(x, 0.42, 0.28, 0.09, 0, 0), level: 0.9, rim: 0.8, rimCM: 0.04})
	}
	return scene{base: 0.12, shapes: shapes}
}

func lungClip(l lens, zone string, rays int) *picture {
	l.caption = "LUNG " + zone
	return picture2D(l, lungScene(rays), nil)
}

func diaphragmMMode(l lens, a anatomy) *picture {
	l.caption = "DIAPHRAGM M"
	deep := 2.6
	w := walls{top: 0.4, layers: []layer{
		{moving(deep, deep-a.excursion), 0.7},
		{moving(deep+0.15, deep+0.15-a.excursion), 0.2},
	}}
	liver := scene{base: 0.4, shapes: []shape{
		vessel(ellipse(-0.5, 1.6, 0.3, 0.12, 0.4, 0), 0),
		{dist: arc(0, 4.5, 1.9, 0.06, 4), level: 0.9, rim: 0.9, rimCM: 0.06},
	}}
	p := pictureMMode(l, liver, 0.3, w, 4)
	t := l.moment(0.2, 1)
	p.lineStrip("diaphragm-excursion", t, deep-a.excursion, t, deep)
	return p
}

// headScene is a coronal plane: skull, falx, lateral ventricles, third ventricle.
func headScene(a anatomy) scene {
	s := a.scale
	horn := func(side float64) shape {
		return chamber(ellipse(side*a.ventricularIndex*0.55, 2.5*s, a.ventricularIndex*0.45, a.anteriorHorn/2, -side*0.35, 0.01), 0)
	}
	shapes := []shape{
		{dist: ellipse(0, 4.1*s, 3.9*s, 3.9*s, 0, 0), level: 0.33, rim: 0.9, rimCM: 0.09},
	}
	for i := range 6 {
		x := (-2.6 + 1.04*float64(i)) * s
		shapes = append(shapes, shape{dist: arc(x, 2.2*s, 0.55*s, 0.012, 2.1*s), level: 0.55, rim: 0.6, rimCM: 0.04})
	}
	return scene{base: 0.1, shapes: append(shapes,
		shape{dist: tube(0, 0.5*s, 0, 2.1*s, 0.02), level: 0.7, rim: 0.75, rimCM: 0.04},
		horn(-1), horn(1),
		chamber(tube(0, 3.1*s, 0, 3.6*s, 0.06), 0),
		shape{dist: ellipse(-0.55*s, 3.4*s, 0.42*s, 0.35*s, 0, 0), level: 0.42},
		shape{dist: ellipse(0.55*s, 3.4*s, 0.42*s, 0.35*s, 0, 0), level: 0.42},
		shape{dist: ellipse(0, 4.6*s, 0.5*s, 0.12*s, 0, 0), level: 0.8},
	)}
}

func headCoronal(l lens, a anatomy) *picture {
	l.caption = "COR MONRO"
	p := picture2D(l, headScene(a), nil)
	s := a.scale
	p.line2D("ventricular-index-left", 1, 0, 2.55*s, a.ventricularIndex, 2.55*s)
	p.line2D("ventricular-index-right", 1, 0, 2.55*s, -a.ventricularIndex, 2.55*s)
	mid := a.ventricularIndex * 0.55
	p.line2D("anterior-horn-width", 1, mid-0.034, 2.5*s-a.anteriorHorn/2, mid+0.034, 2.5*s+a.anteriorHorn/2)
	p.mark("head-outline", 0, ingest.GeometryPolygon, 1, ring(0, 3.2*s, 1.8*s, 1.5*s, 12)...)
	return p
}

// ring lists n places on an ellipse, as pairs.
func ring(cx, cy, a, b float64, n int) []float64 {
	var places []float64
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		places = append(places, cx+a*cos, cy+b*sin)
	}
	return places
}

func headSagittal(l lens, a anatomy) *picture {
	l.caption = "SAG MIDLINE"
	s := a.scale
	p := picture2D(l, scene{base: 0.1, shapes: []shape{
		{dist: ellipse(0, 4*s, 4.2*s, 3.8*s, 0, 0), level: 0.33, rim: 0.9, rimCM: 0.09},
		{dist: arc(0, 3.2*s, 1.3*s, 0.1, 3.2*s), level: 0.5, rim: 0.7, rimCM: 0.04},
		chamber(ellipse(0.05*s, 3.0*s, 0.5*s, 0.14*s, 0, 0), 0),
		{dist: ellipse(1.7*s, 4.6*s, 0.7*s, 0.55*s, 0.3, 0), level: 0.75, rim: 0.7, rimCM: 0.05},
	}}, nil)
	p.mark("corpus-callosum-length", 0, ingest.GeometryPolyline, 1, calloso(s)...)
	return p
}

// calloso lists places along the arc of the corpus callosum.
func calloso(s float64) []float64 {
	var places []float64
	for i := range 6 {
		sin, cos := math.Sincos(math.Pi * (1.08 + 0.84*float64(i)/5))
		places = append(places, 1.3*s*cos, 3.2*s+1.3*s*sin)
	}
	return places
}

// vesselScene is one vessel in soft tissue, in the middle of the picture.
func vesselScene(depth, radius, flow float64) scene {
	return scene{base: 0.34, shapes: []shape{
		tissue(band(0, 0.3), 0.55),
		vessel(tube(-4, depth+0.5, 4, depth-0.5, radius), flow),
		vessel(ellipse(-0.9, depth*1.55, 0.22, 0.16, 0, 0.05), 15),
	}}
}

// arterySite is an artery that is taken by spectral Doppler.
type artery struct {
	name, caption   string
	peak, end, high float64
	depth           float64
	angleDeg        float64
}

func arteryStrip(l lens, v artery) *picture {
	l.caption = v.caption
	box := &[4]float64{-1, v.depth * 0.5, 1, v.depth * 1.5}
	p := pictureSpectral(l, vesselScene(v.depth, 0.17, v.peak), doppler{
		env: arterial(v.peak, v.end), low: -v.high / 4, high: v.high, step: 20, seconds: 2, dataType: dataPW,
		gateX: 0, gateY: v.depth, angleDeg: v.angleDeg, frequencyKHz: 6000, colour: box,
	})
	p.pointStrip(v.name+"-peak-systolic-velocity", l.moment(arterialPeakAt, 1), v.peak)
	p.pointStrip(v.name+"-end-diastolic-velocity", l.moment(0.98, 1), v.end)
	return p
}

func vesselStill(l lens, caption string, radius float64, colour bool) *picture {
	l.caption = caption
	depth := l.depthCM * 0.45
	var box *[4]float64
	if colour {
		box = &[4]float64{-1.2, depth * 0.5, 1.2, depth * 1.5}
	}
	p := picture2D(l, vesselScene(depth, radius, 40), box)
	p.line2D("vessel-diameter", 1, -0.125*radius, depth-radius, 0.125*radius, depth+radius)
	p.mark("vessel-circle", 0, ingest.GeometryCircle, 1, 0, depth, 0, depth+radius)
	p.mark("vessel-ellipse", 0, ingest.GeometryEllipse, 1, -0.9-0.22, depth*1.55, -0.9+0.22, depth*1.55, -0.9, depth*1.55-0.16, -0.9, depth*1.55+0.16)
	return p
}
