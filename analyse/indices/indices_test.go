package indices

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"leadline/analyse/measures"
)

func byID(t *testing.T, id string) *Definition {
	t.Helper()
	for i := range All {
		if All[i].ID == id {
			return &All[i]
		}
	}
	t.Fatalf("no index %s", id)
	return nil
}

// worked are published or hand-worked values; u is the standard uncertainty of the
// inputs, wantU that of the index where a source gives it (0: not given).
var worked = []struct {
	id     string
	in, u  []float64
	want   float64
	tol    float64
	wantU  float64
	tolU   float64
	source string
}{
	{"fractional-shortening", []float64{18, 12}, []float64{0.2, 0.2}, 33.333, 5e-4, 1.34, 5e-3, "measurements.md 1.2: 18, 12 mm, u 0.2 mm each → 33.33 %, u 1.34 points"},
	{"fractional-shortening", []float64{18, 12}, []float64{0.3, 0.3}, 33.333, 5e-4, 2.0, 5e-2, "check-values.md: u 0.3 mm → 2.0 points"},
	{"teichholz-ejection-fraction", []float64{18, 12}, nil, 65.43, 5e-3, 0, 0, "check-values.md row 6"},
	{"teichholz-ejection-fraction", []float64{50, 30}, nil, 70.40, 5e-3, 0, 0, "measurements.md 1.2: adult 5.0/3.0 cm"},
	{"left-atrium-to-aortic-root", []float64{11, 8}, nil, 1.375, 1e-12, 0, 0, "check-values.md row 15"},
	{"left-atrium-to-aortic-root", []float64{11.2, 7.5}, nil, 1.49, 5e-3, 0, 0, "measurements.md 1.4"},
	{"resistive-index-aca", []float64{30, 9}, nil, 0.7, 1e-12, 0, 0, "check-values.md row 1"},
	{"resistive-index-aca", []float64{30, -3}, nil, 1.1, 1e-12, 0, 0, "check-values.md row 1: reversed, above 1"},
	{"resistive-index-sma", []float64{58.0, -5.2}, nil, 1.0897, 5e-5, 0, 0, "measurements.md C14, superior mesenteric artery at 2 h"},
	{"resistive-index-sma", []float64{58.5, 12.9}, nil, 0.7795, 5e-5, 0, 0, "measurements.md C14 at 24 h"},
	{"resistive-index-sma", []float64{79.6, 14.9}, nil, 0.8128, 5e-5, 0, 0, "measurements.md C14 at 70 h"},
	{"resistive-index-aca", []float64{36.3, 12.4}, []float64{1, 1}, 0.658, 5e-4, 0.0291, 5e-5, "measurements.md C15 and 1.1: u(RI) .0291"},
	{"resistive-index-mca-left", []float64{30, 9}, []float64{1.5, 0.45}, 0.7, 1e-12, 0.021, 5e-4, "check-values.md: 5 % each → 0.021"},
	{"resistive-index-renal-right", []float64{-30, -9}, nil, 0.7, 1e-12, 0, 0, "flow away from the probe turns both signs"},
	{"pulsatility-index-aca", []float64{30, 9, 15.5}, nil, 1.355, 5e-4, 0, 0, "check-values.md row 2"},
	{"pulsatility-index-mca", []float64{41.4, 13.0, 25.8}, nil, 1.101, 5e-4, 0, 0, "measurements.md C15"},
	{"systolic-diastolic-ratio-aca", []float64{30, 9}, nil, 3.333, 5e-4, 0, 0, "check-values.md row 3"},
	{"systolic-diastolic-ratio-aca", []float64{36.3, 12.4}, nil, 2.927, 5e-4, 0, 0, "measurements.md 1.1"},
	{"tricuspid-regurgitation-gradient", []float64{250}, []float64{12.5}, 25, 1e-12, 2.5, 1e-9, "check-values.md row 8; 5 % of v → 25 ± 2.5"},
	{"duct-gradient", []float64{-280}, nil, 31.36, 1e-9, 0, 0, "measurements.md 1.4: 2.8 m/s"},
	{"heart-rate", []float64{0.428}, nil, 140.2, 5e-2, 0, 0, "check-values.md row 14"},
	{"acceleration-to-ejection-time", []float64{0.060, 0.190}, nil, 0.316, 5e-4, 0, 0, "check-values.md row 18"},
	{"lv-stroke-volume", []float64{7, 100}, nil, 3.848, 5e-4, 0, 0, "check-values.md row 11: 0.70 cm, 10 cm"},
	{"lv-stroke-volume", []float64{7.5, 105}, nil, 4.639, 5e-4, 0, 0, "measurements.md 1.3"},
	{"lv-stroke-volume", []float64{7, 100}, []float64{0.35, 5}, 3.848, 5e-4, 3.848 * 0.112, 2e-3, "check-values.md: 5 % each → 11.2 %"},
	{"lv-output-per-kg", []float64{7, 100, 140, 3.2}, nil, 168.4, 5e-2, 0, 0, "check-values.md row 12"},
	{"lv-output-per-kg", []float64{7.5, 105, 140, 2.5}, []float64{0.2, 5, 2, 0.02}, 259.8, 5e-2, 19.1, 0.1, "measurements.md 1.3: 7.33 % = 19.1"},
	{"vena-cava-collapsibility", []float64{4.2, 2.5}, nil, 40.5, 5e-2, 0, 0, "check-values.md row 21"},
	{"vena-cava-collapsibility", []float64{4.0, 2.6}, nil, 35.0, 1e-9, 0, 0, "measurements.md 1.4"},
}

