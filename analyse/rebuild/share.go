package rebuild

import (
	"encoding/binary"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// contributes tells that what each point adds is of use: only values of a measure
// are put together with others.
func (c *caliper) contributes() bool { return c.m.Measure != "" && !c.explain }

// kept are the contributions of an outcome that may be used; a suspect value is used
// nowhere.
func (o *outcome) kept() []physical.Contribution {
	if o == nil || o.suspect != "" {
		return nil
	}
	return o.contributions
}

// place is what coordinates are equal on: an image with the frames that calipers
// name, or the time of a clip.
type place struct {
	image  string
	frames string
	time   bool
}

func placeOfCaliper(m *analyse.Measurement) place {
	if m.Geometry == ingest.GeometryFrames {
		return place{image: m.SOPUID, time: true}
	}
	p := place{image: m.SOPUID}
	if frames := m.NamedFrames(); len(frames) > 0 {
		var key []byte
		for _, f := range frames {
			key = binary.AppendUvarint(key, uint64(f))
		}
		p.frames = string(key)
	}
	return p
}

// spot is a point on a place, both by number.
type spot struct {
	place int
	point ingest.Point
}

// share splits the uncertainty of measurements that have points in common with
// others of the study into what each of these points adds and the rest. What no
// other measurement has is not kept: it is in the rest.
func share(list []analyse.Measurement, contributions [][]physical.Contribution) {
	at, alone := placesOf(list, contributions)
	met := map[spot]int{} // the first measurement, from 1; 0 where there is another
	for i, parts := range contributions {
		if alone[at[i]] {
			continue
		}
		for k := range parts {
			s := spot{at[i], parts[k].Point}
			if first, again := met[s]; again && first != i+1 {
				met[s] = 0
			} else {
				met[s] = i + 1
			}
		}
	}
	shared := coordinates{map[coordinateKey]*analyse.Coordinate{}, map[spot]int{}}
	for i, parts := range contributions {
		if alone[at[i]] || !slices.ContainsFunc(parts, func(c physical.Contribution) bool { return met[spot{at[i], c.Point}] == 0 }) {
			continue
		}
		m, own := &list[i], 0.0
		for k := range parts {
			c := &parts[k]
			if s := (spot{at[i], c.Point}); met[s] == 0 {
				shared.add(m, s, c)
				continue
			}
			own += c.X*c.X + c.Y*c.Y
		}
		m.OwnU = math.Sqrt(own)
	}
}

// placesOf numbers the places of the measurements, and tells which of them hold one
// measurement only.
func placesOf(list []analyse.Measurement, contributions [][]physical.Contribution) (at []int, alone []bool) {
	numbers := map[place]int{}
	at = make([]int, len(list))
	for i := range list {
		if len(contributions[i]) == 0 {
			continue
		}
		p := placeOfCaliper(&list[i])
		n, met := numbers[p]
		if !met {
			n = len(numbers)
			numbers[p] = n
			alone = append(alone, true)
		} else {
			alone[n] = false
		}
		at[i] = n
	}
	if len(alone) == 0 {
		alone = []bool{true}
	}
	return at, alone
}

// coordinates are the shared ones of a study, x and y of each point.
type coordinates struct {
	all   map[coordinateKey]*analyse.Coordinate
	spots map[spot]int
}

type coordinateKey struct {
	spot
	axis analyse.Axis
}

// add notes on a measurement what a shared point adds to it.
func (n *coordinates) add(m *analyse.Measurement, s spot, c *physical.Contribution) {
	if n.spots[s] == 0 {
		n.spots[s] = len(n.spots) + 1
	}
	x, y := analyse.AxisX, analyse.AxisY
	if m.Geometry == ingest.GeometryFrames {
		if x = analyse.AxisFrame; c.Point.X == 0 {
			x = analyse.AxisPeriod
		}
	}
	for _, part := range []struct {
		axis analyse.Axis
		u    float64
	}{{x, c.X}, {y, c.Y}} {
		if part.u == 0 {
			continue
		}
		key := coordinateKey{s, part.axis}
		of := n.all[key]
		if of == nil {
			of = &analyse.Coordinate{Number: len(n.all) + 1, Spot: n.spots[s], SOPUID: m.SOPUID, Frames: m.NamedFrames(), Axis: part.axis, Point: c.Point}
			n.all[key] = of
		}
		m.Shared = append(m.Shared, analyse.Contribution{Of: of, StdU: part.u})
	}
}
