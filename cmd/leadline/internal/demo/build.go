package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// build makes up the study of a plan, and plants its defects last.
func (p plan) build(seed int64, small bool) *study {
	rng := rand.New(rand.NewPCG(uint64(seed), uint64(p.ordinal)+0x5EED))
	d := &devices[p.device]
	s := &study{
		ordinal: p.ordinal, kind: p.kind, patient: p.patient, device: d, rng: rng, small: small, split: p.split,
		uid: hashUID("study", fmt.Sprint(seed), fmt.Sprint(p.ordinal)),
		id:  fmt.Sprintf("S%05d", 4000+p.ordinal), number: fmt.Sprintf("A26-%06d", 310000+13*p.ordinal),
		start:    p.day.Add(time.Duration(7*60+rng.IntN(11*60)) * time.Minute),
		operator: operators[p.ordinal%len(operators)],
	}
	s.anatomy = newAnatomy(rng, s.patient.weightKg)
	builders[s.kind](s)
	s.stand()
	s.zoneless()
	for _, name := range p.defects {
		defects[name].plant(s)
	}
	return s
}

var builders = map[kind]func(*study){
	heart: (*study).buildHeart, lung: (*study).buildLung, head: (*study).buildHead, vessels: (*study).buildVessels,
}

// look sets the lens for a depth and a cycle that lasts about so many seconds; the
// true length is a whole number of frames, so that a drawn cycle can be repeated.
func (s *study) look(depthCM, cycleS float64) {
	frames := int(math.Round(1000 * cycleS / s.device.frameTimeMS))
	s.lens = lens{
		depthCM: depthCM, aspect: s.device.aspect, probe: s.device.probe, ruler: s.device.ruler, frames: frames,
		rate: 1000 / (s.device.frameTimeMS * float64(frames)), seed: s.rng.Uint64(),
	}
}

func (s *study) sized(columns, rows, frames int) lens {
	l := s.lens
	if s.small {
		columns, rows = columns/2, rows/2
	}
	l.columns, l.rows, l.frames = columns, rows, frames
	return l
}

func (s *study) still() lens { return s.sized(s.device.stillColumns, s.device.stillRows, 1) }
func (s *study) clip() lens {
	return s.sized(s.device.clipColumns, s.device.clipRows, s.lens.frames)
}

// buildHeart makes a functional heart study that holds every item, required or
// preferred, of the built-in protocol newborn-heart-function.
func (s *study) buildHeart() {
	a := s.anatomy
	s.look(math.Ceil(6.4*a.scale), 60/(128+30*s.rng.Float64()))
	const beats, glance = 1.05, 0.3
	long := s.add(longAxisClip(s.clip(), a), viewLongAxis, bits2D, beats)
	ventricle := s.add(ventricleMMode(s.still(), a), viewLongAxis, bitsMMode, 0)
	base := s.add(baseStrip(s.still(), a), viewBase, bitsPW, 0)
	apical := s.add(fourChamberClip(s.clip(), a), viewFourChamber, bits2D, beats)
	annulus := s.add(annulusMMode(s.still(), a), viewFourChamber, bitsMMode, 0)
	mitral := s.add(mitralStrip(s.still(), a), viewFourChamber, bitsPW, 0)
	leak := s.add(tricuspidStrip(s.still(), a), viewFourChamber, bitsCW, 0)
	out := s.add(outflowStrip(s.still(), a), viewFive, bitsPW, 0)
	sub := s.add(subcostalClip(s.clip(), a), viewSubcostal, bits2D, glance)
	s.add(ductClip(s.clip(), a, false), viewDuct, bits2D, glance)
	duct := s.add(ductClip(s.clip(), a, true), viewDuct, bitsColour, glance)
	stream := s.add(ductStrip(s.still(), a), viewDuct, bitsTriple, 0)
	arch := s.add(archClip(s.clip(), a), viewArch, bits2D, glance)

	r := s.report(time.Duration(25+s.rng.IntN(200))*time.Minute, templateEcho)
	r.verified = s.ordinal%3 != 1
	r.byReference = s.ordinal%4 == 3
	lv := r.section(leftVentricle).take(ventricle, "interventricular-septum-diastole", "lv-internal-diameter-diastole",
		"lv-posterior-wall-diastole", "lv-internal-diameter-systole", "r-r-interval")
	s.shortening(lv)
	r.section(outflowTract).take(long, "lv-outflow-diameter").take(out, "lv-outflow-peak-velocity", "lv-ejection-time")
	r.section(leftAtrium).take(long, "left-atrium-diameter")
	r.section(aorta).take(long, "aortic-root-diameter").take(arch, "aortic-isthmus-diameter")
	r.section(mitralValve).take(mitral, "mitral-e", "mitral-a")
	r.section(rightVentricle).take(annulus, "tapse").take(apical, "rv-basal-diameter")
	r.section(tricuspidValve).take(leak, "tricuspid-regurgitation-peak-velocity")
	r.section(pulmonicValve).take(base, "pulmonary-valve-peak-velocity", "pulmonary-acceleration-time", "rv-ejection-time")
	r.section(foramenOvale).take(sub, "foramen-ovale-diameter", "right-atrium-area")
	r.section(openDuct).take(duct, "duct-diameter").take(stream, "duct-peak-systolic-velocity", "duct-end-diastolic-velocity")
	if s.ordinal%4 == 0 {
		s.annotate(long, "left-atrium-diameter", "LA")
		s.tabulate(long, "left-atrium-diameter", "LA", true)
		s.tabulate(long, "aortic-root-diameter", "Ao root", true)
		s.tabulate(ventricle, "lv-internal-diameter-diastole", "LVIDd", true)
	}
	if s.ordinal%biplaneEvery == biplaneEvery-2 {
		s.biplane()
		if s.ordinal%(2*biplaneEvery) == biplaneEvery-2 {
			s.tabulateVolumes()
		}
	}
	rate := r.section(leftVentricle)
	s.alone(rate, code{"8867-4", "LN", "Heart rate"}, unitBeats, fmt.Sprint(ventricle.heartRate))
	s.alone(rate, code{"80030-0", "LN", "Left ventricular outflow tract VTI"}, unitCM, fmt.Sprintf("%.1f", s.integral(ejection(a.outflowPeak, 0.05, 0.5, 0.35))))
}

