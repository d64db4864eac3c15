package main

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/analyse/ruler"
	"leadline/ingest"
)

// byEye is a ruler that was read off a picture by a person, enlarged three to eight
// times beside a scale of rows, on 25 November 2026: the
// rows of the first and the last tick and how many steps lie between them. A row is read
// to half a pixel or so. What a step is stands in the picture: its numbers or its
// printed depth.
type byEye struct {
	first, last float64
	steps       int
	mm          float64
	printed     string
	// ratio is what follows for ruler ÷ header.
	ratio float64
}

// realRulers are the real files with a ruler along the depth that are unpacked.
var realRulers = map[string]byEye{
	"data_store__data__OBXXXX1A.dcm":                         {97, 516, 11, 10, "11cm; every fifth mark blue and longer", 38.09 / 38.126},
	"data_store__data__gdcm-US-ALOKA-16.dcm":                 {23.9, 414.9, 15, 10, "R15; every fifth mark longer", 26.07 / 26.133},
	"deid_data__data__ultrasounds__RGB_IMAGE.dcm":            {91, 763, 16, 10, "16cm; every fifth mark a large diamond", 42.00 / 42.040},
	"examples__I_000031.dcm":                                 {75.5, 507.5, 14, 10, "0, 5 and 10 beside every fifth mark", 30.86 / 30.857},
	"src__pydicom__data__test_files__examples_ybr_color.dcm": {31, 197.6, 17, 10, "19 below the last mark; every fifth mark larger", 9.80 / 19.589},
}

// realSilent are all others, with what a person sees in them: no ruler along the depth,
// or one that the program leaves alone, or a form that is not unpacked.
var realSilent = map[string]struct {
	seen   string
	status ruler.Status
}{
	"Tests__FO-DICOM.Tests__Test_Data__GH364.dcm":                       {"JPEG-LS", ruler.NotDecoded},
	"data_store__data__JPGLosslessP14SV1_1s_1f_8b.dcm":                  {"JPEG lossless; dots along a slanting beam", ruler.NotDecoded},
	"dcm4che-test-data__src__main__resources__will-jxl.dcm":             {"JPEG XL", ruler.NotDecoded},
	"ljdata__ds__JPEGLosslessSV1__JPEGLosslessP14SV1_3s_2f_u_08_08.dcm": {"JPEG lossless; ticks with numbers, dark on light", ruler.NotDecoded},
	"data_store__data__US1_UNCR.dcm":                                    {"four marks 78 pixels apart, and four arrows of focus", ruler.None},
	"data_store__data__color-px.dcm":                                    {"dots along a slanting edge", ruler.None},
	"examples__I_000001.dcm":                                            {"dots along a slanting edge", ruler.None},
	"examples__I_000012.dcm":                                            {"dots along both slanting edges", ruler.None},
	"examples__I_000018.dcm":                                            {"dots along both slanting edges", ruler.None},
	"examples__I_000034.dcm":                                            {"three dots of 5 cm beside the picture; a strip with ticks of its own", ruler.None},
	"examples__I_000038.dcm":                                            {"four dots of 5 cm; a spectrum with a scale of its own", ruler.None},
	"examples__I_000039.dcm":                                            {"four dots of 5 cm; a spectrum with a scale of its own", ruler.None},
	"examples__test-images__no-pixel-spacing.dcm":                       {"dots along a slanting edge", ruler.None},
	"src__pydicom__data__test_files__ExplVR_BigEnd.dcm":                 {"no ruler", ruler.None},
	"testImages__encapsulated__multi-frame__IM00001.fragmented_no_bot_jpeg_baseline.50.dcm": {"dots along slanting edges", ruler.None},
	"tests__test_dicom__US-MONO2-8-8x-execho.dcm":                                           {"no ruler", ruler.None},
}

// eyeTolerance is how far a pitch read by eye may lie off: half a pixel at either end.
const eyeTolerance = 1.0

// TestRealRulers: every real ultrasound picture is right or silent, as listed, and none
// is left out of the lists.
func TestRealRulers(t *testing.T) {
	needReal(t)
	archive, err := ingest.Load(context.Background(), []string{filepath.Join(realDir, "real/us")}, ingest.Options{Pictures: true})
	if err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, audit.Options{FirstFrame: archive.FirstFrame})
	if err != nil {
		t.Fatal(err)
	}
	right, silent := 0, 0
	for _, s := range result.Studies {
		for _, img := range s.Images {
			name := filepath.Base(img.Path)
			if img.Ruler == nil {
				t.Errorf("%s: not looked at", name)
				continue
			}
			if want, ok := realRulers[name]; ok {
				right += holdToEye(t, name, want, img.Ruler)
				continue
			}
			want, listed := realSilent[name]
			if !listed || img.Ruler.Status != want.status {
				t.Errorf("%s (%s): %+v, want %s", name, want.seen, *img.Ruler.Reading, want.status)
				continue
			}
			silent++
		}
	}
	t.Logf("%d right, %d silent, of %d and %d", right, silent, len(realRulers), len(realSilent))
	if right != len(realRulers) || silent != len(realSilent) {
		t.Error("some of the pictures were not met")
	}
}

func holdToEye(t *testing.T, name string, want byEye, got *analyse.Ruler) int {
	t.Helper()
	pitch := (want.last - want.first) / float64(want.steps)
	off := eyeTolerance / float64(want.steps)
	switch {
	case got.Status != ruler.Read, got.StepMM != want.mm:
		t.Errorf("%s: %+v, by eye steps of %v mm", name, *got.Reading, want.mm)
	case math.Abs(got.Pitch-pitch) > off, math.Abs(got.Ratio.Value-want.ratio) > off/pitch+0.001:
		t.Errorf("%s: pitch %.3f and ratio %.4f, by eye %.3f and %.4f", name, got.Pitch, got.Ratio.Value, pitch, want.ratio)
	default:
		t.Logf("%s: pitch %.3f ± %.3f, by eye %.2f; ruler ÷ header %.4f", name, got.Pitch, 2*got.U.Value*got.HeaderPerCM.Value*got.StepMM/10, pitch, got.Ratio.Value)
		return 1
	}
	return 0
}
