package rebuild

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// Each case is one row of a caliper table on one image of the sample; want is
// "quantity value unit verdict [reason]" for every row that comes of it. The
// arithmetic stands beside the case.
var tableCases = []struct{ name, image, row, want, note string }{
	// 2D at 0.1 mm: 30 by 40 pixels are 5 mm.
	{"distance", "mmode", "line|100,100 130,140|5.0|mm|", "distance 5 mm agrees", ""},
	{"distance in cm", "mmode", "line|100,100 130,140|0.50|cm|", "distance 5 mm agrees", ""},
	{"distance that differs", "mmode", "line|100,100 130,140|6.0|mm|", "distance 5 mm differs", ""},
	{"distance ten times", "mmode", "line|100,100 130,140|5.0|cm|", "distance 5 mm differs", ""},
	{"no value", "mmode", "line|100,100 130,140||mm|", "distance 5 mm rebuilt-only", ""},
	{"by measure", "mmode", "line|100,100 130,140|||LVIDd", "distance 5 mm rebuilt-only", ""},
	{"polyline of two points", "mmode", "polyline|100,100 130,140|5.0|mm|", "distance 5 mm agrees", ""},
	{"path", "mmode", "polyline|100,100 130,100 130,140|7.0|mm|", "length 7 mm agrees", ""},
	{"closed path", "mmode", "polyline|100,100 130,100 130,140 100,100|6.0|mm2|", "area 6 mm2 agrees", ""},
	{"open outline of an area", "mmode", "polyline|100,100 130,100 130,140|6.0|mm2|", "area 6 mm2 agrees", "its ends were joined"},
	{"area in cm2", "mmode", "polygon|100,100 130,100 130,140|0.06|cm2|", "area 6 mm2 agrees", ""},
	{"perimeter", "mmode", "polygon|100,100 130,100 130,140|12.0|mm|", "perimeter 12 mm agrees", ""},
	{"polygon, nothing known", "mmode", "polygon|100,100 130,100 130,140|||", "area 6 mm2 rebuilt-only", ""},
	// π/4·24·18.
	{"ellipse", "mmode", "ellipse|100,200 340,200 220,110 220,290|339|mm2|", "area 339.292 mm2 agrees", ""},
	{"ellipse circumference", "mmode", "ellipse|100,200 340,200 220,110 220,290|66.3|mm|", "perimeter 66.3105 mm agrees", ""},
	{"circle", "mmode", "circle|100,100 130,140|78.5|mm2|", "area 78.5398 mm2 agrees", ""},
	{"circle circumference", "mmode", "circle|100,100 130,140|31.4|mm|", "perimeter 31.4159 mm agrees", ""},
	{"circle diameter by measure", "mmode", "circle|100,100 130,140|10.0|mm|duct diameter", "distance 10 mm agrees", ""},
	// 30·0.1 = 3 mm by 40·0.2 = 8 mm: √73.
	{"distance, pixels not square", "oblong", "line|100,100 130,140|8.54|mm|", "distance 8.544 mm agrees", ""},
	{"circle diameter, pixels not square", "oblong", "circle|100,100 130,140|10.0|mm|duct diameter", "distance not-rebuilt unit-does-not-fit", "not square"},
	{"angle", "mmode", "polyline|400,100 100,100 400,250|27|deg|", "angle 26.5651 deg agrees", ""},
	{"angle of two lines", "mmode", "polyline|100,100 200,100 150,150 250,250|45|deg|", "angle 45 deg agrees", ""},
	{"angle of five points", "mmode", "polyline|1,1 2,2 3,1 4,4 5,1|45|deg|", "angle not-rebuilt unit-does-not-fit", "three points or four"},
	// M-mode: 60 columns·0.005 s, 30 rows·0.2 mm.
	{"two quantities of a line in a strip", "mmode", "line|100,350 160,380|||", "duration 0.3 s rebuilt-only; depth-difference 6 mm rebuilt-only", ""},
	{"duration by unit", "mmode", "line|100,350 160,380|300|ms|", "duration 0.3 s agrees", ""},
	{"depth by unit", "mmode", "line|100,350 160,380|6.0|mm|", "depth-difference 6 mm agrees", ""},
	{"a distance in a strip is a depth difference", "mmode", "line|100,350 160,380|||LVIDd", "depth-difference 6 mm rebuilt-only", ""},
	{"excursion", "mmode", "line|100,350 160,380|6.0|mm|TAPSE", "depth-difference 6 mm agrees", ""},
	// 6 mm in 0.3 s.
	{"slope", "mmode", "line|100,350 160,380|2.0|cm/s|", "slope 2 cm/s agrees", ""},
	{"slope, sign as the author likes", "mmode", "line|100,350 160,380|-2.0|cm/s|", "slope 2 cm/s agrees", "without sign"},
	// check-values.md row 14: 60 ÷ RR; 60 columns are 0.3 s.
	{"rate by unit and measure", "mmode", "line|100,350 160,380|200|bpm|HR", "rate 200 /min agrees", "taken as one cycle"},
	{"rate by unit", "mmode", "line|100,350 160,380|200|/min|", "rate 200 /min agrees", "taken as one cycle"},
	{"rate by measure", "mmode", "line|160,350 100,380|||heart rate", "rate 200 /min rebuilt-only", "taken as one cycle"},
	{"rate of another", "mmode", "line|100,350 160,380|140|/min|HR", "rate 200 /min differs", ""},
	{"rate of two beats", "mmode", "line|100,350 160,380|400|/min|HR", "rate 400 /min agrees", "taken as 2 cycles, by which"},
	{"rate of six beats", "mmode", "line|100,350 160,380|1200|/min|HR", "rate 200 /min differs", "taken as one cycle"},
	{"rate without duration", "mmode", "line|100,350 100,380|140|/min|HR", "rate not-rebuilt caliper-degenerate", "coincide"},
	{"rate on a picture", "mmode", "line|100,50 160,80|140|/min|HR", "rate not-rebuilt unit-does-not-fit", "no such quantity"},
	// A score of the pictures, with a point where it was read.
	{"score", "mmode", "point|100,50|2|1|lung score left lateral", "ratio not-rebuilt", "only marks the place"},
	{"score without unit", "mmode", "point|100,50|2||lung score left lateral", "ratio not-rebuilt unit-does-not-fit", ""},
	// Row 350 is 50 below the face at the centre of row 300: 49.5 rows·0.2 mm.
	{"depth at a point", "mmode", "point|100,350|||", "depth 9.9 mm rebuilt-only", ""},
	{"distance in a strip by two axes is none", "mmode", "polyline|100,350 160,380 200,400|5|mm|", "not-rebuilt unit-does-not-fit", "x axis is in s"},
	// Spectral: baseline at the centre of row 450; 60 rows up: 60·0.5 = 30 cm/s.
	{"velocity at a point", "pw", "point|100,390.5|30|cm/s|", "velocity 30 cm/s agrees", ""},
	{"velocity in m/s", "pw", "point|100,390.5|0.30|m/s|", "velocity 30 cm/s agrees", ""},
	{"reversed flow", "pw", "point|100,460.5|-5|cm/s|", "velocity -5 cm/s agrees", ""},
	{"the other sign", "pw", "point|100,460.5|5|cm/s|", "velocity -5 cm/s differs", "the other sign"},
	{"velocity from the baseline", "pw", "line|100,450.5 100,390.5|30|cm/s|", "velocity-difference 30 cm/s agrees", ""},
	{"two quantities in a spectrum", "pw", "line|100,450.5 160,390.5|||", "duration 0.3 s rebuilt-only; velocity-difference 30 cm/s rebuilt-only", ""},
	// −30 cm/s in 0.3 s, drawn downward from the peak.
	{"deceleration", "pw", "line|100,390.5 160,450.5|100|cm/s2|", "acceleration -100 cm/s2 agrees", "without sign"},
	{"scale upside down", "turned", "point|100,390.5|30|cm/s|", "velocity -30 cm/s agrees", "against the standard"},
	{"no zero", "noref", "point|100,390.5|30|cm/s|", "not-rebuilt zero-unknown", "only differences"},
	{"no zero, a difference", "noref", "line|100,450.5 100,390.5|30|cm/s|", "velocity-difference 30 cm/s agrees", ""},
	{"hertz is no velocity", "hertz", "point|100,390.5|30|cm/s|", "not-rebuilt unit-does-not-fit", "y axis is in Hz"},
	{"hertz, but time holds", "hertz", "line|100,390.5 200,390.5|0.5|s|", "duration 0.5 s agrees", ""},
	{"trace with a time axis only", "ecg", "line|100,520 207,540|||", "duration 0.428 s rebuilt-only", ""},
	{"velocity on a 2D picture", "mmode", "point|100,100|30|cm/s|", "not-rebuilt unit-does-not-fit", ""},
	{"ratio", "mmode", "line|100,100 130,140|5.0|1|", "ratio not-rebuilt unit-does-not-fit", "no quantity in the reported unit"},
	{"per cent", "mmode", "line|100,100 130,140|35|%|FS", "ratio not-rebuilt unit-does-not-fit", ""},
	{"gradient", "pw", "point|100,390.5|36|mm[Hg]|", "pressure not-rebuilt unit-does-not-fit", ""},
	// A trace from the baseline to 60 cm/s (120 rows up) in 0.1 s and back in 0.2 s:
	// ½·0.3·60 = 9 cm; mean 30 cm/s; 4·0.6²/3 = 0.48 mmHg.
	{"traced envelope", "pw", "polyline|100,450.5 120,330.5 160,450.5|9.0|cm|LVOT VTI", "velocity-time-integral 90 mm agrees", ""},
	{"traced and closed", "pw", "polygon|100,450.5 120,330.5 160,450.5|9.0|cm|LVOT VTI", "velocity-time-integral 90 mm agrees", ""},
	{"traced and closed by points on the baseline", "pw", "polygon|100,450.5 120,330.5 160,450.5 150,450.6 130,450.3|9.0|cm|LVOT VTI", "velocity-time-integral 90 mm agrees", "without the way back of the outline along the baseline, 2 points"},
	{"traced, first point repeated", "pw", "polyline|100,450.5 120,330.5 160,450.5 100,450.5|9.0|cm|LVOT VTI", "velocity-time-integral 90 mm agrees", ""},
	{"traced away from the transducer", "pw", "polyline|100,450.5 120,570.5 160,450.5|9.0|cm|LVOT VTI", "velocity-time-integral -90 mm agrees", "without sign"},
	{"traced on both sides", "pw", "polyline|100,450.5 120,330.5 160,450.5 180,470.5 200,450.5|8|cm|LVOT VTI", "velocity-time-integral 80 mm agrees", "both sides"},
	{"traced, of no known measure: the unit tells", "pw", "polyline|100,450.5 120,330.5 160,450.5|9.0|cm|", "velocity-time-integral 90 mm agrees", ""},
	{"traced, nothing known", "pw", "polyline|100,450.5 120,330.5 160,450.5|||", "velocity-time-integral 90 mm rebuilt-only; velocity 60 cm/s rebuilt-only; mean-velocity 30 cm/s rebuilt-only; mean-gradient 0.48 mm[Hg] rebuilt-only", ""},
	{"peak or mean", "pw", "polyline|100,450.5 120,330.5 160,450.5|30|cm/s|", "not-rebuilt caliper-ambiguous", "a peak and a mean"},
	{"peak of a trace", "pw", "polyline|100,450.5 120,330.5 160,450.5|60|cm/s|ACA PSV", "velocity 60 cm/s agrees", ""},
	{"mean of a trace", "pw", "polyline|100,450.5 120,330.5 160,450.5|30|cm/s|ACA TAV", "mean-velocity 30 cm/s agrees", "whatever was traced"},
	{"mean velocity at a line of its own", "pw", "point|100,390.5|30|cm/s|ACA TAV", "velocity 30 cm/s agrees", ""},
	{"mean gradient of a trace", "pw", "polyline|100,450.5 120,330.5 160,450.5|0.48|mm[Hg]|mean gradient", "mean-gradient 0.48 mm[Hg] agrees", ""},
	{"a gradient from a trace that no measure names", "pw", "polyline|100,450.5 120,330.5 160,450.5|0.48|mm[Hg]|", "pressure not-rebuilt caliper-ambiguous", ""},
	{"peak gradient is none of a trace's", "pw", "polyline|100,450.5 120,330.5 160,450.5|1.44|mm[Hg]|peak gradient", "pressure not-rebuilt unit-does-not-fit", ""},
	{"trace that turns back in time", "pw", "polyline|100,450.5 140,330.5 120,390.5 160,450.5|9|cm|LVOT VTI", "velocity-time-integral not-rebuilt caliper-degenerate", "backwards"},
	{"closed above the baseline", "pw", "polygon|100,390 150,390 150,440|10|cm|LVOT VTI", "velocity-time-integral not-rebuilt caliper-degenerate", "zero line"},
	{"trace without a zero", "noref", "polyline|100,450.5 120,330.5 160,450.5|9.0|cm|LVOT VTI", "velocity-time-integral not-rebuilt zero-unknown", ""},
	{"trace on hertz", "hertz", "polyline|100,450.5 120,330.5 160,450.5|9.0|cm|LVOT VTI", "velocity-time-integral not-rebuilt unit-does-not-fit", "in Hz"},
	{"trace on a scale upside down", "turned", "polyline|100,450.5 120,330.5 160,450.5|60|cm/s|ACA PSV", "velocity -60 cm/s agrees", "against the standard"},
	{"trace of one point", "pw", "polyline|100,450.5|9|cm|LVOT VTI", "velocity-time-integral not-rebuilt caliper-degenerate", "1 point"},
	{"a path in a strip is none", "pw", "polyline|100,450.5 120,330.5 160,450.5|9.0|cm|path length", "length not-rebuilt unit-does-not-fit", ""},
	// Discs: a cylinder 20 mm long, 10 mm across: π/4·20·100 mm³.
	{"discs", "mmode", "discs|100,150 300,150 100,100 300,100 300,200 100,200|1.57|mL|", "volume 1.5708 mL agrees", ""},
	{"discs in cm3", "mmode", "discs|100,150 300,150 100,100 300,100 300,200 100,200|1.57|cm3|volume", "volume 1.5708 mL agrees", ""},
	{"a contour has no volume", "mmode", "polygon|100,100 300,100 300,200 100,200|1.57|mL|", "volume not-rebuilt unit-does-not-fit", ""},
	{"axis outside the contour", "mmode", "discs|100,250 300,250 100,100 300,100 300,200 100,200|1.57|mL|", "volume not-rebuilt caliper-degenerate", "both sides"},
	// Sweeping: the newest column is 400, so its end is 401.
	{"before the time gap", "sweep", "line|300,350 400,350|0.5|s|", "duration 0.5 s agrees", ""},
	{"after the time gap", "sweep", "line|401,350 501,350|0.5|s|", "duration 0.5 s agrees", ""},
	{"across the time gap", "sweep", "line|350,350 450,350|0.5|s|", "duration not-rebuilt caliper-across-regions", "time gap"},
	{"trace across the time gap", "sweep", "polyline|350,450.5 400,330.5 450,450.5|9|cm|LVOT VTI", "velocity-time-integral not-rebuilt caliper-across-regions", "time gap"},
	{"a velocity difference knows no time", "sweep", "line|350,450.5 450,390.5|30|cm/s|", "velocity-difference 30 cm/s agrees", ""},
	{"across the gap, nothing known", "sweep", "line|350,450.5 450,390.5|||", "velocity-difference 30 cm/s rebuilt-only", "no time along the line"},
	{"sweeping, gap not told", "sweep-blind", "line|300,350 400,350|0.5|s|", "duration not-rebuilt zero-unknown", "where its time gap is"},
	{"sweeping clip, frame not told", "sweep-clip", "line|300,350 400,350|0.5|s|", "duration not-rebuilt caliper-ambiguous", "which frame"},
	{"scrolling has no gap", "scroll", "line|350,350 450,350|0.5|s|", "duration 0.5 s agrees", ""},
	// Turned axes: −0.1 mm to the right, 5 ms to the left.
	{"delta x negative", "mirrored", "line|100,100 130,140|5.0|mm|", "distance 5 mm agrees", ""},
	{"time runs to the left", "mirrored", "line|160,350 100,380|2.0|cm/s|", "slope 2 cm/s agrees", ""},
	{"trace where time runs to the left", "leftward", "polyline|100,450.5 140,330.5 160,450.5|9.0|cm|LVOT VTI", "velocity-time-integral 90 mm agrees", ""},
	{"across the colour box's edge only", "colour", "polygon|150,200 250,200 250,300|50|mm2|", "area 50 mm2 agrees", ""},
	{"velocity on an ECG", "ecg", "line|100,520 100,540|5|cm/s|", "not-rebuilt unit-does-not-fit", ""},
	{"unit not known", "mmode", "line|100,100 130,140|5.0|ell|", "distance 5 mm rebuilt-only unit-does-not-fit", "not known"},
	{"no unit", "mmode", "line|100,100 130,140|5.0||", "distance 5 mm rebuilt-only unit-does-not-fit", "without a unit"},
	// The unit decides where the measure contradicts it.
	{"unit before measure", "mmode", "line|100,350 160,380|0.30|s|LVIDd", "duration 0.3 s agrees", ""},
	// Calibration.
	{"across two pictures", "dual", "line|390,100 410,100|2|mm|", "not-rebuilt caliper-across-regions", ""},
	{"last column of the left picture", "dual", "line|300,100 400,100|10|mm|", "distance 10 mm agrees", ""},
	{"half in the strip", "mmode", "line|100,200 100,400|20|mm|", "not-rebuilt caliper-across-regions", ""},
	{"two regions that agree", "colour", "line|250,200 280,240|5|mm|", "distance 5 mm agrees", ""},
	{"partly in the colour box: the other holds all", "colour", "line|150,200 250,200|10|mm|", "distance 10 mm agrees", ""},
	{"two regions that differ", "clash", "line|250,200 280,240|5|mm|", "not-rebuilt caliper-ambiguous", "regions 1 and 2"},
	{"suspect", "suspect", "line|100,100 130,140|5.0|mm|", "distance 2.5 mm suspect", "beyond the picture"},
	// Row spacing first: 30 columns·0.25 = 7.5, 40 rows·0.30 = 12: √200.25.
	{"pixel spacing", "ct", "line|100,100 130,140|14.15|mm|", "distance 14.151 mm agrees", ""},
	{"pixel spacing gives no time", "ct", "line|100,100 130,140|0.3|s|", "duration not-rebuilt unit-does-not-fit", ""},
	{"nothing", "none", "line|100,100 130,140|5|mm|", "not-rebuilt caliper-uncalibrated", "no Pixel Spacing"},
	{"never pixel spacing in a strip", "flat", "line|100,100 130,140|5|mm|", "not-rebuilt caliper-uncalibrated", "no scale"},
	{"outside the picture", "mmode", "line|100,100 801,140|5|mm|", "not-rebuilt caliper-outside-image", "1 of 2"},
	{"the far corner is inside", "ct", "line|800,600 770,560|14.15|mm|", "distance 14.151 mm agrees", ""},
	{"image unknown", "elsewhere", "line|100,100 130,140|5|mm|", "not-rebuilt image-not-found", ""},
	{"one point", "mmode", "line|100,100 100,100|0|mm|", "not-rebuilt caliper-degenerate", "same point"},
	{"bow tie", "mmode", "polygon|100,100 200,200 200,100 100,200|5|mm2|", "area not-rebuilt caliper-degenerate", "crosses itself"},
	{"points on one line", "mmode", "polygon|100,100 150,150 200,200|5|mm2|", "area not-rebuilt caliper-degenerate", "the points of the outline lie on one line"},
	{"line of three points", "mmode", "line|1,1 2,2 3,3|5|mm|", "not-rebuilt caliper-degenerate", "3 points"},
}