// shortening adds the index that the device computes from two of its numbers.
func (s *study) shortening(sec *section) {
	r := sec.numbers[1].image.pic
	value := func(name string) float64 {
		m := r.marks[name]
		return r.regions[m.region].depthMM(m.points)
	}
	d, e := value("lv-internal-diameter-diastole"), value("lv-internal-diameter-systole")
	s.alone(sec, code{"18051-3", "LN", "Left Ventricular Fractional Shortening"}, unitPct, fmt.Sprintf("%.0f", 100*(d-e)/d))
}

// integral is the velocity time integral in cm of one cycle of an envelope.
func (s *study) integral(env envelope) float64 {
	const steps = 400
	sum := 0.0
	for i := range steps {
		sum += math.Abs(env((float64(i) + 0.5) / steps))
	}
	return sum / steps / s.lens.rate
}

// lungZones are the six zones of a lung study.
var lungZones = []struct{ view, short, side string }{
	{"Upper anterior", "R1", "R"}, {"Lower anterior", "R2", "R"}, {"Lateral zone", "R3", "R"},
	{"Upper anterior", "L1", "L"}, {"Lower anterior", "L2", "L"}, {"Lateral zone", "L3", "L"},
}

// buildLung makes six clips and a diaphragm strip, whose excursion a report or,
// by turns, nobody notes.
func (s *study) buildLung() {
	s.look(4, 1.1)
	for i, zone := range lungZones {
		o := s.add(lungClip(s.clip(), zone.short, (s.ordinal+i*i)%5), view{name: zone.view}, bits2D, 0.35)
		o.laterality = zone.side
	}
	o := s.add(diaphragmMMode(s.still(), s.anatomy), view{name: "Diaphragm"}, bitsMMode, 0)
	o.laterality = "R"
	r := s.report(time.Duration(15+s.rng.IntN(60))*time.Minute, templateMeasurements)
	r.section(lungSite).take(o, "diaphragm-excursion")
}

// buildHead makes two planes, a clip, and the anterior cerebral artery.
func (s *study) buildHead() {
	a := s.anatomy
	s.look(math.Ceil(7*a.scale), 60/(125+30*s.rng.Float64()))
	coronal := s.add(headCoronal(s.still(), a), view{name: "Coronal Monro"}, bits2D, 0)
	sagittal := s.add(headSagittal(s.still(), a), view{name: "Sagittal midline"}, bits2D, 0)
	s.add(headCoronal(s.clip(), a), view{name: "Coronal"}, bits2D, 0.3)
	strip := s.add(arteryStrip(s.still(), artery{name: "aca", caption: "ACA PW", peak: a.acaPeak, end: a.acaEnd, high: 60, depth: 2.5, angleDeg: 0}),
		view{name: "ACA"}, bitsTriple, 0)
	r := s.report(time.Duration(20+s.rng.IntN(120))*time.Minute, templateMeasurements)
	r.section(brain).take(coronal, "ventricular-index-left", "ventricular-index-right", "anterior-horn-width", "head-outline").
		take(sagittal, "corpus-callosum-length")
	sec := r.section(acaSite).take(strip, "aca-peak-systolic-velocity", "aca-end-diastolic-velocity")
	s.alone(sec, code{"12023-8", "LN", "Resistivity Index"}, unitOne, fmt.Sprintf("%.2f", (a.acaPeak-a.acaEnd)/a.acaPeak), site(acaSite))
}

// buildVessels makes a vein in the picture and an artery in a spectrum.
func (s *study) buildVessels() {
	a := s.anatomy
	s.look(4, 60/(125+30*s.rng.Float64()))
	vein := s.add(vesselStill(s.still(), "IVC", a.cava/2, false), view{name: "IVC"}, bits2D, 0)
	s.add(vesselStill(s.clip(), "IVC C", a.cava/2, true), view{name: "IVC"}, bitsColour, 0.3)
	strip := s.add(arteryStrip(s.still(), artery{name: "sma", caption: "SMA PW", peak: a.smaPeak, end: a.smaEnd, high: 120, depth: 2, angleDeg: 20}),
		view{name: "SMA"}, bitsTriple, 0)
	r := s.report(time.Duration(20+s.rng.IntN(120))*time.Minute, templateMeasurements)
	r.section(cavaSite).take(vein, "vessel-diameter", "vessel-circle", "vessel-ellipse")
	r.section(smaSite).take(strip, "sma-peak-systolic-velocity", "sma-end-diastolic-velocity")
}
