package stats

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// NIST/SEMATECH e-Handbook 6.3.2.4: λ 0.3, target 50, s 2.0539; series and limits
// as printed there (read in copies, shared/reference/check-values.md 4.3).
func TestEWMANIST(t *testing.T) {
	values := []float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	printed := []string{"50.60", "49.52", "50.56", "50.18", "50.16", "49.21", "49.75", "49.85", "50.26", "50.33", "50.11", "49.36", "49.52", "50.05", "49.38", "49.92", "50.73", "51.23", "51.94", "51.99"}
	got := EWMA(values, 50, 0.3)
	if len(got) != len(printed) {
		t.Fatalf("%d values for %d", len(got), len(printed))
	}
	for i := range printed {
		if s := fmt.Sprintf("%.2f", got[i]); s != printed[i] {
			t.Errorf("value %d: %s, printed %s", i+1, s, printed[i])
		}
	}
	limits := EWMALimits(50, 2.0539, 0.3, 3)
	near(t, "upper limit", limits.Upper, 52.5884, 5e-5)
	// Printed 47.4115, which is 47.41157 cut and not rounded.
	near(t, "lower limit", limits.Lower, 47.4115, 1e-4)
	if one := EWMA(values, 50, 1); one[3] != values[3] {
		t.Errorf("λ = 1 gives %v for %v", one[3], values[3])
	}
}

// TestEWMAFalseAlarms: with known target and sigma, λ 0.3 and width 3, a steady
// process signals falsely about every 470 values (Lucas and Saccucci 1990,
// Technometrics 32:1, table 3 gives 500 for λ 0.25 and width 2.998 and for λ 0.4 and
// width 3.054; from memory).
func TestEWMAFalseAlarms(t *testing.T) {
	rng, runs, total := noise(1), 2000, 0
	limits := EWMALimits(0, 1, 0.3, 3)
	for range runs {
		for z, n := 0.0, 1; ; n++ {
			z = EWMA([]float64{rng()}, z, 0.3)[0]
			if limits.Beyond(z) {
				total += n
				break
			}
		}
	}
	if mean := float64(total) / float64(runs); mean < 430 || mean > 510 {
		t.Errorf("a false alarm every %.0f values, want about 470", mean)
	}
}

// GUM H.1, end gauge: components of 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2
// degrees of freedom give u 32 nm (31.7), ν 16.7, used as 16 (JCGM 100:2008 H.1.6;
// shared/reference/measurements.md 4.8). t(16) for 95 % is 2.12 (its table G.2).
func TestExpandedGUM(t *testing.T) {
	u, degrees, expanded := Expanded(Component{25, 18}, Component{9.7, 25.6}, Component{2.9, 50}, Component{16.6, 2})
	near(t, "u", u, 31.7, 0.05)
	near(t, "degrees of freedom", degrees, 16, 0)
	near(t, "U", expanded/u, 2.12, 0.005)
	_, degrees, expanded = Expanded(Component{3, math.Inf(1)}, Component{4, math.Inf(1)})
	near(t, "U without a spread", expanded, 5*1.96, 0.001)
	if !math.IsInf(degrees, 1) {
		t.Errorf("%v degrees of freedom", degrees)
	}
	// JCGM 100:2008 table G.2: t for 1 degree of freedom and 95 % is 12.71.
	_, _, expanded = Expanded(Component{1, 1})
	near(t, "t(1)", expanded, 12.71, 0.005)
	if _, _, none := Expanded(Component{0, 5}, Component{0, math.Inf(1)}); none != 0 {
		t.Errorf("U of nothing is %v", none)
	}
}

// The same interval as that of Bland and Altman's bias, which is a mean.
func TestMean(t *testing.T) {
	differences, means := pairs(wright1, mini1)
	want, _ := BlandAltman(differences, means)
	e, sd, ok := Mean(differences)
	if !ok || e != want.Bias || sd != want.SD {
		t.Errorf("%+v, %v, want %+v, %v", e, sd, want.Bias, want.SD)
	}
	if _, _, ok := Mean([]float64{1}); ok {
		t.Error("one value has a spread")
	}
}

// noise is a stream of normal values, the same for the same seed.
func noise(seed uint64) func() float64 {
	return rand.New(rand.NewPCG(seed, 1)).NormFloat64
}