func TestTable(t *testing.T) {
	study := sample()
	for _, c := range tableCases {
		got := Measurements(study, []ingest.CaliperRow{row(c.image, c.row)}, nil)
		if said := describe(got); said != c.want {
			t.Errorf("%s:\n got %s\nwant %s\nnote %s", c.name, said, c.want, got[0].Note)
		}
		if !strings.Contains(got[0].Note, c.note) {
			t.Errorf("%s: note %q lacks %q", c.name, got[0].Note, c.note)
		}
		for i, m := range got {
			if m.Number != i+1 || m.SOPUID != c.image || m.Source != analyse.SourceTable {
				t.Errorf("%s: row %d is %d on %s from %s", c.name, i, m.Number, m.SOPUID, m.Source)
			}
			if (m.Rebuilt == nil) != (m.Calibration == analyse.CalibrationNone) {
				t.Errorf("%s: calibration %s", c.name, m.Calibration)
			}
		}
	}
}

func describe(list []analyse.Measurement) string {
	var rows []string
	for _, m := range list {
		words := []string{string(m.Quantity)}
		if m.Rebuilt != nil {
			words = append(words, fmt.Sprintf("%.6g", m.Rebuilt.Value), string(m.Rebuilt.Unit))
		}
		words = append(words, string(m.Verdict), m.Reason)
		rows = append(rows, strings.Join(strings.Fields(strings.Join(words, " ")), " "))
	}
	return strings.Join(rows, "; ")
}

