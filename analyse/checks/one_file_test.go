package checks

import (
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/analyse/ruler"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

// The regions of sound, by their place.
const (
	picture2D = iota
	stripM
	stripPW
	traceECG
)

func index(v int64) ingest.Optional[ingest.Index] { return ingest.Some(ingest.Index(v)) }

func code(v uint16) ingest.Optional[uint16] { return ingest.Some(v) }

// boxed is a region with whole bounds, a reference pixel and a zero there.
func boxed(format, data uint16, x0, y0, x1, y1, refX, refY int64, unitX, unitY uint16, deltaX, deltaY float64) ingest.Region {
	return ingest.Region{
		SpatialFormat: code(format), DataType: code(data), Flags: ingest.Some(uint32(0)),
		MinX0: index(x0), MinY0: index(y0), MaxX1: index(x1), MaxY1: index(y1), RefX0: index(refX), RefY0: index(refY),
		UnitsX: code(unitX), UnitsY: code(unitY), RefValueX: ingest.Some(0.0), RefValueY: ingest.Some(0.0),
		DeltaX: ingest.Some(deltaX), DeltaY: ingest.Some(deltaY),
	}
}

// sound is a clip about which no check has anything to say: a picture of 8 cm, an
// M-mode strip and a spectrum of 2.4 s, and a trace.
func sound() *ingest.Instance {
	img := &ingest.Image{
		Rows: 800, Columns: 640, Frames: 30, ImageType: []string{"ORIGINAL", "PRIMARY"}, BurnedIn: "NO",
		DepthMM: ingest.Some(80.0), Lossy: ingest.Lossy{Compressed: "01", Ratios: []float64{12}},
		Timing: ingest.Timing{
			FrameTimeMS: ingest.Some(33.333), CineRateHz: ingest.Some(30.0),
			EffectiveDurationS: ingest.Some(1.0), ActualFrameDurationMS: ingest.Some(33.0),
		},
		Regions: []ingest.Region{
			boxed(ingest.Format2D, 1, 100, 60, 499, 459, 200, 0, ingest.UnitCM, ingest.UnitCM, 0.02, 0.02),
			boxed(ingest.FormatMMode, 1, 20, 480, 619, 579, 599, 0, ingest.UnitSecond, ingest.UnitCM, 0.004, 0.08),
			boxed(ingest.FormatSpectral, 3, 20, 590, 619, 689, 599, 60, ingest.UnitSecond, ingest.UnitCMPerS, 0.004, -2),
			boxed(ingest.FormatWaveform, 10, 20, 700, 619, 749, 599, 20, ingest.UnitSecond, ingest.UnitNone, 0.004, 0),
		},
	}
	for i := range img.Regions {
		img.Regions[i].Ordinal = i + 1
	}
	// 200 cm/s at 5 MHz need a PRF of 200 · 2 · 5e6 / 154000 = 12987 Hz.
	img.Regions[stripPW].FrequencyKHz, img.Regions[stripPW].PRFHz = ingest.Some(5000.0), ingest.Some(12987.0)
	return &ingest.Instance{
		SOPClassUID: "1.2.840.10008.5.1.4.1.1.3.1", SOPInstanceUID: "2.25.1", TransferSyntaxUID: "1.2.840.10008.1.2.4.50",
		Image: img, Study: &ingest.Study{UID: "2.25.2"}, Series: &ingest.Series{Modality: "US"},
		Patient: &ingest.Patient{ID: "P"}, Device: &ingest.Device{},
	}
}

// TestOneFile changes one thing about a sound clip and wants the findings named, in
// any order, and no other: none for the near misses.
func TestOneFile(t *testing.T) {
	region := func(place int, change func(*ingest.Region)) func(*ingest.Instance) {
		return func(inst *ingest.Instance) { change(&inst.Image.Regions[place]) }
	}
	timing := func(change func(*ingest.Timing)) func(*ingest.Instance) {
		return func(inst *ingest.Instance) { change(&inst.Image.Timing) }
	}
	for _, c := range []struct {
		name   string
		change func(*ingest.Instance)
		want   string // ids, separated by blanks
		says   string // a part of the message of the first
	}{
		{"sound", func(*ingest.Instance) {}, "", ""},

		{"reduced after calibration", func(inst *ingest.Instance) { inst.Image.Rows, inst.Image.Columns = 400, 320 }, "region-outside-image", "(and 3 more regions)"},
		{"two pixels outside", region(stripM, func(r *ingest.Region) { r.MaxX1 = index(641) }), "region-outside-image", "column 641"},
		{"one pixel outside", region(stripM, func(r *ingest.Region) { r.MaxX1 = index(640) }), "region-bound-exclusive", "ends at column 640"},
		{"to the last pixel", region(stripM, func(r *ingest.Region) { r.MaxX1 = index(639) }), "", ""},

		{"unit without delta", region(picture2D, func(r *ingest.Region) { r.DeltaX = ingest.Optional[float64]{} }), "region-incomplete", "horizontal axis"},
		{"delta of 0", region(stripM, func(r *ingest.Region) { r.DeltaY.Value = 0 }), "region-incomplete", "vertical axis"},
		{"scale without bounds", region(stripM, func(r *ingest.Region) { r.MaxY1 = ingest.Optional[ingest.Index]{} }), "region-incomplete", "no complete bounds"},
		{"no unit and delta 0", region(traceECG, func(r *ingest.Region) { r.UnitsX, r.DeltaX.Value = code(ingest.UnitNone), 0 }), "", ""},

		{"spectrum upside down", region(stripPW, func(r *ingest.Region) { r.DeltaY.Value = 2 }), "spectral-sign", "positive"},
		{"strip with depths below 0", region(stripM, func(r *ingest.Region) { r.DeltaY.Value = -0.08 }), "reference-pixel-misplaced", "every depth would be negative"},
		{"strip upside down", region(stripM, func(r *ingest.Region) { r.DeltaY.Value, r.RefY0 = -0.08, index(99) }), "", ""},
		{"picture with depths below 0", region(picture2D, func(r *ingest.Region) { r.DeltaY.Value = -0.02 }), "reference-pixel-misplaced", "row 60"},
		{"picture upside down", region(picture2D, func(r *ingest.Region) { r.DeltaY.Value, r.RefY0 = -0.02, index(399) }), "", ""},
		{"picture upside down without a zero", region(picture2D, func(r *ingest.Region) { r.DeltaY.Value, r.RefY0 = -0.02, ingest.Optional[ingest.Index]{} }), "", ""},

		{"no scale", func(inst *ingest.Instance) { inst.Image.Regions = nil }, "calibration-missing", ""},
		{"no scale of a photograph", func(inst *ingest.Instance) { inst.Image.Regions, inst.Series.Modality = nil, "XC" }, "", ""},
		{"spacing alone", func(inst *ingest.Instance) {
			inst.Image.Regions, inst.Image.Spacing.Pixel = nil, ingest.Some([2]float64{0.2, 0.2})
		}, "", ""},
		{"regions lie bare", func(inst *ingest.Instance) { inst.Image.RegionsBare = true }, "region-sequence-lost", "lie bare"},
		{"a value that is none", func(inst *ingest.Instance) {
			inst.Problems = []ingest.Problem{{Tag: dcm.MechanicalIndex, Expected: "a number"}}
		}, "header-value-unreadable", "(0018,5022) (expected a number)"},

		{"one column", region(traceECG, func(r *ingest.Region) { r.MaxX1 = r.MinX0 }), "region-bounds-empty", "columns 20 to 20"},
		{"upside down", region(traceECG, func(r *ingest.Region) { r.MaxY1 = index(600) }), "region-bounds-empty", "wrong way round"},
		{"one column without scale", region(traceECG, func(r *ingest.Region) { r.MaxX1, r.UnitsX = r.MinX0, code(0) }), "", ""},
		{"two columns wide sub-strip", func(inst *ingest.Instance) {
			rest := inst.Image.Regions[traceECG]
			inst.Image.Regions[traceECG].MaxX1, rest.MinX0, rest.RefX0 = index(21), index(22), index(597)
			inst.Image.Regions = append(inst.Image.Regions, rest)
		}, "", ""},

		{"spectrum in cm", region(stripPW, func(r *ingest.Region) { r.UnitsY = code(ingest.UnitCM) }), "region-unit-unfit", "spectral"},
		{"picture in degrees", region(picture2D, func(r *ingest.Region) { r.UnitsX = code(ingest.UnitDegree) }), "region-unit-unfit", "horizontal unit is deg"},
		{"area trace in cm2", region(traceECG, func(r *ingest.Region) {
			r.DataType, r.UnitsY, r.DeltaY = code(16), code(ingest.UnitCM2), ingest.Some(0.1)
		}), "", ""},
		{"area trace in cm3", region(traceECG, func(r *ingest.Region) {
			r.DataType, r.UnitsY, r.DeltaY = code(16), code(ingest.UnitCM3), ingest.Some(0.1)
		}), "region-unit-unfit", "cm3"},

		{"time to the left", region(stripM, func(r *ingest.Region) { r.DeltaX.Value = -0.004 }), "region-time-backward", "-0.004 s"},
		{"mirrored picture", region(picture2D, func(r *ingest.Region) { r.DeltaX.Value = -0.02 }), "", ""},

		{"mm for cm", region(picture2D, func(r *ingest.Region) { r.DeltaX.Value, r.DeltaY.Value = 0.2, 0.2 }),
			"region-size-implausible scan-depth-disagrees strip-depth-disagrees", "80 cm deep"},
		{"deep but possible", func(inst *ingest.Instance) {
			inst.Image.Regions = inst.Image.Regions[:1]
			r := &inst.Image.Regions[0]
			r.DeltaX.Value, r.DeltaY.Value, inst.Image.DepthMM.Value = 0.1, 0.1, 400
		}, "", ""},
		{"m/s for cm/s", region(stripPW, func(r *ingest.Region) { r.DeltaY.Value = -0.015 }), "region-size-implausible doppler-scale-implausible", "velocity range of 1.5 cm/s"},

		{"depth 4 mm off", func(inst *ingest.Instance) { inst.Image.DepthMM.Value = 84 }, "", ""},
		{"depth 6 mm off", func(inst *ingest.Instance) { inst.Image.DepthMM.Value = 86 }, "scan-depth-disagrees", "86 mm"},
		{"a margin of 14 %", func(inst *ingest.Instance) { inst.Image.DepthMM.Value = 70 }, "", ""},
		{"kept at four fifths", func(inst *ingest.Instance) { inst.Image.DepthMM.Value = 64 }, "scan-depth-disagrees", "1.25 times"},
		{"enlarged picture", func(inst *ingest.Instance) {
			inst.Image.Regions = inst.Image.Regions[:1]
			inst.Image.Regions[0].RefY0, inst.Image.DepthMM.Value = index(-200), 150
		}, "", ""},

		{"strip 10 % deeper", region(stripM, func(r *ingest.Region) { r.DeltaY.Value = 0.088 }), "strip-depth-disagrees", "8.8 cm"},
		{"strip 4 % deeper", region(stripM, func(r *ingest.Region) { r.DeltaY.Value = 0.0832 }), "", ""},
		{"strip 10 % shallower", region(stripM, func(r *ingest.Region) { r.DeltaY.Value = 0.072 }), "strip-depth-disagrees", "7.2 cm"},
		{"enlarged strip", region(stripM, func(r *ingest.Region) { r.DeltaY.Value, r.RefY0 = 0.04, index(-30) }), "", ""},
		{"shallow strip without zero", region(stripM, func(r *ingest.Region) { r.DeltaY.Value, r.RefY0 = 0.04, ingest.Optional[ingest.Index]{} }), "", ""},

		{"strip of 66 s", region(stripM, func(r *ingest.Region) { r.DeltaX.Value = 0.11 }), "strip-width-implausible", "66 s wide"},
		{"strip of 54 s", region(stripM, func(r *ingest.Region) { r.DeltaX.Value = 0.09 }), "", ""},
		{"strip of 0.3 s", region(traceECG, func(r *ingest.Region) { r.DeltaX.Value = 0.0005 }), "strip-width-implausible", "0.3 s"},

		{"wide pixels", region(picture2D, func(r *ingest.Region) { r.DeltaX.Value = 0.025 }), "pixel-shape-unexplained", "0.8 times"},
		{"wide pixels explained", func(inst *ingest.Instance) {
			inst.Image.Regions[picture2D].DeltaX.Value = 0.025
			inst.Image.Spacing.AspectRatio = ingest.Some([2]int{4, 5})
		}, "", ""},
		{"aspect changed over", func(inst *ingest.Instance) {
			inst.Image.Regions[picture2D].DeltaX.Value = 0.025
			inst.Image.Spacing.AspectRatio = ingest.Some([2]int{5, 4})
		}, "pixel-shape-unexplained", "the other way round"},
		{"0.5 % off square", region(picture2D, func(r *ingest.Region) { r.DeltaX.Value = 0.0201 }), "", ""},

		{"wrapped", region(picture2D, func(r *ingest.Region) { r.RefY0 = index(65525) }), "reference-pixel-misplaced", "65525 is -11"},
		{"above the picture", region(picture2D, func(r *ingest.Region) { r.RefY0 = index(-11) }), "", ""},
		{"picture's corner in 2D", region(picture2D, func(r *ingest.Region) { r.RefX0, r.RefY0 = index(300), index(60) }), "reference-pixel-misplaced", "from the corner of the picture"},
		{"off the middle", region(picture2D, func(r *ingest.Region) { r.RefX0, r.RefY0 = index(280), index(20) }), "", ""},
		{"baseline counted from the picture", region(stripPW, func(r *ingest.Region) { r.RefX0, r.RefY0 = index(619), index(650) }), "reference-pixel-misplaced", "619, 650"},
		{"baseline below the strip", region(stripPW, func(r *ingest.Region) { r.RefY0 = index(120) }), "reference-pixel-misplaced", "row 710"},
		{"baseline at the edge", region(stripPW, func(r *ingest.Region) { r.RefY0 = index(99) }), "", ""},
		{"reference off the baseline, with its value", region(stripPW, func(r *ingest.Region) { r.RefY0, r.RefValueY.Value = index(120), -120 }), "", ""},
		{"depth 0 below the strip", region(stripM, func(r *ingest.Region) { r.RefY0 = index(130) }), "reference-pixel-misplaced", "row 610"},
		{"first pixel of the picture, in M-mode", region(stripM, func(r *ingest.Region) { r.RefX0, r.RefY0 = index(-20), index(-480) }), "reference-pixel-misplaced", "first pixel"},
		{"trace counted from the picture", region(traceECG, func(r *ingest.Region) { r.RefX0, r.RefY0 = index(619), index(720) }), "trace-reference-misplaced", "619, 720"},
		{"first pixel of the picture", region(traceECG, func(r *ingest.Region) { r.RefX0, r.RefY0 = index(-20), index(-700) }), "trace-reference-misplaced", "first pixel"},

		{"spacing agrees", func(inst *ingest.Instance) { inst.Image.Spacing.Pixel = ingest.Some([2]float64{0.2, 0.2}) }, "", ""},
		{"spacing in cm", func(inst *ingest.Instance) { inst.Image.Spacing.Pixel = ingest.Some([2]float64{0.02, 0.02}) }, "spacing-disagrees", "factor of 10"},
		{"spacing changed over", func(inst *ingest.Instance) {
			inst.Image.Regions[picture2D].DeltaX.Value = 0.025
			inst.Image.Spacing.Pixel = ingest.Some([2]float64{0.25, 0.2})
		}, "spacing-disagrees", "changed over"},
		{"resampled", func(inst *ingest.Instance) { inst.Image.Spacing.Pixel = ingest.Some([2]float64{0.4, 0.4}) }, "spacing-disagrees", "one factor of 0.5"},
		{"stretched", func(inst *ingest.Instance) { inst.Image.Spacing.Pixel = ingest.Some([2]float64{0.4, 0.3}) }, "spacing-disagrees", "no plain resampling"},

		{"10 % beyond the limit", region(stripPW, func(r *ingest.Region) { r.PRFHz.Value = 11800 }), "doppler-scale-implausible", "181.7 cm/s"},
		{"4 % beyond the limit", region(stripPW, func(r *ingest.Region) { r.PRFHz.Value = 12500 }), "", ""},
		{"explained by the angle", region(stripPW, func(r *ingest.Region) { r.PRFHz.Value, r.DopplerAngleDeg = 6500, ingest.Some(60.0) }), "", ""},
		{"continuous wave", region(stripPW, func(r *ingest.Region) { r.PRFHz.Value, r.DataType = 1000, code(4) }), "", ""},
		{"half of the range shown", region(stripPW, func(r *ingest.Region) { r.PRFHz.Value = 26000 }), "", ""},
		{"hertz beyond the PRF", region(stripPW, func(r *ingest.Region) {
			r.UnitsY, r.Flags.Value, r.DeltaY.Value = code(ingest.UnitHertz), 4, -200
		}), "doppler-scale-implausible", "PRF of 12987 Hz"},

		{"flag of frequencies", region(stripPW, func(r *ingest.Region) { r.Flags.Value = 4 }), "doppler-scale-flag", "flag says frequency"},
		{"flag of velocities", region(stripPW, func(r *ingest.Region) { r.UnitsY, r.DeltaY.Value = code(ingest.UnitHertz), -100 }), "doppler-scale-flag", "unit Hz"},
		{"other flags", region(stripPW, func(r *ingest.Region) { r.Flags.Value = 0b11011 }), "", ""},

		{"frame time 0", timing(func(v *ingest.Timing) { v.FrameTimeMS.Value = 0 }), "frame-time-zero", "0 ms in a clip of 30 frames"},
		{"frame time 0 and nothing else", timing(func(v *ingest.Timing) { *v = ingest.Timing{FrameTimeMS: ingest.Some(0.0)} }), "frame-timing-missing", ""},
		{"slices without times", func(inst *ingest.Instance) {
			inst.Series.Modality, inst.Image.Timing = "MR", ingest.Timing{}
		}, "", ""},
		{"frame time 0 of a still", func(inst *ingest.Instance) {
			inst.Image.Frames, inst.Image.Timing = 1, ingest.Timing{FrameTimeMS: ingest.Some(0.0)}
		}, "", ""},
		{"vector against cine rate", timing(func(v *ingest.Timing) {
			*v = ingest.Timing{CineRateHz: ingest.Some(30.0), FrameTimeVectorMS: slices.Repeat([]float64{20}, 30)}
		}), "frame-timing-contradicts", "the frame times used 50"},
		{"vector with a first step", timing(func(v *ingest.Timing) {
			*v = ingest.Timing{CineRateHz: ingest.Some(30.0), FrameTimeVectorMS: slices.Repeat([]float64{33}, 30)}
		}), "", ""},
		{"effective duration of the whole", timing(func(v *ingest.Timing) { v.EffectiveDurationS.Value = 2 }), "frame-timing-contradicts", "Effective Duration says 2 s"},
		{"effective duration a frame short", timing(func(v *ingest.Timing) { v.EffectiveDurationS.Value = 0.9667 }), "", ""},
		{"frames that took longer", timing(func(v *ingest.Timing) { v.ActualFrameDurationMS.Value = 40 }), "frame-timing-contradicts", "took 40 ms"},
		{"frame duration rounded up", timing(func(v *ingest.Timing) { v.ActualFrameDurationMS.Value = 34 }), "", ""},

		{"two scales in one place", func(inst *ingest.Instance) {
			other := inst.Image.Regions[picture2D]
			other.DeltaX.Value, other.DeltaY.Value = 0.019, 0.019
			inst.Image.Regions = append(inst.Image.Regions, other)
		}, "regions-disagree", "differ in scale"},

		{"compressed twice", func(inst *ingest.Instance) { inst.Image.Lossy.Ratios = []float64{8, 12} }, "lossy-history", "2 times"},
		{"compressed strongly", func(inst *ingest.Instance) { inst.Image.Lossy.Ratios = []float64{41} }, "lossy-history", "41 to 1"},
		{"a video compressed strongly", func(inst *ingest.Instance) {
			inst.TransferSyntaxUID, inst.Image.Lossy.Ratios = "1.2.840.10008.1.2.4.102", []float64{60}
		}, "", ""},
		{"flag missing", func(inst *ingest.Instance) { inst.Image.Lossy.Compressed = "" }, "lossy-history", "the flag is missing"},
		{"flag denies", func(inst *ingest.Instance) { inst.Image.Lossy.Compressed = "00" }, "lossy-history", "nothing was lost"},
		{"loss hidden", func(inst *ingest.Instance) { inst.TransferSyntaxUID = "1.2.840.10008.1.2.1" }, "lossy-history", "stored without loss now"},
		{"loss not known", func(inst *ingest.Instance) { inst.TransferSyntaxUID = "1.2.840.10008.1.2.4.91" }, "", ""},
		{"never lost", func(inst *ingest.Instance) {
			inst.TransferSyntaxUID, inst.Image.Lossy = "1.2.840.10008.1.2.5", ingest.Lossy{Compressed: "00"}
		}, "", ""},

		{"secondary capture", func(inst *ingest.Instance) { inst.SOPClassUID = "1.2.840.10008.5.1.4.1.1.7.4" }, "secondary-capture", "1 of a Secondary Capture class"},
		{"a class that begins alike", func(inst *ingest.Instance) { inst.SOPClassUID = "1.2.840.10008.5.1.4.1.1.77.1" }, "", ""},
		{"made afterwards", func(inst *ingest.Instance) { inst.Image.ImageType = []string{"DERIVED", "SECONDARY"} }, "secondary-capture", "1 named SECONDARY"},
		{"derived", func(inst *ingest.Instance) { inst.Image.ImageType = []string{"DERIVED", "PRIMARY"} }, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			inst := sound()
			c.change(inst)
			wantFindings(t, Run(assemble.Studies([]*ingest.Instance{inst})[0]), strings.Fields(c.want), c.says)
		})
	}
}

