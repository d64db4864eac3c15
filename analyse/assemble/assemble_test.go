package assemble

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

var dayOne = time.Date(2026, 9, 14, 10, 0, 0, 0, time.UTC)

// picture is an image instance of a study, minutes after ten o'clock.
func picture(study, path string, minutes int, img ingest.Image) *ingest.Instance {
	return &ingest.Instance{
		Path: path, SOPInstanceUID: "2.25." + path, Image: &img,
		Acquisition: ingest.Stamp{T: dayOne.Add(time.Duration(minutes) * time.Minute), HasTime: true},
		Study:       &ingest.Study{UID: study}, Series: &ingest.Series{Modality: "US"},
		Patient: &ingest.Patient{ID: "P"}, Device: &ingest.Device{Model: "Tern"},
	}
}

// TestStudiesAcrossFolders puts images of two folders to one study, in the order
// of their clocks, and the studies in the order of theirs.
func TestStudiesAcrossFolders(t *testing.T) {
	late := picture("B", "a/1", 90, ingest.Image{Frames: 1})
	first, second := picture("A", "z/9", 0, ingest.Image{Frames: 1}), picture("A", "a/2", 5, ingest.Image{Frames: 12})
	got := Studies([]*ingest.Instance{late, second, first})
	if len(got) != 2 || got[0].UID != "A" || got[1].UID != "B" {
		t.Fatalf("studies %v", got)
	}
	a := got[0]
	if a.Images[0].Path != "z/9" || a.Images[1].Kind != analyse.Clip || a.DurationS != ingest.Some(300.0) {
		t.Errorf("images %s, %s, %v s", a.Images[0].Path, a.Images[1].Kind, a.DurationS)
	}
	if a.Start != first.Acquisition {
		t.Errorf("a study without date starts %v, want its first image", a.Start)
	}
}

func TestPatientsCounted(t *testing.T) {
	one, other := picture("A", "1", 0, ingest.Image{}), picture("A", "2", 1, ingest.Image{})
	if got := Studies([]*ingest.Instance{one, other})[0].Patients; got != 1 {
		t.Errorf("%d patients, want 1", got)
	}
	other.Patient = &ingest.Patient{ID: "Q", WeightKg: ingest.Some(3.1)}
	s := Studies([]*ingest.Instance{one, other})[0]
	if s.Patients != 2 || s.Patient.WeightKg != ingest.Some(3.1) {
		t.Errorf("%d patients, weight %v", s.Patients, s.Patient.WeightKg)
	}
}

// TestModes takes the bit values of PS3.3 C.8.5.6.1.1 and the region formats and
// data types of C.8.5.5.1.1 and .2.
func TestModes(t *testing.T) {
	region := func(format, data uint16) ingest.Region {
		return ingest.Region{SpatialFormat: ingest.Some(format), DataType: ingest.Some(data)}
	}
	for _, c := range []struct {
		imageType []string
		regions   []ingest.Region
		want      string
	}{
		{[]string{"ORIGINAL", "PRIMARY", "TTE", "0011"}, nil, "2d colour"},
		{[]string{"ORIGINAL", "PRIMARY", "TTE", "0019"}, nil, "2d pw colour"},
		{[]string{"ORIGINAL", "PRIMARY", "", "0202"}, nil, "m-mode tissue"},
		{[]string{"ORIGINAL", "PRIMARY", "", "none"}, nil, ""},
		{[]string{"ORIGINAL", "PRIMARY"}, []ingest.Region{region(1, 1), region(2, 1)}, "2d m-mode"},
		{nil, []ingest.Region{region(1, 2), region(3, 4)}, "cw colour"},
		{nil, []ingest.Region{region(4, 10), region(0, 0)}, ""},
	} {
		got := strings.Join(modesOf(&ingest.Image{ImageType: c.imageType, Regions: c.regions}), " ")
		if got != c.want {
			t.Errorf("%v %v: %q, want %q", c.imageType, len(c.regions), got, c.want)
		}
	}
}

// bounds is a calibrated 2D region in a picture of 320 by 240.
func bounds(x0, y0, x1, y1 ingest.Index) *ingest.Image {
	return &ingest.Image{Columns: 320, Rows: 240, Regions: []ingest.Region{{
		SpatialFormat: ingest.Some(uint16(1)), DataType: ingest.Some(uint16(1)), UnitsX: ingest.Some(uint16(3)), UnitsY: ingest.Some(uint16(3)),
		DeltaX: ingest.Some(-0.02), DeltaY: ingest.Some(0.03), MinX0: ingest.Some(x0), MinY0: ingest.Some(y0), MaxX1: ingest.Some(x1), MaxY1: ingest.Some(y1),
	}}}
}

