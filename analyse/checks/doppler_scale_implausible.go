package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// DopplerScaleImplausible is the finding doppler-scale-implausible: a Doppler scale does not fit its pulses.
var DopplerScaleImplausible = analyse.Check{
	ID:    "doppler-scale-implausible",
	Title: "a Doppler scale does not fit its pulses",
	Doc: "A pulsed spectrum spans at most twice the Nyquist limit v = c PRF / (4 f0 cos θ), with c = 1540 m/s and PRF, f0 and" +
		" θ from the region (0018,6032), (0018,6030), (0018,6034); in Hz it spans the PRF. (Formula: pulsed Doppler " +
		"theory, from memory.) This one spans more, or less than a twentieth. Its velocities are off by that factor," +
		" or one of the three numbers is; a mode with several sample volumes may state its base rate, a whole " +
		"fraction. Continuous wave has no such limit and is not judged.",
	Advice:   "Compare the printed velocity scale with the header's before using velocities.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(dopplerScaleImplausible),
}

const (
	// soundCMPerS is the speed of sound that devices assume (shared reference
	// check-values.md, speed of sound effect).
	soundCMPerS = 154000
	// nyquistTolerance allows for a PRF and a frequency rounded to whole Hz and kHz
	// and for a strip drawn a row or two taller: common practice, no source. A real
	// strip of the shared data lies 0.5 % above.
	nyquistTolerance = 0.05
	// leastOfNyquist is far below what a device shows of its range, and above what
	// m/s written as cm/s leaves, a hundredth: common practice, no source.
	leastOfNyquist = 0.05
	// steepestDeg is the angle beyond which no correction means anything (at
	// 85 degrees one degree more changes the velocity by a quarter).
	steepestDeg = 85
	dataPW      = 3
)

func dopplerScaleImplausible(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if !is(raw, ingest.FormatSpectral) || raw.DataType.Value != dataPW || raw.PRFHz.Value <= 0 {
			return ""
		}
		if hz, ok := spanY(raw, ingest.UnitHertz); ok {
			return offLimit(hz, raw.PRFHz.Value, "Hz", fmt.Sprintf("the PRF of %g Hz", raw.PRFHz.Value))
		}
		limit, ok := velocityLimit(raw)
		v, known := spanY(raw, ingest.UnitCMPerS)
		if !ok || !known {
			return ""
		}
		return offLimit(v, limit, "cm/s", fmt.Sprintf("a PRF of %g Hz at %g kHz and %g degrees",
			raw.PRFHz.Value, raw.FrequencyKHz.Value, raw.DopplerAngleDeg.Value))
	})
}

// velocityLimit is twice the Nyquist limit in cm/s. The standard does not say whether
// an axis is corrected for the angle, so the larger limit, corrected, is taken. It is
// false without a frequency and at angles that leave nothing.
func velocityLimit(r *ingest.Region) (float64, bool) {
	angle := math.Abs(r.DopplerAngleDeg.Value)
	if r.FrequencyKHz.Value <= 0 || angle > steepestDeg {
		return 0, false
	}
	limit := soundCMPerS * r.PRFHz.Value / (2 * r.FrequencyKHz.Value * 1000 * math.Cos(angle*math.Pi/180))
	return finite(limit), limit > 0
}

func offLimit(span, limit float64, unit, pulses string) string {
	ratio := span / limit
	if ratio <= 1+nyquistTolerance && ratio >= leastOfNyquist {
		return ""
	}
	return fmt.Sprintf("the strip spans %.4g %s; %s allows %.4g %s, %.3g times as much", span, unit, pulses, limit, unit, finite(limit/span))
}
