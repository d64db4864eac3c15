package rebuild

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/terms"
)

// planePair are the measures of one ventricle at one end of the beat: its volume by
// discs in each plane, in both, and where the plane is not said.
type planePair struct{ four, two, both, unsaid string }

var planePairs = []planePair{
	{"lv-four-chamber-volume-diastole", "lv-two-chamber-volume-diastole", "lv-biplane-volume-diastole", "lv-end-diastolic-volume"},
	{"lv-four-chamber-volume-systole", "lv-two-chamber-volume-systole", "lv-biplane-volume-systole", "lv-end-systolic-volume"},
}

// The views that tell the plane of a volume whose measure does not (PS3.16 CID 12226).
const (
	codeFourChamber = "399214001"
	codeTwoChamber  = "399232001"
)

// biplanes collects what volumes of two planes are made of while a study is gone
// through, and makes them at its end. A biplane volume is a measurement, not an index:
// it needs the contours, not the two volumes, and reports give it a number to be held
// against.
type biplanes struct {
	groups []*planeGroup
	// waiting are the calipers of biplane volumes themselves, in their order.
	waiting []*caliper
}

// planeGroup are the planes of one ventricle at one end of the beat that belong
// together: from one report, from presentation states, or from one table, and by one
// observer.
type planeGroup struct {
	pair             planePair
	source, observer string
	four, two        []analyse.Measurement
	used             []bool
}

// meet keeps a rebuilt volume of one plane.
func (b *biplanes) meet(m *analyse.Measurement, images map[string]*analyse.Image) {
	if m.Rebuilt == nil || m.Geometry != ingest.GeometryDiscs {
		return
	}
	for _, p := range planePairs {
		two := m.Measure == p.two
		if m.Measure == p.unsaid {
			view := terms.Current(images[m.SOPUID].Image.View.Code)
			two = view.Is(codeTwoChamber, "SCT")
			if !two && !view.Is(codeFourChamber, "SCT") {
				continue
			}
		} else if !two && m.Measure != p.four {
			continue
		}
		g := b.group(p, sourceOf(m), m.Observer)
		if two {
			g.two = append(g.two, *m)
		} else {
			g.four = append(g.four, *m)
		}
	}
}

// sourceOf tells documents apart. Presentation states do not: each may hold one image.
func sourceOf(m *analyse.Measurement) string {
	switch m.Source {
	case analyse.SourceReport:
		return m.SourceUID
	case analyse.SourceTable:
		return m.Table
	}
	return string(m.Source)
}

func (b *biplanes) group(p planePair, source, observer string) *planeGroup {
	for _, g := range b.groups {
		if g.pair == p && g.source == source && g.observer == observer {
			return g
		}
	}
	b.groups = append(b.groups, &planeGroup{pair: p, source: source, observer: observer})
	return b.groups[len(b.groups)-1]
}

// later keeps the calipers of biplane volumes for the end. One that holds a single
// plane is refused here: its volume would be that of round discs.
func (b *biplanes) later(c *caliper) bool {
	measured := false
	for _, p := range planePairs {
		measured = measured || c.m.Measure == p.both
	}
	switch {
	case len(c.planes) > 0 || measured && c.bare:
		kept := *c
		b.waiting = append(b.waiting, &kept)
		return true
	case measured && c.m.Geometry == ingest.GeometryDiscs:
		c.stop = failed(ReasonUnit, "a biplane volume needs the contours of two planes, and this is one; each plane has a measure of its own")
	}
	return false
}

// each hands over the biplane volumes: first those that something reports, then those
// of planes for which nothing does.
func (b *biplanes) each(take func(*caliper)) {
	for _, g := range b.groups {
		g.once()
	}
	for _, c := range b.waiting {
		b.fill(c)
		take(c)
	}
	for _, g := range b.groups {
		for i, c := range g.unreported() {
			if i >= len(g.used) || !g.used[i] {
				take(&c)
			}
		}
	}
}

// once keeps of each plane the calipers marked as selected, else all, each one once.
func (g *planeGroup) once() {
	for _, list := range []*[]analyse.Measurement{&g.four, &g.two} {
		var all, selected []analyse.Measurement
		met := map[string]bool{}
		for _, m := range *list {
			if key := m.CaliperKey(); !met[key] {
				met[key] = true
				all = append(all, m)
				if m.Selected {
					selected = append(selected, m)
				}
			}
		}
		if *list = all; len(selected) > 0 {
			*list = selected
		}
	}
	g.used = make([]bool, len(g.four))
}

// paired tells that the planes can be put together: as many of one as of the other.
func (g *planeGroup) paired() bool { return len(g.four) > 0 && len(g.four) == len(g.two) }

// fill gives a number without a caliper the planes that its own report holds. Where a
// number has its own, those of the report stand for no further one.
func (b *biplanes) fill(c *caliper) {
	for _, g := range b.groups {
		if g.pair.both != c.m.Measure || g.source != sourceOf(&c.m) || c.m.Source != analyse.SourceReport {
			continue
		}
		switch {
		case !c.bare:
			for i := range g.used {
				g.used[i] = true
			}
		case len(g.four) == 0 || len(g.two) == 0:
			c.notes.add("the report has a rebuilt contour of one plane alone, not of both")
		case !g.paired() || len(g.four) > 1:
			c.notes.add("the report holds several contours of a plane; which of them the number was taken from is not said")
		default:
			c.bare = false
			c.planes = g.planes(0)
			c.notes.add(g.words(0))
			g.used[0] = true
		}
		return
	}
}

// planes are the calipers of the planes number i.
func (g *planeGroup) planes(i int) []caliper {
	return []caliper{planeOf(&g.four[i]), planeOf(&g.two[i])}
}

func planeOf(m *analyse.Measurement) caliper {
	return planeCaliper(m.Measure, m.Points, []ingest.Reference{{InstanceUID: m.SOPUID, Frames: m.Frames}})
}

func (g *planeGroup) words(i int) string {
	return fmt.Sprintf("from the contours of measurements %d and %d", g.four[i].Number, g.two[i].Number)
}

// unreported are the volumes of the planes for which nothing is reported. Several takes
// are put together in their order.
func (g *planeGroup) unreported() []caliper {
	if len(g.four) == 0 || len(g.two) == 0 {
		return nil
	}
	head := func(m *analyse.Measurement) caliper {
		c := caliper{want: want{unreported: true}}
		c.m = analyse.Measurement{
			Measure: g.pair.both, Side: m.Side, Source: m.Source, SourceUID: m.SourceUID, Observer: m.Observer,
			Table: m.Table, Line: m.Line, SOPUID: m.SOPUID,
		}
		return c
	}
	if !g.paired() {
		c := head(&g.four[0])
		c.stop = failed(ReasonAmbiguous, fmt.Sprintf("%s in the four-chamber and %d in the two-chamber view: which of them belong together is not said",
			analyse.Counted(len(g.four), "contour", "contours"), len(g.two)))
		return []caliper{c}
	}
	list := make([]caliper, len(g.four))
	for i := range g.four {
		list[i] = head(&g.four[i])
		list[i].planes = g.planes(i)
		list[i].notes.add(g.words(i))
		list[i].notes.add("no number was found for it")
		if len(g.four) > 1 {
			list[i].notes.add("several takes, put together in their order")
		}
	}
	return list
}
