package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// fleetFault is what is wrong with a device of the fleet; the zero fault is none.
type fleetFault struct {
	// name is a word of truth-fleet.csv; reason is that of the remark that must be
	// found, empty where none must.
	name, reason, verdict, what string
	since                       time.Time
	spoil                       func(*fleetStill, *rand.Rand)
}

// plantFleet gives five of the devices a fault, and a sixth one an export that resizes
// its pictures as it should.
func plantFleet(units []*fleetUnit, rng *rand.Rand) {
	order := rng.Perm(len(units))
	drifting, updated, resampled, sound, one := units[order[0]], units[order[1]], units[order[2]], units[order[3]], units[order[4]]
	other := one
	for _, i := range order[5:] {
		if units[i].model != one.model {
			other = units[i]
			break
		}
	}
	plantDrift(drifting, rng)
	plantUpdate(updated, rng)
	plantRoute(resampled, rng)
	plantSoundRoute(sound)
	plantSwap(one, other, rng)
}

// signed is a factor of 1 ± (low to high).
func signed(low, high float64, rng *rand.Rand) float64 {
	f := low + (high-low)*rng.Float64()
	if rng.IntN(2) == 0 {
		f = -f
	}
	return 1 + f
}

// plantDrift lets the scale creep from the first day to the last.
func plantDrift(u *fleetUnit, rng *rand.Rand) {
	total := signed(0.025, 0.05, rng)
	days := fleetStart.AddDate(0, fleetMonths, 0).Sub(fleetStart).Hours()
	u.fault = fleetFault{name: "drift", reason: "scale-drift", verdict: "contradicts-itself", since: fleetStart,
		what: fmt.Sprintf("the scale creeps by %+.2f %% over %d months", 100*(total-1), fleetMonths),
		spoil: func(s *fleetStill, _ *rand.Rand) {
			s.scale(s.deltaY * (1 + (total-1)*s.at.Sub(fleetStart).Hours()/days))
		}}
}

// plantUpdate lets the newer software write another scale.
func plantUpdate(u *fleetUnit, rng *rand.Rand) {
	factor := signed(0.02, 0.06, rng)
	m := fleetModels[u.model]
	u.fault = fleetFault{name: "software", reason: "scale-step", verdict: "contradicts-itself", since: u.updated,
		what: fmt.Sprintf("software %s writes %.4f times the scale of %s", m.update, factor, m.before),
		spoil: func(s *fleetStill, _ *rand.Rand) {
			if !s.at.Before(u.updated) {
				s.scale(s.deltaY * factor)
			}
		}}
}

// plantRoute sends a third of the pictures through an export that resizes them and
// leaves the scale behind, in one of three ways.
func plantRoute(u *fleetUnit, rng *rand.Rand) {
	factor := []float64{0.5, 0.8, 1.5}[rng.IntN(3)]
	way := rng.IntN(3)
	what := []string{"neither regions nor deltas follow", "regions follow, deltas do not", "deltas follow, regions do not"}[way]
	u.fault = fleetFault{name: "route", reason: "route-resampled", verdict: "contradicts-itself",
		what: fmt.Sprintf("the archive's gateway resizes pictures by %.1f; %s", factor, what),
		spoil: func(s *fleetStill, rng *rand.Rand) {
			if rng.IntN(3) == 0 {
				s.resize(factor, way == 1, way == 2)
			}
		}}
}

// plantSoundRoute resizes a third of the pictures with regions and deltas.
func plantSoundRoute(u *fleetUnit) {
	u.fault = fleetFault{verdict: "steady", what: "the archive's gateway resizes pictures by 0.8, and their scale with them",
		spoil: func(s *fleetStill, rng *rand.Rand) {
			if rng.IntN(3) == 0 {
				s.resize(0.8, true, true)
			}
		}}
}

// resize makes the picture of another size, as a gateway does that writes new files.
func (s *fleetStill) resize(factor float64, regions, deltas bool) {
	s.columns, s.rows = int(math.Round(factor*float64(s.columns))), int(math.Round(factor*float64(s.rows)))
	s.by, s.derived, s.syntax = program{"GATEWAY_7", "NORDGATE"}, true, explicitLE
	if regions {
		for i := range s.box {
			edge := i / 2 // a far bound is the last pixel, one before its edge
			s.box[i] = int(math.Round(factor*float64(s.box[i]+edge))) - edge
		}
		if s.referenceY != nil {
			y := int(math.Round(factor * float64(*s.referenceY)))
			s.referenceY = &y
		}
	}
	if deltas {
		s.deltaX, s.deltaY = s.deltaX/factor, s.deltaY/factor
	}
}

// plantSwap exchanges the probes of two devices of different models, which go on
// writing their own names and serial numbers.
func plantSwap(a, b *fleetUnit, rng *rand.Rand) {
	day := fleetStart.AddDate(0, 6+rng.IntN(7), 2)
	for _, pair := range [][2]*fleetUnit{{a, b}, {b, a}} {
		other := &fleetModels[pair[1].model]
		pair[0].fault = fleetFault{name: "swap", reason: "swapped", verdict: "contradicts-itself", since: day,
			what: fmt.Sprintf("writes what the probe of %s sees", pair[1].serial),
			spoil: func(s *fleetStill, rng *rand.Rand) {
				if !s.at.Before(day) {
					s.draw(other, rng)
					s.model = &fleetModels[s.unit.model] // what it calls itself
				}
			}}
	}
}
