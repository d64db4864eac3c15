package demo

import (
	"fmt"
	"math"

	"leadline/ingest"
)

// The left ventricle in two planes: contours at both ends of the beat, the volumes of
// each plane and of both.

var biplaneSystole = code{"80001-1", "LN", "Left ventricular end systolic volume biplane (MOD)"}

// biplaneEvery is how often a heart study has both planes: one in so many studies, the
// ninth of each ten, which is a heart study.
const biplaneEvery = 10

// cavity is an ellipse in a scene as ellipse draws it.
type cavity struct{ x, y, a, b, tilt, squeeze float64 }

func (c cavity) shape() func(x, y, phase float64) float64 {
	return ellipse(c.x, c.y, c.a, c.b, c.tilt, c.squeeze)
}

func fourChamberCavity(a anatomy) cavity {
	return cavity{0.68 * a.scale, 2.5 * a.scale, a.lvDiastole / 2 * 0.85, 1.3 * a.scale, -0.1, 0.25}
}

func twoChamberCavity(a anatomy) cavity {
	return cavity{0.1 * a.scale, 2.5 * a.scale, a.lvDiastole / 2 * 0.8, 1.26 * a.scale, 0.06, 0.27}
}

// contourPoints are those that a person sets around a cavity.
const contourPoints = 16

// trace marks the long axis of a cavity, from the apex to the valve, and its contour.
func (p *picture) trace(name string, frame, frames int, c cavity) {
	k := 1 - c.squeeze*contraction(float64(frame-1)/float64(frames))
	sin, cos := math.Sincos(c.tilt)
	place := func(angle float64) (x, y float64) {
		u, v := c.a*k*math.Sin(angle), -c.b*k*math.Cos(angle)
		return c.x + u*cos - v*sin, c.y + u*sin + v*cos
	}
	var places []float64
	for _, angle := range []float64{0, math.Pi} {
		x, y := place(angle)
		places = append(places, x, y)
	}
	for i := range contourPoints {
		x, y := place(2 * math.Pi * float64(i) / contourPoints)
		places = append(places, x, y)
	}
	p.mark(name, 0, ingest.GeometryDiscs, frame, places...)
}

// traceVolumes marks a cavity at both ends of the beat.
func (p *picture) traceVolumes(view string, l lens, c cavity) {
	p.trace("lv-"+view+"-volume-diastole", 1, l.frames, c)
	p.trace("lv-"+view+"-volume-systole", systoleFrame(l), l.frames, c)
}

func twoChamberClip(l lens, a anatomy) *picture {
	l.caption = "A2C"
	s := a.scale
	p := picture2D(l, scene{base: 0.18, shapes: []shape{
		tissue(ellipse(0.1*s, 3.2*s, 1.5*s, 2.4*s, 0, 0.02), 0.45),
		chamber(twoChamberCavity(a).shape(), 45),
		chamber(ellipse(0.05*s, 4.5*s, 0.7*s, 0.55*s, 0, -0.12), 30),
		tissue(band(6*s, 12), 0.25),
	}}, nil)
	p.traceVolumes("two-chamber", l, twoChamberCavity(a))
	return p
}

// biplane adds the two-chamber view and the volumes, once: of each plane with its
// caliper; in diastole the volume of both as a number alone that says its method, in
// systole with the calipers of both images.
func (s *study) biplane() {
	four := s.find("lv-four-chamber-volume-diastole")
	for _, o := range s.images {
		if o.view == viewTwoChamber {
			return
		}
	}
	two := s.add(twoChamberClip(s.clip(), s.anatomy), viewTwoChamber, bits2D, 1.05)
	sec := s.reports[0].section(leftVentricle)
	for _, phase := range []string{"diastole", "systole"} {
		sec.take(four, "lv-four-chamber-volume-"+phase).take(two, "lv-two-chamber-volume-"+phase)
	}
	n := len(sec.numbers)
	sec.numbers = append(sec.numbers, bothPlanes(sec.numbers[n-4], sec.numbers[n-3]), bothPlanes(sec.numbers[n-2], sec.numbers[n-1]))
	diastole, systole := sec.numbers[n], sec.numbers[n+1]
	diastole.concept, diastole.modifiers = code{"18026-5", "LN", "Left Ventricular End Diastolic Volume"}, []modifier{{method, discsTwo}}
	diastole.geometry, diastole.points, diastole.also, diastole.image, diastole.imageUID = "", nil, nil, nil, ""
	systole.concept = biplaneSystole
}

// bothPlanes is the number of the volume of two planes.
func bothPlanes(four, two *number) *number {
	n, also := *four, *two
	n.also = &also
	region := func(p *number) region { return p.image.pic.regions[0] }
	n.text = fmt.Sprintf("%.2f", biplaneML(region(four), four.points, region(two), two.points))
	return &n
}

// tabulateVolumes lets the second observer trace both planes at the end of diastole;
// that makes a volume of both that nobody wrote down.
func (s *study) tabulateVolumes() {
	four, two := s.find("lv-four-chamber-volume-diastole"), s.find("lv-two-chamber-volume-diastole")
	s.tabulate(four, "lv-four-chamber-volume-diastole", "LVEDV A4C", true)
	s.tabulate(two, "lv-two-chamber-volume-diastole", "LVEDV A2C", true)
	s.truth = append(s.truth, truthRow{s.uid, four.uid, caliperTable, "", "rebuilt-only", "", "a biplane volume of two calipers of the table"})
}

func biplaneOff(s *study) {
	s.biplane()
	var n *number
	for _, sec := range s.reports[0].sections {
		if last := sec.numbers[len(sec.numbers)-1]; last.concept == biplaneSystole {
			n = last
		}
	}
	n.text = s.num("lv-two-chamber-volume-systole").text
	s.expect(n.imageUID, "measurement-differs", "differs", n.concept.meaning, "the volume of one plane is reported as that of two")
}