func wantFindings(t *testing.T, findings []analyse.Finding, want []string, says string) {
	t.Helper()
	var got []string
	for _, f := range findings {
		got = append(got, f.ID)
		if len(want) > 0 && f.ID == want[0] && !strings.Contains(f.Message, says) {
			t.Errorf("%s says %q, expected %q in it", f.ID, f.Message, says)
		}
	}
	slices.Sort(got)
	want = slices.Sorted(slices.Values(want))
	if !slices.Equal(got, want) {
		t.Errorf("findings %q, expected %q", got, want)
	}
}

// TestBurnedInNotSaid counts ultrasound pictures that say neither YES nor NO.
func TestBurnedInNotSaid(t *testing.T) {
	study := func(modality string, said ...string) *analyse.Study {
		s := &analyse.Study{}
		for _, b := range said {
			inst := sound()
			inst.Image.BurnedIn, inst.Series.Modality = b, modality
			s.Images = append(s.Images, &analyse.Image{Instance: inst})
		}
		return s
	}
	for _, c := range []struct {
		studies []*analyse.Study
		want    string
	}{
		{nil, ""},
		{[]*analyse.Study{study("US", "YES", "NO"), study("CT", "")}, ""},
		{[]*analyse.Study{study("US", "YES", "", "MAYBE"), study("US", "NO"), study("CT", "")},
			"2 of 4 ultrasound pictures, in 1 of 3 studies, do not say whether text is burned in"},
	} {
		if got := BurnedInNotSaid(c.studies); got != c.want {
			t.Errorf("%q, expected %q", got, c.want)
		}
	}
}