func TestWorked(t *testing.T) {
	for _, c := range worked {
		value, partials, refusal := byID(t, c.id).Compute(c.in)
		if refusal != "" || math.Abs(value-c.want) > c.tol {
			t.Errorf("%s %v: %v %q, want %v (%s)", c.id, c.in, value, refusal, c.want, c.source)
		}
		variance := 0.0
		for i := range c.u {
			variance += math.Pow(partials[i]*c.u[i], 2)
		}
		if u := math.Sqrt(variance); c.wantU > 0 && math.Abs(u-c.wantU) > c.tolU {
			t.Errorf("%s %v: u %v, want %v (%s)", c.id, c.in, u, c.wantU, c.source)
		}
	}
}

// Every partial derivative equals the difference quotient of its formula.
func TestPartials(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range worked {
		d := byID(t, c.id)
		seen[c.id] = true
		_, partials, _ := d.Compute(c.in)
		if len(partials) != len(d.Inputs) || len(c.in) != len(d.Inputs) {
			t.Fatalf("%s: %d partials for %d inputs", c.id, len(partials), len(d.Inputs))
		}
		for i := range c.in {
			h := 1e-5 * math.Abs(c.in[i])
			up, down := append([]float64(nil), c.in...), append([]float64(nil), c.in...)
			up[i] += h
			down[i] -= h
			a, _, _ := d.Compute(up)
			b, _, _ := d.Compute(down)
			if quotient := (a - b) / (2 * h); math.Abs(quotient-partials[i]) > 1e-6*math.Max(math.Abs(partials[i]), 1e-6) {
				t.Errorf("%s: partial %d is %v, difference quotient %v", c.id, i, partials[i], quotient)
			}
		}
	}
	for _, d := range All {
		family := regexp.MustCompile(`-(aca|mca|sma|celiac|renal)(-left|-right)?$`).ReplaceAllString(d.ID, "")
		tested := false
		for id := range seen {
			tested = tested || strings.HasPrefix(id, family)
		}
		if !tested {
			t.Errorf("%s has no worked value", d.ID)
		}
	}
}

