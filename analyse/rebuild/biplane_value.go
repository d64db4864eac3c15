package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// axesDiffer is the part of the longer axis beyond which two axes of one cavity are
// said to differ: the shorter plane is then likely to have missed the apex. Common
// practice, no source; so it is a note, and nothing is refused by it.
const axesDiffer = 0.10

// planeCaliper is one plane of a biplane volume as a caliper of its own.
func planeCaliper(measure string, points []ingest.Point, images []ingest.Reference) caliper {
	return caliper{
		m:      analyse.Measurement{Measure: measure, Geometry: ingest.GeometryDiscs, Points: points},
		images: images, want: want{unit: physical.ML, factor: 1},
	}
}

// onPlanes rebuilds a volume of two planes, each in its own calibration.
func (c *caliper) onPlanes(images map[string]*analyse.Image) ([]outcome, *failure) {
	var at [2]outcome
	var failures [2]*failure
	for i := range c.planes {
		p := &c.planes[i]
		p.rule = c.rule
		var list []outcome
		if list, failures[i] = p.onImages(images); failures[i] == nil {
			at[i] = list[0]
		}
	}
	a, b := &c.planes[0].m, &c.planes[1].m
	c.m.Geometry, c.m.Points, c.m.Frames, c.m.SOPUID = analyse.GeometryBiplane, a.Points, a.Frames, a.SOPUID
	c.m.Second = &analyse.SecondPlane{SOPUID: b.SOPUID, Frames: b.Frames, Points: b.Points, Region: at[1].region}
	for i, fail := range failures {
		if fail != nil {
			return nil, failed(fail.reason, fmt.Sprintf("%s plane: %s", planeNames[i], fail.note))
		}
	}
	o, fail := c.joined(at[0], at[1])
	if fail != nil {
		return nil, fail
	}
	return []outcome{o}, nil
}

// planeNames say which plane is meant.
var planeNames = [2]string{"first", "second"}

// joined is the volume of both planes. The error of the scale is taken as one of both,
// which holds for one device and is the larger U for two.
func (c *caliper) joined(a, b outcome) (outcome, *failure) {
	var work *physical.Work
	var cut [2]*physical.Cavity
	var contributions [2][]physical.Contribution
	before := 0
	for i, o := range []*outcome{&a, &b} {
		m := &c.planes[i].m
		plane := o.plane()
		plane.PointStdU = c.rule.PlacementPX[m.Measure]
		if c.contributes() {
			plane.Contributions = &contributions[i]
		}
		if c.explain {
			work, plane.Work = &physical.Work{}, physical.PlaneWork(planeNames[i]+" plane", before)
			plane = scale{plane: plane, region: o.scaledBy}.explained(o.formula)
		}
		var err error
		if cut[i], err = plane.Cavity(m.Points[2:], m.Points[0], m.Points[1]); err != nil {
			return outcome{}, failureOf(err)
		}
		if plane.Work != nil {
			before += len(plane.Work.Points)
		}
	}
	q, err := physical.BiplaneVolume(cut[0], cut[1], work)
	if err != nil {
		return outcome{}, failureOf(err)
	}
	o := outcome{image: a.image, region: a.region, source: a.source, quantity: analyse.Volume, img: a.img, scaledBy: a.scaledBy, mode: a.mode, work: work}
	o.contributions, o.second = contributions[0], contributions[1]
	if work != nil {
		work.DropUnused(physical.PartScale)
	}
	o.value, o.scaleU = withScale(q, analyse.Volume, c.rule, work)
	for i, part := range []outcome{a, b} {
		for _, n := range part.notes {
			o.notes.add(planeNames[i] + " plane: " + n)
		}
		if part.suspect != "" && o.suspect == "" {
			o.suspect = part.suspect
		}
	}
	o.notes.add(axisWordsOf(cut[0].Length(), cut[1].Length()))
	return o, nil
}

// axisWordsOf tells the length rule and how far both axes agree.
func axisWordsOf(a, b float64) string {
	text := fmt.Sprintf("axes %.4g and %.4g mm, the longer one counts", a, b)
	if longer := math.Max(a, b); math.Abs(a-b) > axesDiffer*longer {
		text += fmt.Sprintf("; they differ by %.0f %%, so one plane may have missed the apex (more than %.0f %% is too much by common practice, no source)",
			100*math.Abs(a-b)/longer, 100*axesDiffer)
	}
	return text
}

// bothPlanes takes a long axis and a contour on each of two images as both planes of a
// volume. It answers true where two contours lie on two images: what is missing then
// stops the caliper.
func (c *caliper) bothPlanes(list []drawn) bool {
	if c.want.unit != physical.ML {
		return false
	}
	var contours []drawn
	for _, d := range list {
		if d.geometry == ingest.GeometryPolygon {
			contours = append(contours, d)
		}
	}
	if len(contours) != 2 || len(contours[0].images) == 0 || len(contours[1].images) == 0 ||
		sameImages(contours[0].images, contours[1].images) {
		return false
	}
	var planes []caliper
	for _, contour := range contours {
		for _, d := range list {
			if d.geometry == ingest.GeometryLine && sameImages(d.images, contour.images) {
				plane, _ := c.contourAndAxis([]drawn{d, contour})
				planes = append(planes, planeCaliper(c.m.Measure, plane.points, plane.images))
			}
		}
	}
	c.m.SOPUID = contours[0].images[0].InstanceUID
	if len(planes) != 2 || len(list) != 4 {
		c.stop = failed(ReasonUnit, "two contours on two images, and not one long axis for each: discs cannot be cut without it")
		return true
	}
	c.planes = planes
	c.notes.add("volume of elliptic discs from both images")
	return true
}
