package pictures

import (
	"errors"
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/ruler"
	"leadline/ingest"
	"leadline/ingest/pixels"
)

// ruled is a picture of 200 by 400 pixels with ticks at its right side, a longer one
// every fifth, so many pixels apart.
func ruled(pitch int) *pixels.Frame {
	f := &pixels.Frame{Columns: 200, Rows: 400, Pix: make([]byte, 200*400)}
	for n, y := 0, 10; y < 390; n, y = n+1, y+pitch {
		from := 192
		if n%5 == 0 {
			from = 187
		}
		for x := from; x < 197; x++ {
			f.Pix[y*200+x] = 230
		}
	}
	return f
}

// region is one of the picture from its first pixel on, of a delta in cm.
func region(format uint16, delta float64, x1, y1 int) analyse.Region {
	index := func(v int) ingest.Optional[ingest.Index] { return ingest.Some(ingest.Index(v)) }
	raw := &ingest.Region{Ordinal: 1, SpatialFormat: ingest.Some(format), MinX0: index(0), MinY0: index(0), MaxX1: index(x1), MaxY1: index(y1)}
	return analyse.Region{Raw: raw, MMPerPixelY: ingest.Some(10 * delta)}
}

func image(modality string, spacing ingest.Optional[[2]float64], depthMM float64, modes []string, regions ...analyse.Region) *analyse.Image {
	inst := &ingest.Instance{Image: &ingest.Image{Spacing: ingest.Spacing{Pixel: spacing}}, Series: &ingest.Series{Modality: modality}}
	return &analyse.Image{Instance: inst, Picture: &analyse.Picture{Regions: regions, Modes: modes, DepthMM: ingest.Optional[float64]{Value: depthMM, Set: depthMM > 0}}}
}

func look(img *analyse.Image, frame *pixels.Frame, err error) *analyse.Ruler {
	Read(&analyse.Study{Images: []*analyse.Image{img}}, func(*ingest.Instance) (*pixels.Frame, error) { return frame, err })
	return img.Ruler
}

var none = ingest.Optional[[2]float64]{}

// TestRatio holds a ruler of 40 pixels a centimetre against what headers say.
func TestRatio(t *testing.T) {
	for _, c := range []struct {
		name  string
		img   *analyse.Image
		ratio float64 // 0 is absent
		from  analyse.CalibrationSource
	}{
		{"right", image("US", none, 0, nil, region(ingest.Format2D, 0.025, 199, 399)), 1, analyse.CalibrationRegion},
		{"at half its size", image("US", none, 0, nil, region(ingest.Format2D, 0.0125, 399, 799)), 0.5, analyse.CalibrationRegion},
		{"spacing, rows first", image("US", ingest.Some([2]float64{0.3, 0.1}), 90, nil), 40 / (10 / 0.3), analyse.CalibrationSpacing},
		{"a region goes before spacing", image("US", ingest.Some([2]float64{1, 1}), 0, nil, region(ingest.Format2D, 0.02, 199, 399)), 0.8, analyse.CalibrationRegion},
		{"no number of a scale", image("US", none, 0, nil, region(ingest.Format2D, math.SmallestNonzeroFloat64, 199, 399)), 0, ""},
	} {
		r := look(c.img, ruled(40), nil)
		if r.From != c.from || math.Abs(r.Ratio.Value-c.ratio) > 0.001 || r.Ratio.Set != (c.ratio != 0) {
			t.Errorf("%s: %+v %+v, want %v from %s", c.name, *r, *r.Reading, c.ratio, c.from)
		}
		for _, v := range []float64{r.Ratio.Value, r.U.Value, r.HeaderPerCM.Value, r.EstimatedMM.Value, r.EstimatedU.Value} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s: %v left analyse", c.name, v)
			}
		}
	}
}

// TestShared: images that share a picture of their headers are each given their own
// ruler, and the shared part stays as it was.
func TestShared(t *testing.T) {
	a := image("US", none, 0, nil, region(ingest.Format2D, 0.025, 199, 399))
	b := &analyse.Image{Instance: a.Instance, Picture: a.Picture}
	shared := a.Picture
	look(a, ruled(40), nil)
	look(b, ruled(32), nil)
	if got := a.Regions[0].RulerRatio.Value; math.Abs(got-1) > 0.001 {
		t.Errorf("the first has %v", got)
	}
	if got := b.Regions[0].RulerRatio.Value; math.Abs(got-0.8) > 0.001 {
		t.Errorf("the second has %v", got)
	}
	if shared.Regions[0].RulerRatio.Set {
		t.Error("what they shared was changed")
	}
}

// TestRegions fills the regions of the picture itself and no strip.
func TestRegions(t *testing.T) {
	colour, other, strip := region(ingest.Format2D, 0.025, 99, 199), region(ingest.Format2D, 0.030, 199, 398), region(ingest.FormatMMode, 0.05, 199, 399)
	apart := func(delta float64) analyse.Region { // within 1 % it is of one scale, and of the picture
		r := region(ingest.Format2D, delta, 199, 399)
		r.Raw.MinX0, r.Raw.MaxX1 = ingest.Some(ingest.Index(500)), ingest.Some(ingest.Index(600))
		return r
	}
	img := image("US", none, 0, nil, region(ingest.Format2D, 0.025, 199, 399), colour, other, strip, apart(0.05), apart(0.02523), apart(0.02528))
	look(img, ruled(40), nil)
	for i, want := range []float64{1, 1, 1.2, 0, 0, 1.0092, 0} {
		if got := img.Regions[i].RulerRatio; math.Abs(got.Value-want) > 0.001 {
			t.Errorf("region %d: %v, want %v", i, got, want)
		}
	}
}

// TestEstimate is offered where the header has no scale, and nowhere else.
func TestEstimate(t *testing.T) {
	r := look(image("US", none, 90, nil), ruled(40), nil)
	if math.Abs(r.EstimatedMM.Value-0.25) > 1e-3 || r.Ratio.Set || !(r.EstimatedU.Value > 0 && r.EstimatedU.Value < 0.001) {
		t.Errorf("%+v", r)
	}
	if r := look(image("US", none, 90, nil, region(ingest.Format2D, 0.025, 199, 399)), ruled(40), nil); r.EstimatedMM.Set {
		t.Errorf("%+v", r)
	}
}

// TestNotLooked: no other modality is looked at, and what cannot be is said.
func TestNotLooked(t *testing.T) {
	if r := look(image("CT", none, 0, nil), nil, errors.New("never asked")); r != nil {
		t.Errorf("CT: %+v", r)
	}
	r := look(image("US", none, 0, nil), nil, &pixels.NotDecodedError{Reason: "JPEG 2000"})
	if r.Status != ruler.NotDecoded || r.Note != "JPEG 2000" {
		t.Errorf("%+v", r.Reading)
	}
	if r := look(image("US", none, 0, nil), nil, errors.New("disk on fire")); !strings.Contains(r.Note, "disk on fire") {
		t.Errorf("%+v", r.Reading)
	}
	outside := region(ingest.Format2D, 0.025, 399, 799)
	outside.Suspect = "reaches outside"
	if r := look(image("US", none, 0, []string{"2d", "m-mode"}, outside), ruled(40), nil); r.Status != ruler.Uncertain {
		t.Errorf("a strip whose place is not known: %+v", r.Reading)
	}
}
