package testobject

import (
	"fmt"
	"time"

	"leadline/ingest"
	"leadline/ingest/protocol"
)

// sound is the speed of sound of the material in one test.
type sound struct {
	// speed and stdU are in m/s.
	speed, stdU float64
	// note says what is not known of it.
	note string
}

// soundOf reckons with the temperature of the day of a test where the file gives it
// and how the speed changes with it:
//
//	c = c₀ + k·(T − T₀)
func soundOf(o *protocol.TestObject, start ingest.Stamp) sound {
	m := &o.Material
	s := sound{speed: m.SpeedMS, stdU: m.U / 2}
	if !m.PerDegree.Set {
		return s
	}
	degrees, ok := o.Scans.Temperatures[start.T.Truncate(24*time.Hour)]
	if !ok || start.IsZero() {
		degrees, ok = o.Scans.Temperature.Get()
	}
	if !ok {
		s.note = fmt.Sprintf("no temperature given: the speed at %g °C is taken", m.AtDegrees.Value)
		return s
	}
	s.speed += m.PerDegree.Value * (degrees - m.AtDegrees.Value)
	return s
}

// factor turns a length as the scanner has it into one for the speed of sound of the
// material, with its relative standard uncertainty. An echo from the true depth d
// comes back after the time 2·d/c; the scanner shows it at the depth
// c_assumed·(2·d/c)/2 = d·c_assumed/c. So along the beam
//
//	corrected = measured · c/c_assumed
//
// shared/reference/measurements.md 3.2 (displayed = true · 1540/c). Across the beam
// nothing is corrected: in a linear array the pitch of the elements sets the distance
// (check-values.md 3).
func (s sound) factor(d protocol.Direction, assumed float64) (factor, relativeU float64) {
	if d != protocol.Axial {
		return 1, 0
	}
	return s.speed / assumed, s.stdU / s.speed
}