// The verdict's tolerance is half a unit of the last place, in the rebuilt unit,
// plus U: for 0.50 cm 0.05 mm, and U = 2·0.5/√3·√2·0.1 mm.
func TestTolerance(t *testing.T) {
	m := Measurements(sample(), []ingest.CaliperRow{row("mmode", "line|100,100 130,140|0.50|cm|")}, nil)[0]
	want := 0.05 + 2*0.5/math.Sqrt(3)*math.Sqrt2*0.1
	if !m.Tolerance.Set || math.Abs(m.Tolerance.Value-want) > 1e-12 || math.Abs(m.Difference.Value) > 1e-12 {
		t.Errorf("tolerance %v, want %v; difference %v", m.Tolerance, want, m.Difference)
	}
	// Just inside and just outside.
	for value, verdict := range map[string]analyse.Verdict{"5.08": analyse.VerdictAgrees, "5.09": analyse.VerdictDiffers, "4.92": analyse.VerdictAgrees, "4.91": analyse.VerdictDiffers} {
		m := Measurements(sample(), []ingest.CaliperRow{row("mmode", "line|100,100 130,140|"+value+"|mm|")}, nil)[0]
		if m.Verdict != verdict { // allowed: 0.005 + 0.0816
			t.Errorf("%s mm: %s (difference %.4f, tolerance %.4f)", value, m.Verdict, m.Difference.Value, m.Tolerance.Value)
		}
	}
	// No digits as written: nothing is allowed for rounding, and that is said.
	r := row("mmode", "line|100,100 130,140|5.0|mm|")
	r.ValueText = ""
	if m := Measurements(sample(), []ingest.CaliperRow{r}, nil)[0]; math.Abs(m.Tolerance.Value-m.Rebuilt.ExpandedU()) > 1e-15 || !strings.Contains(m.Note, "no allowance") {
		t.Errorf("without text: %v %q", m.Tolerance, m.Note)
	}
}

