package rebuild

import (
	"fmt"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// byOtherRegion: the scale of another region of the picture was used.
func byOtherRegion(d *differing) string {
	for i := range d.img.Regions {
		r := &d.img.Regions[i]
		if d.source == analyse.CalibrationRegion && r.Raw.Ordinal == d.region {
			continue
		}
		plane := physical.RegionPlane(r.Raw)
		if q, ok := d.on(plane, d.counterpart(plane)); ok {
			return fmt.Sprintf("%.4g %s by the scale of region %d", q.Value, physical.Printed(q.Unit), r.Raw.Ordinal)
		}
	}
	return ""
}

// counterpart is the formula that gives the same quantity of the same shape on
// another plane: a distance is a depth difference in a strip. nil where none does.
func (d *differing) counterpart(p physical.Plane) *formula {
	f := d.formula
	if f == nil {
		return nil
	}
	for i := range formulas {
		g := &formulas[i]
		same := g.quantity == f.quantity || !f.named && !f.absolute && !g.named && !g.absolute && !g.timed
		if g.geometry == f.geometry && g.unit == f.unit && same && g.fits(p) {
			return g
		}
	}
	return nil
}

// byOtherClock: an interval was timed by another attribute of the clip.
func byOtherClock(d *differing) string {
	if d.source != analyse.CalibrationTiming {
		return ""
	}
	first, last := ends(d.caliper.m.Frames)
	for _, by := range []func(*clock) bool{
		func(c *clock) bool { return c.byVector(d.img.Image) },
		func(c *clock) bool { return c.byFrameTime(d.img.Image) },
		func(c *clock) bool { return c.byCineRate(d.img.Image) },
	} {
		var c clock
		if !by(&c) || !(c.periodS > 0) || c.source == d.timedBy {
			continue
		}
		if q := c.between(first, last, nil); d.agrees(q) {
			return fmt.Sprintf("%.4g %s, timed by %s instead of %s", q.Value, physical.Printed(q.Unit), c.source, d.timedBy)
		}
	}
	return ""
}
