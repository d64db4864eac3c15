package rebuild

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// faultStudy has a picture for each fault.
func faultStudy() *analyse.Study {
	study := sample()
	oblong := imagesOf(study)["oblong"] // 0.1 mm wide, 0.2 mm high
	oblong.Image.Spacing.Pixel = ingest.Some([2]float64{0.3, 0.3})
	// 400 × 300 pixels, enlarged to 800 × 600 after calibration.
	enlarged := picture("enlarged", box(1, ingest.Format2D, 10, 10, 399, 299, cm, cm, 0.02, 0.02))
	// One row less: no single enlargement makes its region the picture.
	uneven := picture("uneven", box(1, ingest.Format2D, 10, 10, 399, 298, cm, cm, 0.02, 0.02))
	clip := imagesOf(study)["clip"] // Frame Time 20 ms
	clip.Image.Timing.CineRateHz = ingest.Some(25.0)
	// 800 × 600 pixels reduced from 1600 × 1200; the bounds say so.
	study.Images = append(study.Images, enlarged, uneven)
	return study
}

// Each fault is planted: the comment is what the points give, the number what the
// fault makes of it.
func TestFaults(t *testing.T) {
	for _, c := range []struct {
		row  ingest.CaliperRow
		want []analyse.FaultKind
	}{
		// 20 mm: agrees, or differs by no typical factor.
		{row("oblong", "line|100,100 300,100|20.0|mm|"), nil},
		{row("oblong", "line|100,100 300,100|23.0|mm|"), nil},
		// 20 mm written as 20 cm, 2 cm as 2 mm.
		{row("oblong", "line|100,100 300,100|20.0|cm|"), []analyse.FaultKind{analyse.FaultPowerOfTen}},
		{row("oblong", "line|100,100 300,100|2.00|mm|"), []analyse.FaultKind{analyse.FaultPowerOfTen}},
		// π/4 · 20 mm · 20 mm = 314 mm² = 3.14 cm², written as mm².
		{row("oblong", "ellipse|100,150 300,150 200,100 200,200|3.142|mm2|"), []analyse.FaultKind{analyse.FaultPowerOfTen}},
		// 1 s written as 1 ms; 50.25 cm/s as 0.5025 cm/s.
		{row("mmode", "line|100,350 300,450|1.000|ms|"), []analyse.FaultKind{analyse.FaultPowerOfTen}},
		{row("pw", "point|100,350|0.502|cm/s|"), []analyse.FaultKind{analyse.FaultPowerOfTen}},
		// 200 columns are 20 mm; by the spacing of rows 40 mm, by Pixel Spacing 60 mm.
		{row("oblong", "line|100,100 300,100|40.0|mm|"), []analyse.FaultKind{analyse.FaultSwapped}},
		{row("oblong", "line|100,100 300,100|60.0|mm|"), []analyse.FaultKind{analyse.FaultOtherSpacing}},
		// Pixel Spacing itself, 0.30 mm high and 0.25 mm wide: 200 columns are 50 mm.
		{row("ct", "line|100,100 300,100|60.0|mm|"), []analyse.FaultKind{analyse.FaultSwapped}},
		// 100 columns of the left picture are 10 mm, at the scale of the right one 20 mm.
		{row("dual", "line|100,100 200,100|20.0|mm|"), []analyse.FaultKind{analyse.FaultOtherRegion}},
		// 100 rows of the strip are 20 mm, at the scale of the picture above it 10 mm;
		// Pixel Spacing is that of the picture.
		{row("mmode", "line|100,350 100,450|10.0|mm|LVIDd"), []analyse.FaultKind{analyse.FaultOtherSpacing, analyse.FaultOtherRegion}},
		// 100 pixels at 0.2 mm are 20 mm, of the picture before it was doubled 10 mm.
		{row("enlarged", "line|100,100 200,100|10.0|mm|"), []analyse.FaultKind{analyse.FaultResampled}},
		{row("uneven", "line|100,100 200,100|10.0|mm|"), nil},
		// The bounds of the suspect picture say that it was halved: 10 mm were 20 mm.
		{row("suspect", "line|100,100 300,100|20.0|mm|"), []analyse.FaultKind{analyse.FaultResampled}},
		// 10 frames are 0.2 s by Frame Time, 0.4 s by Cine Rate.
		{frames("clip", "0.40|s|", 3, 13), []analyse.FaultKind{analyse.FaultOtherTiming}},
	} {
		m := Measurements(faultStudy(), []ingest.CaliperRow{c.row}, nil)[0]
		var got []analyse.FaultKind
		for _, f := range m.Faults {
			got = append(got, f.Kind)
			if !strings.Contains(m.Note, f.Evidence) {
				t.Errorf("the note %q lacks %q", m.Note, f.Evidence)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s %v %s %s: %s, faults %v, want %v (%s)", c.row.SOPUID, c.row.Points, c.row.ValueText, c.row.Unit, m.Verdict, got, c.want, m.Note)
		}
	}
}

// drawn lines and what they give, with everything that a fault could come from.
// The line is up to so many pixels long.
func randomPicture(rng *rand.Rand, pixels float64) (*analyse.Study, ingest.CaliperRow) {
	scale := func() float64 { return 0.005 * math.Exp(rng.Float64()*1.5) }
	dx, dy := scale(), scale()
	img := picture("r", box(1, ingest.Format2D, 0, 0, 399, 599, cm, cm, dx, dy), box(2, ingest.Format2D, 400, 0, 799, 599, cm, cm, scale(), scale()))
	img.Image.Spacing.Pixel = ingest.Some([2]float64{10 * scale(), 10 * scale()})
	r := row("r", "line||0|mm|")
	r.Points = []ingest.Point{{X: 100, Y: 100}, {X: 100 + (0.3+0.7*rng.Float64())*pixels, Y: 100 + (0.3+0.7*rng.Float64())*pixels}}
	return &analyse.Study{Images: []*analyse.Image{img}}, r
}

// writeDown reports a number with two places.
func writeDown(r *ingest.CaliperRow, value float64) {
	r.ValueText = strconv.FormatFloat(value, 'f', 2, 64)
	v, _ := strconv.ParseFloat(r.ValueText, 64)
	r.Value = ingest.Some(v)
}

// With random geometry, a planted fault is always named among those found.
func TestPlantedFaultsAreNamed(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	length := func(r ingest.CaliperRow, dx, dy float64) float64 {
		return math.Hypot((r.Points[1].X-r.Points[0].X)*dx, (r.Points[1].Y-r.Points[0].Y)*dy)
	}
	planted := map[analyse.FaultKind]func(*analyse.Image, ingest.CaliperRow) float64{
		analyse.FaultPowerOfTen: func(img *analyse.Image, r ingest.CaliperRow) float64 {
			one := img.Regions[0].Raw
			return 10 * length(r, 10*one.DeltaX.Value, 10*one.DeltaY.Value)
		},
		analyse.FaultSwapped: func(img *analyse.Image, r ingest.CaliperRow) float64 {
			one := img.Regions[0].Raw
			return length(r, 10*one.DeltaY.Value, 10*one.DeltaX.Value)
		},
		analyse.FaultOtherRegion: func(img *analyse.Image, r ingest.CaliperRow) float64 {
			two := img.Regions[1].Raw
			return length(r, 10*two.DeltaX.Value, 10*two.DeltaY.Value)
		},
		analyse.FaultOtherSpacing: func(img *analyse.Image, r ingest.CaliperRow) float64 {
			spacing := img.Image.Spacing.Pixel.Value
			return length(r, spacing[1], spacing[0])
		},
	}
	for kind, value := range planted {
		named, differ := 0, 0
		for range 500 {
			study, r := randomPicture(rng, 250)
			writeDown(&r, value(study.Images[0], r))
			m := Measurements(study, []ingest.CaliperRow{r}, nil)[0]
			if m.Verdict == analyse.VerdictAgrees {
				continue // the fault makes no difference here
			}
			differ++
			if slices.ContainsFunc(m.Faults, func(f analyse.Fault) bool { return f.Kind == kind }) {
				named++
			}
		}
		if differ < 400 || named != differ {
			t.Errorf("%s: named in %d of %d that differ", kind, named, differ)
		}
	}
}

// A value that agrees has no fault, and one that is off by a random factor has one
// no more often than chance lets it fall within the tolerance of a hypothesis:
// the factor is even on a logarithmic scale from 1/20 to 20, so the chance of each
// window is its logarithmic width by that of the whole.
func TestFalseNaming(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	const n = 1000
	span := 2 * math.Log(20)
	named, differ, expectedNamed, variance := 0, 0, 0.0, 0.0
	for range n {
		study, r := randomPicture(rng, 60)
		writeDown(&r, 1)
		plain := Measurements(study, []ingest.CaliperRow{r}, nil)[0].Rebuilt
		writeDown(&r, plain.Value)
		if m := Measurements(study, []ingest.CaliperRow{r}, nil)[0]; len(m.Faults) > 0 || m.Verdict != analyse.VerdictAgrees {
			t.Fatalf("agrees and has faults: %+v", m)
		}
		writeDown(&r, plain.Value*math.Exp((rng.Float64()-0.5)*span))
		p := chance(t, study, r, span)
		expectedNamed, variance = expectedNamed+p, variance+p*(1-p)
		m := Measurements(study, []ingest.CaliperRow{r}, nil)[0]
		if m.Verdict == analyse.VerdictDiffers {
			differ++
		}
		if len(m.Faults) > 0 {
			named++
		}
	}
	t.Logf("%d of %d random values differ, a fault is named in %d (%.1f %%); by chance %.1f ± %.1f", differ, n, named, 100*float64(named)/n, expectedNamed, 2*math.Sqrt(variance))
	if math.Abs(float64(named)-expectedNamed) > 4*math.Sqrt(variance) {
		t.Errorf("named %d times, by chance %.1f", named, expectedNamed)
	}
	if float64(named) > 0.05*n {
		t.Errorf("%d of %d named: not rare", named, n)
	}
}

// chance is the probability that a value drawn as above falls in the window of any
// hypothesis and outside that of the plain reading, computed from the scales
// themselves: u of a distance is √2·u_px·√((Δx·δx²)² + (Δy·δy²)²)/d.
func chance(t *testing.T, study *analyse.Study, r ingest.CaliperRow, span float64) float64 {
	img := study.Images[0]
	ax, ay := r.Points[1].X-r.Points[0].X, r.Points[1].Y-r.Points[0].Y
	window := func(dx, dy, times float64) [2]float64 {
		d := math.Hypot(ax*dx, ay*dy)
		u := math.Sqrt2 * physical.CoordinateStdU * math.Hypot(ax*dx*dx, ay*dy*dy) / d
		return [2]float64{times*d - (0.005 + 2*u*times), times*d + (0.005 + 2*u*times)}
	}
	one, two, spacing := img.Regions[0].Raw, img.Regions[1].Raw, img.Image.Spacing.Pixel.Value
	dx, dy := 10*one.DeltaX.Value, 10*one.DeltaY.Value
	plain := window(dx, dy, 1)
	windows := [][2]float64{window(dy, dx, 1), window(10*two.DeltaX.Value, 10*two.DeltaY.Value, 1), window(spacing[1], spacing[0], 1)}
	for power := -6.0; power <= 6; power++ {
		if power != 0 {
			windows = append(windows, window(dx, dy, math.Pow(10, power)))
		}
	}
	d := math.Hypot(ax*dx, ay*dy)
	low, high := math.Log(d)-span/2, math.Log(d)+span/2
	// The union of the windows on a fine grid, without that of the plain reading.
	const steps = 4000
	hits := 0
	for i := range steps {
		v := math.Exp(low + (high-low)*(float64(i)+0.5)/steps)
		in := func(w [2]float64) bool { return v >= w[0] && v <= w[1] }
		if !in(plain) && slices.ContainsFunc(windows, in) {
			hits++
		}
	}
	return float64(hits) / steps
}

// A mistaken unit is named with units whose ratio it is.
func TestMistakenUnits(t *testing.T) {
	for _, unit := range []physical.Unit{physical.MM, physical.MM2, physical.ML, physical.S, physical.CMPerS, physical.CMPerS2} {
		list := physical.MistakenUnits(unit)
		if len(list) == 0 {
			t.Errorf("%s: no ratio", unit)
		}
		for _, m := range list {
			number, _ := physical.ParseUnit(m.Number)
			label, _ := physical.ParseUnit(m.Label)
			if number.Unit != unit || label.Unit != unit || math.Abs(label.Factor/number.Factor/m.Ratio-1) > 1e-9 {
				t.Errorf("%s: %s", unit, fmt.Sprint(m))
			}
		}
	}
	if list := physical.MistakenUnits(physical.Percent); list != nil {
		t.Errorf("percent: %v", list)
	}
}