// TestSuspect holds to the design: more than one pixel outside is suspect, one
// pixel is a bound written as exclusive.
func TestSuspect(t *testing.T) {
	for _, c := range []struct {
		img  *ingest.Image
		want bool
	}{
		{bounds(0, 0, 319, 239), false},
		{bounds(0, 0, 320, 240), false},
		{bounds(0, 0, 321, 239), true},
		{bounds(0, 0, 319, 241), true},
		{bounds(-1, 0, 319, 239), true},
	} {
		r := regionsOf(c.img)[0]
		if (r.Suspect != "") != c.want {
			t.Errorf("%v..%v: suspect %q", r.Raw.MaxX1.Value, r.Raw.MaxY1.Value, r.Suspect)
		}
	}
	// The real clip whose regions reach to 595×414 in a 320×240 picture: 596/320 = 1.8625.
	r := regionsOf(bounds(0, 0, 595, 414))[0]
	if !strings.Contains(r.Suspect, "1.86 times") {
		t.Errorf("suspect %q, want the factor 1.86", r.Suspect)
	}
	if strings.Contains(r.Note, "1.86") {
		t.Errorf("note %q says again what is suspect", r.Note)
	}
}

// TestRegionScale: lengths per pixel come in millimetres without sign, and only
// for axes that are lengths.
func TestRegionScale(t *testing.T) {
	r := regionsOf(bounds(0, 0, 9, 9))[0]
	if r.MMPerPixelX != ingest.Some(0.2) || r.MMPerPixelY != ingest.Some(0.3) || !r.Calibrated || r.UnitsX != "cm" || r.Format != "2D" {
		t.Errorf("%+v", r)
	}
	strip := bounds(0, 0, 9, 9)
	strip.Regions[0].UnitsX = ingest.Some(uint16(4))
	if r := regionsOf(strip)[0]; r.MMPerPixelX.Set || r.UnitsX != "s" {
		t.Errorf("time axis in millimetres: %+v", r)
	}
	grey := &ingest.Image{Regions: []ingest.Region{{UnitsX: ingest.Some(uint16(0)), DeltaX: ingest.Some(0.0)}}}
	if r := regionsOf(grey)[0]; r.Calibrated {
		t.Error("a grey bar counts as calibrated")
	}
}

func TestImageCalibration(t *testing.T) {
	spaced := &ingest.Image{Frames: 1}
	spaced.Spacing.Pixel = ingest.Some([2]float64{0.1, 0.1})
	for want, img := range map[string]*ingest.Image{
		"region": bounds(0, 0, 319, 239), "region (suspect)": bounds(0, 0, 400, 239),
		"pixel-spacing": spaced, "none": {Frames: 1},
	} {
		if got := pictureOf(img).Calibration; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestThermalIndex(t *testing.T) {
	got, kind := thermalIndex(ingest.Acoustic{SoftTissue: ingest.Some(0.4), Cranial: ingest.Some(0.7)})
	if got != ingest.Some(0.7) || kind != "TIC" {
		t.Errorf("%v %s", got, kind)
	}
	if got, kind := thermalIndex(ingest.Acoustic{}); got.Set || kind != "" {
		t.Errorf("absent: %v %s", got, kind)
	}
}

func TestDevicesByImages(t *testing.T) {
	busy := &ingest.Device{Manufacturer: "Orrin", Model: "Tern", Serial: "7"}
	a, b, c := picture("A", "1", 0, ingest.Image{}), picture("A", "2", 1, ingest.Image{}), picture("A", "3", 2, ingest.Image{})
	b.Device, c.Device = busy, busy
	s := Studies([]*ingest.Instance{a, b, c})[0]
	if s.Device != "Orrin Tern 7" || !reflect.DeepEqual(s.Devices, []*ingest.Device{busy, a.Device}) {
		t.Errorf("%q of %d", s.Device, len(s.Devices))
	}
}

// TestViewOfOverlay takes a view from the words of an overlay, whole, where neither
// view code nor view name tells one.
func TestViewOfOverlay(t *testing.T) {
	for _, c := range []struct {
		header        ingest.View
		id, view      string
		source        analyse.ViewSource
		side, fromWho string
	}{
		{ingest.View{OverlayLabel: "A4C"}, "apical-four-chamber", "apical-four-chamber", analyse.ViewOfAnnotation, "", "the label of its overlay"},
		{ingest.View{OverlayDescription: "lung lateral links"}, "lung-lateral", "lung-lateral, left", analyse.ViewOfAnnotation, "left", "the label of its overlay"},
		{ingest.View{OverlayLabel: "A4C of the lighthouse keeper's son"}, "", "", "", "", ""},
		{ingest.View{Name: "PLAX", OverlayLabel: "A4C"}, "parasternal-long-axis", "PLAX", analyse.ViewOfHeader, "", ""},
		{ingest.View{Name: "loop nineteen", OverlayLabel: "A4C"}, "apical-four-chamber", "apical-four-chamber", analyse.ViewOfAnnotation, "", "the label of its overlay"},
		{ingest.View{Name: "loop nineteen"}, "", "loop nineteen", analyse.ViewOfHeader, "", ""},
	} {
		p := Studies([]*ingest.Instance{picture("A", "1", 0, ingest.Image{View: c.header})})[0].Images[0]
		if p.ViewID != c.id || p.View != c.view || p.ViewSource != c.source || p.ViewSide != c.side || p.ViewFrom != c.fromWho {
			t.Errorf("%+v: %q %q %q %q %q", c.header, p.ViewID, p.View, p.ViewSource, p.ViewSide, p.ViewFrom)
		}
	}
}