// TestManyRegions wants one finding of an image with as many regions as are read, and
// the others counted in it.
func TestManyRegions(t *testing.T) {
	inst := sound()
	strip := inst.Image.Regions[stripM]
	strip.DeltaY.Value = 0.16
	inst.Image.Regions = inst.Image.Regions[:1]
	for range 999 {
		inst.Image.Regions = append(inst.Image.Regions, strip)
	}
	findings := Run(assemble.Studies([]*ingest.Instance{inst})[0])
	if len(findings) != 1 || findings[0].ID != "strip-depth-disagrees" || !strings.Contains(findings[0].Message, "(and 998 more regions)") {
		t.Errorf("findings %+v", findings)
	}
}

// read is a picture whose ruler of so many steps of 1 cm was read.
func read(steps int, ratio, u float64) *analyse.Image {
	return &analyse.Image{Ruler: &analyse.Ruler{
		Reading: &ruler.Reading{Status: ruler.Read, StepMM: 10, Pitch: 40 * ratio, U: 40 * u, Ticks: steps + 1, Expected: steps + 1},
		From:    analyse.CalibrationRegion, HeaderPerCM: ingest.Some(40.0), Ratio: ingest.Some(ratio), U: ingest.Some(u),
	}}
}

// TestRulerContradicts: the action level is 1.5 mm or 1.5 % of the ruler, whichever is
// larger, and twice the standard uncertainty comes on top.
func TestRulerContradicts(t *testing.T) {
	for _, c := range []struct {
		img  *analyse.Image
		want string
	}{
		{read(20, 1.014, 0), ""},
		{read(20, 1.016, 0), "over the 200 mm of the ruler the header makes 203.2 mm"},
		{read(20, 0.984, 0), "ruler ÷ header 0.984"},
		{read(20, 1.016, 0.001), ""},
		{read(5, 1.029, 0), ""},
		{read(5, 0.969, 0), "pixels to a centimetre"},
		{&analyse.Image{}, ""},
		{&analyse.Image{Ruler: &analyse.Ruler{Reading: &ruler.Reading{Status: ruler.Uncertain}}}, ""},
	} {
		got := rulerContradictsScale(c.img)
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestRulerOffers: an estimate is a finding, a ruler beside a scale is none.
func TestRulerOffers(t *testing.T) {
	img := read(8, 1, 0)
	if got := rulerOffersScale(img); got != "" {
		t.Error(got)
	}
	img.Ruler.EstimatedMM, img.Ruler.EstimatedU = ingest.Some(0.25), ingest.Some(0.0001)
	if got := rulerOffersScale(img); !strings.HasPrefix(got, "estimated 0.25 ± 0.0002 mm to a pixel") {
		t.Error(got)
	}
}

// TestNotDecoded counts by reason, the most frequent first.
func TestNotDecoded(t *testing.T) {
	study := func(reasons ...string) *analyse.Study {
		s := &analyse.Study{Images: []*analyse.Image{{}, read(8, 1, 0)}}
		for _, reason := range reasons {
			s.Images = append(s.Images, &analyse.Image{Ruler: &analyse.Ruler{Reading: &ruler.Reading{Status: ruler.NotDecoded, Note: reason}}})
		}
		return s
	}
	if got := NotDecoded([]*analyse.Study{study()}); got != "" {
		t.Error(got)
	}
	want := "4 of 6 pictures not unpacked: JPEG 2000 (2), JPEG-LS (1), MPEG-4 (1)"
	if got := NotDecoded([]*analyse.Study{study("MPEG-4", "JPEG 2000"), study("JPEG 2000", "JPEG-LS")}); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	many := NotDecoded([]*analyse.Study{study("a", "b", "c", "d", "e", "f", "g", "h", "i", "j")})
	if !strings.HasSuffix(many, "h (1), and for 2 more reasons") {
		t.Error(many)
	}
}