// A scale error that both velocities share cancels exactly; so it does in every
// ratio of two like quantities (JCGM 100:2008 5.2: correlated inputs).
func TestSharedScaleCancels(t *testing.T) {
	for _, id := range []string{"resistive-index-aca", "systolic-diastolic-ratio-sma", "pulsatility-index-aca", "fractional-shortening", "left-atrium-to-aortic-root", "vena-cava-collapsibility"} {
		d := byID(t, id)
		in := []float64{36.3, 12.4, 22}[:len(d.Inputs)]
		a, partials, _ := d.Compute(in)
		sum, scaled := 0.0, make([]float64, len(in))
		for i := range in {
			sum += partials[i] * in[i]
			scaled[i] = in[i] * 1.07
		}
		b, _, _ := d.Compute(scaled)
		if math.Abs(a-b) > 1e-12 || math.Abs(sum) > 1e-12 {
			t.Errorf("%s: %v against %v at another scale; Σ x·∂f/∂x = %v", id, a, b, sum)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		id string
		in []float64
	}{
		{"fractional-shortening", []float64{0, 0}}, {"teichholz-ejection-fraction", []float64{0, 1}},
		{"left-atrium-to-aortic-root", []float64{9, 0}}, {"heart-rate", []float64{0}}, {"lv-stroke-volume", []float64{0, 1}},
		{"resistive-index-aca", []float64{0, -3}}, {"systolic-diastolic-ratio-aca", []float64{30, 0}},
		{"systolic-diastolic-ratio-aca", []float64{30, -3}}, {"systolic-diastolic-ratio-aca", []float64{-30, 3}},
		{"pulsatility-index-aca", []float64{30, 9, -1}}, {"pulsatility-index-aca", []float64{30, 9, 0}}, {"vena-cava-collapsibility", []float64{0, 0}},
	} {
		if v, _, refusal := byID(t, c.id).Compute(c.in); refusal == "" {
			t.Errorf("%s %v: got %v", c.id, c.in, v)
		}
	}
}

func TestAll(t *testing.T) {
	ids := map[string]bool{}
	kebab := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	for i := range All {
		d := &All[i]
		if ids[d.ID] || !kebab.MatchString(d.ID) || d.Title == "" || d.Formula == "" || d.Unit == "" || d.Reference == "" || d.Compute == nil || len(d.Inputs) == 0 {
			t.Errorf("%s is incomplete or stands twice", d.ID)
		}
		ids[d.ID] = true
		for _, in := range d.Inputs {
			if in.Header != nil {
				continue
			}
			for _, id := range []string{in.Measure, in.Or} {
				m, ok := measures.ByID(id)
				if id == "" && id != in.Measure {
					continue
				}
				if !ok || m.Unit != in.Unit {
					t.Errorf("%s: input %q is %q in %s, the catalogue has %v %s", d.ID, in.Symbol, id, in.Unit, ok, m.Unit)
				}
			}
			if !strings.Contains(d.Formula, in.Symbol) {
				t.Errorf("%s: %s does not stand in %q", d.ID, in.Symbol, d.Formula)
			}
		}
	}
	if len(IDs()) != len(All) || IDs()[0] != "fractional-shortening" {
		t.Error("IDs are not those of All")
	}
}

// Monte Carlo (JCGM 101:2008) of the whole way, means and uncertainty included:
// normal inputs of 2 %, u within 5 %.
func TestMonteCarlo(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, c := range worked {
		d := byID(t, c.id)
		value, partials, _ := d.Compute(c.in)
		variance := 0.0
		for i, x := range c.in {
			variance += math.Pow(partials[i]*0.02*x, 2)
		}
		sum, squares := 0.0, 0.0
		const draws = 40_000
		in := make([]float64, len(c.in))
		for range draws {
			for i, x := range c.in {
				in[i] = x * (1 + 0.02*rng.NormFloat64())
			}
			v, _, _ := d.Compute(in)
			sum += v - value
			squares += (v - value) * (v - value)
		}
		sd := math.Sqrt(squares/draws - sum/draws*sum/draws)
		if math.Abs(math.Sqrt(variance)/sd-1) > 0.05 {
			t.Errorf("%s: u %v, Monte Carlo %v", c.id, math.Sqrt(variance), sd)
		}
	}
}
