package indices

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// Inputs that stand under a fraction bar without making the formula infinite.
var harmless = map[string]string{
	"teichholz-end-diastolic-volume LVIDd": "2.4 cm stand beside it", "teichholz-end-systolic-volume LVIDs": "2.4 cm stand beside it",
	"vena-cava-variation Dmin": "the sum is 0 only where Dmax, which is larger, is 0 too",
}

var denominator = regexp.MustCompile(` / (\(\(.*?\) / 2\)|\([^()]*\)|V\([^()]*\)|[^ ,]+)`)

// An input is marked as a divisor where it stands under the fraction bar of the
// formula as it is printed, and nowhere else.
func TestDivisorsStandUnderTheBar(t *testing.T) {
	marked := 0
	for i := range All {
		d := &All[i]
		under := ""
		for _, m := range denominator.FindAllStringSubmatch(d.Formula, -1) {
			under += " " + m[1]
		}
		words := strings.FieldsFunc(under, func(r rune) bool { return strings.ContainsRune(" ()|·+−/", r) })
		for _, in := range d.Inputs {
			below := false
			for _, w := range words {
				below = below || strings.TrimRight(strings.TrimLeft(w, "0123456789π"), "²³") == in.Symbol
			}
			if reason := harmless[d.ID+" "+in.Symbol]; reason != "" {
				if !below || in.Divides {
					t.Errorf("%s: the reason for %s is not needed", d.ID, in.Symbol)
				}
				continue
			}
			if below != in.Divides {
				t.Errorf("%s = %s: %s under the bar %v, marked %v", d.ID, d.Formula, in.Symbol, below, in.Divides)
			}
			if in.Divides {
				marked++
			}
		}
	}
	if marked < 60 {
		t.Errorf("only %d divisors", marked)
	}
}

// A ratio of a denominator that cannot be told from 0 says so, and only then; there
// the linear model is far off.
func TestDenominatorNearZero(t *testing.T) {
	const words = "within its U of 0"
	rng := rand.New(rand.NewPCG(4, 2))
	for _, c := range []struct {
		edv, u float64
		near   bool
	}{{0.25, 0.29, true}, {0.58, 0.29, true}, {0.59, 0.29, false}, {12, 0.29, false}} {
		psv := rebuilt("aca-peak-systolic-velocity", 40, 0.29, physical.CMPerS)
		s := study(psv, rebuilt("aca-end-diastolic-velocity", c.edv, c.u, physical.CMPerS))
		x := find(t, s, "systolic-diastolic-ratio-aca")
		if x.Value == nil || strings.Contains(x.Note, words) != c.near || strings.Contains(x.Note, "EDV is") != c.near {
			t.Errorf("EDV %v ± %v: %q", c.edv, 2*c.u, x.Note)
		}
		if ri := find(t, s, "resistive-index-aca"); strings.Contains(ri.Note, words) {
			t.Errorf("EDV is no denominator of the resistive index: %q", ri.Note)
		}
		if linear, sd := both(byID(t, "systolic-diastolic-ratio-aca"), []float64{40, c.edv}, []float64{0.29, c.u}, 20_000, rng); c.near && math.Abs(linear/sd-1) < 0.2 {
			t.Errorf("EDV %v ± %v: u %v, Monte Carlo %v", c.edv, 2*c.u, linear, sd)
		}
	}
	// An index that stands for an input tells it too.
	s := study(rebuilt("lv-outflow-diameter", 7, 0.1, physical.MM), rebuilt("lv-outflow-vti", 100, 1, physical.MM), rebuilt("r-r-interval", 0.02, 0.01, physical.S))
	if x := find(t, s, "lv-output"); x == nil || !strings.Contains(x.Note, "RR is "+words[:6]) {
		t.Errorf("%+v", x)
	}
	// What has no uncertainty is near 0 only where it is 0, which is refused.
	s = study(rebuilt("mitral-e", 50, 1, physical.CMPerS), with(reported("mitral-a", "62", "cm/s"), func(m *analyse.Measurement) { m.Reported.Text = "" }))
	if x := find(t, s, "mitral-e-to-a"); x == nil || strings.Contains(x.Note, words) {
		t.Errorf("%+v", x)
	}
}
