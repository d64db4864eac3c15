package rebuild

import (
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

// box is a region by its bounds (inclusive pixel indices), units and deltas.
func box(ordinal int, format uint16, x0, y0, x1, y1 int64, unitX, unitY uint16, dx, dy float64) ingest.Region {
	return ingest.Region{
		Ordinal: ordinal, SpatialFormat: ingest.Some(format), DataType: ingest.Some(uint16(1)),
		MinX0: ingest.Some(ingest.Index(x0)), MinY0: ingest.Some(ingest.Index(y0)), MaxX1: ingest.Some(ingest.Index(x1)), MaxY1: ingest.Some(ingest.Index(y1)),
		UnitsX: ingest.Some(unitX), UnitsY: ingest.Some(unitY), DeltaX: ingest.Some(dx), DeltaY: ingest.Some(dy),
	}
}

func withRef(r ingest.Region, x, y int64) ingest.Region {
	r.RefX0, r.RefY0 = ingest.Some(ingest.Index(x)), ingest.Some(ingest.Index(y))
	return r
}

const (
	cm  = ingest.UnitCM
	sec = ingest.UnitSecond
	vel = ingest.UnitCMPerS
)

// picture is an image of 800 × 600 pixels with these regions.
func picture(uid string, regions ...ingest.Region) *analyse.Image {
	inst := &ingest.Instance{SOPInstanceUID: uid, Image: &ingest.Image{Columns: 800, Rows: 600, Frames: 1, Regions: regions}}
	img := &analyse.Image{Instance: inst, Picture: &analyse.Picture{}}
	for i := range regions {
		img.Regions = append(img.Regions, analyse.Region{Raw: &inst.Image.Regions[i]})
	}
	return img
}

// sample is a study with one image of each kind.
func sample() *analyse.Study {
	// 2D at 0.1 mm over the upper half; below it a strip.
	twoD := box(1, ingest.Format2D, 0, 0, 799, 299, cm, cm, 0.01, 0.01)
	frame := box(3, ingest.FormatNone, 0, 0, 799, 599, 0, 0, 1, 1)
	heart := picture("mmode", twoD, withRef(box(2, ingest.FormatMMode, 0, 300, 799, 599, sec, cm, 0.005, 0.02), 799, 0), frame)
	heart.Image.Spacing.Pixel = ingest.Some([2]float64{0.1, 0.1})
	pw := picture("pw", twoD, withRef(box(2, ingest.FormatSpectral, 0, 300, 799, 599, sec, vel, 0.005, -0.5), 799, 150))
	turned := picture("turned", withRef(box(1, ingest.FormatSpectral, 0, 300, 799, 599, sec, vel, 0.005, 0.5), 799, 150))
	bare := picture("noref", box(1, ingest.FormatSpectral, 0, 300, 799, 599, sec, vel, 0.005, -0.5))
	hertz := picture("hertz", box(1, ingest.FormatSpectral, 0, 300, 799, 599, sec, ingest.UnitHertz, 0.005, -20))
	ecg := picture("ecg", box(1, ingest.FormatWaveform, 0, 500, 799, 599, sec, 0, 0.004, 0))
	dual := picture("dual", box(1, ingest.Format2D, 0, 0, 399, 599, cm, cm, 0.01, 0.01), box(2, ingest.Format2D, 400, 0, 799, 599, cm, cm, 0.02, 0.02))
	colour := picture("colour", box(1, ingest.Format2D, 0, 0, 799, 599, cm, cm, 0.01, 0.01), box(2, ingest.Format2D, 200, 100, 500, 400, cm, cm, 0.01, 0.01))
	clash := picture("clash", box(1, ingest.Format2D, 0, 0, 799, 599, cm, cm, 0.01, 0.01), box(2, ingest.Format2D, 200, 100, 500, 400, cm, cm, 0.01, 0.02))
	suspect := picture("suspect", box(1, ingest.Format2D, 0, 0, 1599, 1199, cm, cm, 0.005, 0.005))
	suspect.Regions[0].Suspect = "bounds reach beyond the picture"
	ct := picture("ct")
	ct.Image.Spacing.Pixel = ingest.Some([2]float64{0.30, 0.25})
	none := picture("none")
	flat := picture("flat", box(1, ingest.FormatMMode, 0, 0, 799, 599, sec, cm, 0, 0))
	flat.Image.Spacing.Pixel = ingest.Some([2]float64{0.1, 0.1})
	clip := picture("clip")
	clip.Image.Frames = 40
	clip.Image.Timing = ingest.Timing{IncrementPointer: []dcm.Tag{dcm.FrameTime}, FrameTimeMS: ingest.Some(20.0)}
	oblong := picture("oblong", box(1, ingest.Format2D, 0, 0, 799, 599, cm, cm, 0.01, 0.02))
	sweeping := func(uid string, flags uint32, ref bool) *analyse.Image {
		r := box(1, ingest.FormatSpectral, 0, 300, 799, 599, sec, vel, 0.005, -0.5)
		if ref {
			r = withRef(r, 400, 150)
		}
		r.Flags = ingest.Some(flags << 3)
		return picture(uid, r)
	}
	sweep, blind, scroll := sweeping("sweep", 2, true), sweeping("sweep-blind", 2, false), sweeping("scroll", 1, true)
	sweepClip := sweeping("sweep-clip", 2, true)
	sweepClip.Image.Frames, sweepClip.Image.Timing = 40, clip.Image.Timing
	mirrored := picture("mirrored", box(1, ingest.Format2D, 0, 0, 799, 299, cm, cm, -0.01, 0.01), box(2, ingest.FormatMMode, 0, 300, 799, 599, sec, cm, -0.005, 0.02))
	leftward := picture("leftward", withRef(box(1, ingest.FormatSpectral, 0, 300, 799, 599, sec, vel, -0.005, -0.5), 0, 150))
	return &analyse.Study{Images: []*analyse.Image{sweep, blind, scroll, sweepClip, mirrored, leftward, heart, pw, turned, bare, hertz, ecg, dual, colour, clash, suspect, ct, none, flat, clip, oblong}}
}

// row reads "geometry|points|value|unit|label" into a row of a caliper table.
func row(image, text string) ingest.CaliperRow {
	f := strings.Split(text, "|")
	r := ingest.CaliperRow{Table: "t.csv", SOPUID: image, Geometry: ingest.Geometry(f[0]), ValueText: f[2], Unit: f[3], Label: f[4]}
	r.Points = points(f[1])
	if v, err := strconv.ParseFloat(f[2], 64); err == nil {
		r.Value = ingest.Some(v)
	}
	return r
}

// points reads "x,y x,y".
func points(text string) []ingest.Point {
	var out []ingest.Point
	for _, pair := range strings.Fields(text) {
		x, y, _ := strings.Cut(pair, ",")
		p := ingest.Point{}
		p.X, _ = strconv.ParseFloat(x, 64)
		p.Y, _ = strconv.ParseFloat(y, 64)
		out = append(out, p)
	}
	return out
}