func TestSuspectIsNotCompared(t *testing.T) {
	m := Measurements(sample(), []ingest.CaliperRow{row("suspect", "line|100,100 130,140|2.5|mm|")}, nil)[0]
	if m.Difference.Set || m.Tolerance.Set || m.Rebuilt == nil || m.Reported == nil {
		t.Errorf("%+v", m)
	}
}

// A sound region is taken before a suspect one of the same scale.
func TestSoundBeforeSuspect(t *testing.T) {
	study := sample()
	for _, img := range study.Images {
		if img.SOPInstanceUID == "colour" {
			img.Regions[0].Suspect = "resampled"
		}
	}
	m := Measurements(study, []ingest.CaliperRow{row("colour", "line|250,200 280,240|5|mm|")}, nil)[0]
	if m.Region != 2 || m.Verdict != analyse.VerdictAgrees {
		t.Errorf("region %d, %s", m.Region, m.Verdict)
	}
}

// Rows keep the order of file and line, whatever order they come in.
func TestTableOrder(t *testing.T) {
	a, b, c := row("mmode", "line|100,100 130,140|5|mm|"), row("mmode", "line|100,100 130,140|6|mm|"), row("mmode", "line|100,100 130,140|7|mm|")
	a.Table, a.Line, b.Table, b.Line, c.Table, c.Line = "b.csv", 2, "a.csv", 9, "a.csv", 10
	got := Measurements(sample(), []ingest.CaliperRow{a, c, b}, nil)
	for i, want := range []float64{6, 7, 5} {
		if got[i].Reported.Value != want || got[i].Number != i+1 {
			t.Errorf("place %d holds %v, number %d", i, got[i].Reported.Value, got[i].Number)
		}
	}
}

// BenchmarkMeasurements rebuilds 200,000 calipers of one study, a quarter of them
// outlines of 60 points.
func BenchmarkMeasurements(b *testing.B) {
	study := sample()
	kinds := []ingest.CaliperRow{
		row("mmode", "line|100,100 130,140|5.0|mm|LVIDd"), row("pw", "point|100,390.5|30|cm/s|"),
		row("mmode", "line|100,350 160,380|300|ms|"), {SOPUID: "colour", Geometry: ingest.GeometryPolygon, Unit: "mm2", ValueText: "700", Value: ingest.Some(700.0)},
	}
	for i := range 60 {
		sin, cos := math.Sincos(float64(i) / 60 * 2 * math.Pi)
		kinds[3].Points = append(kinds[3].Points, ingest.Point{X: 350 + 140*cos, Y: 250 + 140*sin})
	}
	rows := make([]ingest.CaliperRow, 200_000)
	for i := range rows {
		rows[i] = kinds[i%4]
		rows[i].Line = i
	}
	b.ReportAllocs()
	for b.Loop() {
		if n := len(Measurements(study, rows, nil)); n != len(rows) {
			b.Fatal(n)
		}
	}
}
