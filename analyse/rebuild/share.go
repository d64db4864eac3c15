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

// added is what the points of a measurement add on one image: those of a volume of two
// planes lie on two.
type added struct {
	m      int // its place in the list
	image  string
	frames []int
	time   bool
	by     []physical.Contribution
}

// added lists what may be used of a row; a suspect value is used nowhere.
func (o *outcome) added(i int, m *analyse.Measurement) []added {
	if o == nil || o.suspect != "" || len(o.contributions)+len(o.second) == 0 {
		return nil
	}
	list := []added{{i, m.SOPUID, m.NamedFrames(), m.Geometry == ingest.GeometryFrames, o.contributions}}
	if m.Second != nil {
		list = append(list, added{i, m.Second.SOPUID, analyse.NamedFrames(m.Second.Frames), false, o.second})
	}
	return list
}

// place is what coordinates are equal on: an image with the frames that calipers
// name, or the time of a clip.
type place struct {
	image  string
	frames string
	time   bool
}

func (a *added) place() place {
	if a.time {
		return place{image: a.image, time: true}
	}
	p := place{image: a.image}
	if len(a.frames) > 0 {
		var key []byte
		for _, f := range a.frames {
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
func share(list []analyse.Measurement, all []added) {
	at, alone := placesOf(all)
	met := map[spot]int{} // the first measurement, from 1; 0 where there is another
	for i := range all {
		if alone[at[i]] {
			continue
		}
		for _, c := range all[i].by {
			s := spot{at[i], c.Point}
			if first, again := met[s]; again && first != all[i].m+1 {
				met[s] = 0
			} else {
				met[s] = all[i].m + 1
			}
		}
	}
	sharing := make([]bool, len(list))
	for i := range all {
		sharing[all[i].m] = sharing[all[i].m] || !alone[at[i]] &&
			slices.ContainsFunc(all[i].by, func(c physical.Contribution) bool { return met[spot{at[i], c.Point}] == 0 })
	}
	shared := coordinates{map[coordinateKey]*analyse.Coordinate{}, map[spot]int{}}
	for i := range all {
		a := &all[i]
		if !sharing[a.m] {
			continue
		}
		m, own := &list[a.m], 0.0
		for k := range a.by {
			c := &a.by[k]
			if s := (spot{at[i], c.Point}); !alone[at[i]] && met[s] == 0 {
				shared.add(m, a, s, c)
				continue
			}
			own += c.X*c.X + c.Y*c.Y
		}
		m.OwnU = math.Sqrt(m.OwnU*m.OwnU + own)
	}
}

// placesOf numbers the places, and tells which of them hold one measurement only.
func placesOf(all []added) (at []int, alone []bool) {
	numbers := map[place]int{}
	at = make([]int, len(all))
	first := []int{}
	for i := range all {
		p := all[i].place()
		n, met := numbers[p]
		if !met {
			n = len(numbers)
			numbers[p] = n
			alone, first = append(alone, true), append(first, all[i].m)
		} else if first[n] != all[i].m {
			alone[n] = false
		}
		at[i] = n
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
func (n *coordinates) add(m *analyse.Measurement, a *added, s spot, c *physical.Contribution) {
	if n.spots[s] == 0 {
		n.spots[s] = len(n.spots) + 1
	}
	x, y := analyse.AxisX, analyse.AxisY
	if a.time {
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
			of = &analyse.Coordinate{Number: len(n.all) + 1, Spot: n.spots[s], SOPUID: a.image, Frames: a.frames, Axis: part.axis, Point: c.Point}
			n.all[key] = of
		}
		m.Shared = append(m.Shared, analyse.Contribution{Of: of, StdU: part.u})
	}
}
