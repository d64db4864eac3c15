package demo

import (
	"math"
	"math/rand/v2"
)

// anatomy holds the sizes of one newborn, in cm, and velocities, in cm/s. They
// follow body weight; the figures are invented, of the order of published ones.
type anatomy struct {
	weightKg, scale                float64
	lvDiastole, lvSystole          float64
	septum, posteriorWall          float64
	aorta, atrium, outflow, duct   float64
	tapse, foramen, cava           float64
	outflowPeak, pulmonaryPeak     float64
	mitralE, mitralA               float64
	tricuspidLeak                  float64
	ductPeak, ductEnd              float64
	acaPeak, acaEnd                float64
	smaPeak, smaEnd                float64
	ventricularIndex, anteriorHorn float64
	excursion                      float64
}

func newAnatomy(r *rand.Rand, weightKg float64) anatomy {
	s := math.Cbrt(weightKg / 3.2)
	about := func(v float64) float64 { return v * (0.94 + 0.12*r.Float64()) }
	a := anatomy{
		weightKg: weightKg, scale: s,
		lvDiastole: about(1.8 * s), septum: about(0.34 * s), posteriorWall: about(0.3 * s),
		aorta: about(0.85 * s), atrium: about(1.05 * s), outflow: about(0.7 * s), duct: about(0.2),
		tapse: about(0.85 * s), foramen: about(0.3 * s), cava: about(0.35 * s),
		outflowPeak: about(82), pulmonaryPeak: about(88),
		mitralE: about(58), mitralA: about(50), tricuspidLeak: about(230),
		ductPeak: about(140), ductEnd: about(55),
		acaPeak: about(36), acaEnd: about(11), smaPeak: about(78), smaEnd: about(14),
		ventricularIndex: about(1.05 * s), anteriorHorn: about(0.2),
		excursion: about(0.65),
	}
	a.lvSystole = a.lvDiastole * (0.62 + 0.06*r.Float64())
	return a
}

// hump is a smooth bump of height 1 between from and to.
func hump(phase, from, to float64) float64 {
	if phase <= from || phase >= to {
		return 0
	}
	return math.Sin(math.Pi * (phase - from) / (to - from))
}

// ejection is flow away from the probe over a part of the cycle whose peak comes
// at a fraction of it.
func ejection(peak, from, to, peakAt float64) envelope {
	return func(phase float64) float64 {
		u := (phase - from) / (to - from)
		if u <= 0 || u >= 1 {
			return 0
		}
		if u < peakAt {
			return -peak * math.Sin(math.Pi/2*u/peakAt)
		}
		return -peak * math.Cos(math.Pi/2*(u-peakAt)/(1-peakAt))
	}
}

// filling is the flow through a mitral valve: early, then atrial.
func filling(e, a float64) envelope {
	return func(phase float64) float64 {
		return math.Max(e*hump(phase, 0.45, 0.72), a*hump(phase, 0.72, 0.95))
	}
}

// arterialPeakAt is the phase of the systolic peak of arterial flow.
const arterialPeakAt = 0.14

// arterial rises to peak and falls to end at the end of diastole.
func arterial(peak, end float64) envelope {
	return func(phase float64) float64 {
		if phase < arterialPeakAt {
			return end + (peak-end)*math.Pow(math.Sin(math.Pi/2*phase/arterialPeakAt), 2)
		}
		return end + (peak-end)*(math.Exp(-(phase-arterialPeakAt)/0.2)-math.Exp(-(1-arterialPeakAt)/0.2))
	}
}
