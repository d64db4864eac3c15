package indices

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"leadline/analyse/measures"
	"leadline/analyse/stats/montecarlo"
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
	{"teichholz-end-diastolic-volume", []float64{18}, nil, 9.72, 0.0005, 0, 0, "check-values.md row 5"},
	{"teichholz-end-systolic-volume", []float64{12}, nil, 3.36, 0.0005, 0, 0, "check-values.md row 5"},
	{"teichholz-stroke-volume", []float64{18, 12}, nil, 6.36, 0.001, 0, 0, "check-values.md row 5"},
	{"cube-ejection-fraction", []float64{18, 12}, nil, 70.37, 0.005, 0, 0, "measurements.md 1.2"},
	{"ejection-fraction-by-volumes", []float64{39.0, 14.5}, nil, 63.2, 0.5, 0, 0, "check-values.md section 8: means of term newborns by magnetic resonance, EF 63.2 (a ratio of means is no mean of ratios)"},
	{"ejection-fraction-biplane", []float64{10, 3.9}, nil, 61, 1e-9, 0, 0, "by hand; the mean of 102 newborns in check-values.md section 8 is 61"},
	{"ejection-fraction-four-chamber", []float64{10, 3.9}, nil, 61, 1e-9, 0, 0, "by hand"},
	{"rv-fractional-area-change", []float64{400, 260}, nil, 35, 1e-9, 0, 0, "by hand from the formula"},
	{"stroke-volume-biplane", []float64{10, 3.9}, nil, 6.1, 1e-9, 0, 0, "by hand"},
	{"stroke-volume-biplane-per-kg", []float64{10, 3.9, 3.05}, nil, 2, 1e-9, 0, 0, "by hand"},
	{"mean-vcf", []float64{100, 67, 0.19}, nil, 1.74, 0.005, 0, 0, "measurements.md 1.2: FS .33, ET .19 s"},
	{"mean-vcf-corrected", []float64{100, 67, 0.19, 0.40}, nil, 1.1, 0.005, 0, 0, "measurements.md 1.2: RR .40 s"},
	{"lv-volume-area-length-diastole", []float64{100 * math.Pi, 20}, nil, 4000 * math.Pi / 3 / 1000, 1e-12, 0, 0, "geometry: a sphere of radius 10 mm"},
	{"lv-volume-bullet-diastole", []float64{260, 24}, nil, 5.2, 1e-09, 0, 0, "check-values.md row 7"},
	{"lv-volume-biplane-area-length-diastole", []float64{260, 250, 24}, nil, 2.302, 0.0005, 0, 0, "check-values.md row 7"},
	{"lv-mass", []float64{3.5, 18, 3.0}, nil, 7.983, 0.0005, 0, 0, "measurements.md 1.2, a newborn"},
	{"lv-mass", []float64{10, 50, 10}, nil, 181.976, 0.0005, 0, 0, "measurements.md 1.2, an adult"},
	{"lv-mass", []float64{3.0, 18, 2.8}, nil, 6.964, 0.0005, 0, 0, "check-values.md row 16"},
	{"lv-mass-uncorrected", []float64{3.0, 18, 2.8}, nil, 7.955, 0.0005, 0, 0, "check-values.md row 16"},
	{"lv-mass-density-1-05", []float64{3.5, 18, 3.0}, nil, 9.318, 0.0005, 0, 0, "measurements.md 1.2"},
	{"lv-mass-penn", []float64{10, 50, 10}, nil, 212.72, 1e-09, 0, 0, "by hand from the formula: 1.04·(7³ − 5³) − 14"},
	{"lv-mass-per-kg", []float64{3.0, 18, 2.8, 3.2}, nil, 2.18, 0.005, 0, 0, "check-values.md row 16"},
	{"relative-wall-thickness", []float64{2.8, 18}, nil, 0.311, 0.0005, 0, 0, "check-values.md row 17"},
	{"eccentricity-index", []float64{13, 10}, nil, 1.3, 1e-12, 0, 0, "by hand from the formula"},
	{"lv-to-aortic-root", []float64{18, 8}, nil, 2.25, 1e-12, 0, 0, "by hand from the formula"},
	{"heart-rate-of-beats", []float64{5, 2.14}, nil, 140.2, 0.05, 0, 0, "check-values.md row 14"},
	{"lv-stroke-volume", []float64{7, -100}, nil, 3.848, 0.0005, 0, 0, "check-values.md row 11, flow away from the transducer"},
	{"lv-stroke-volume-per-kg", []float64{7, 100, 3.2}, nil, 1.2026, 0.0005, 0, 0, "by hand from the formula: 3.848 mL of check-values.md row 11 / 3.2 kg"},
	{"lv-output", []float64{7, 100, 140}, nil, 538.8, 0.05, 0, 0, "check-values.md row 12"},
	{"lv-output", []float64{7.5, 105, 140}, nil, 649.4, 0.05, 0, 0, "measurements.md 1.3"},
	{"rv-stroke-volume", []float64{7.5, 105}, nil, 4.639, 0.0005, 0, 0, "measurements.md 1.3, the formula of both sides"},
	{"rv-stroke-volume-per-kg", []float64{7.5, 105, 2.5}, nil, 1.8555, 0.0005, 0, 0, "by hand from the formula: 4.639 mL / 2.5 kg"},
	{"rv-output", []float64{7.5, 105, 140}, nil, 649.4, 0.05, 0, 0, "measurements.md 1.3, the formula of both sides"},
	{"rv-output-per-kg", []float64{7.5, 105, 140, 2.5}, nil, 259.8, 0.05, 0, 0, "measurements.md 1.3, the formula of both sides"},
	{"superior-vena-cava-flow-per-kg", []float64{4, 4, 140, 150, 1.0}, nil, 263.9, 0.05, 0, 0, "check-values.md row 13"},
	{"superior-vena-cava-flow-per-kg", []float64{3.8, 3.0, 90, 150, 1.2}, nil, 102.1, 0.05, 0, 0, "measurements.md 1.3: the mean diameter, not the mean area (103.6)"},
	{"lv-performance-index", []float64{0.043, 0.048, 0.173}, nil, 0.526, 0.0005, 0, 0, "measurements.md C16"},
	{"lv-performance-index", []float64{0.035, 0.040, 0.190}, nil, 0.395, 0.0005, 0, 0, "check-values.md row 19"},
	{"lv-performance-index-by-closure", []float64{0.265, 0.190}, nil, 0.395, 0.0005, 0, 0, "check-values.md row 19: two routes agree"},
	{"rv-performance-index", []float64{0.040, 0.050, 0.200}, nil, 0.45, 1e-12, 0, 0, "by hand from the formula"},
	{"rv-performance-index-by-closure", []float64{0.260, 0.190}, nil, 0.368, 0.0005, 0, 0, "measurements.md 1.4"},
	{"lv-pre-ejection-to-ejection", []float64{0.0513, 0.190}, nil, 0.27, 1e-09, 0, 0, "by hand from the formula"},
	{"rv-pre-ejection-to-ejection", []float64{0.064, 0.200}, nil, 0.32, 1e-12, 0, 0, "by hand from the formula"},
	{"pulmonary-pressure-by-acceleration-time", []float64{0.060, 5}, nil, 52.8, 1e-09, 0, 0, "measurements.md 1.4"},
	{"pressure-half-time", []float64{0.500}, nil, 0.145, 1e-12, 0, 0, "measurements.md 1.4"},
	{"rv-systolic-pressure", []float64{300, 5}, nil, 41, 1e-12, 0, 0, "measurements.md 1.4"},
	{"rv-systolic-pressure", []float64{250, 5}, nil, 30, 1e-12, 0, 0, "check-values.md row 9"},
	{"lv-outflow-gradient", []float64{120}, nil, 5.76, 1e-12, 0, 0, "by hand from the formula"},
	{"aortic-valve-gradient", []float64{300}, nil, 36, 1e-12, 0, 0, "measurements.md 1.4"},
	{"pulmonary-valve-gradient", []float64{-300}, nil, 36, 1e-12, 0, 0, "measurements.md 1.4, flow away from the transducer"},
	{"duct-end-diastolic-gradient", []float64{200}, nil, 16, 1e-12, 0, 0, "by hand from the formula"},
	{"aortic-valve-net-gradient", []float64{300, 120}, nil, 30.24, 1e-09, 0, 0, "measurements.md 1.4"},
	{"aortic-valve-net-gradient", []float64{250, 120}, nil, 19.24, 1e-09, 0, 0, "check-values.md row 8"},
	{"mitral-e-to-a", []float64{50, 62.5}, nil, 0.8, 1e-12, 0, 0, "by hand from the formula"},
	{"mitral-e-to-a", []float64{-50, -62.5}, nil, 0.8, 1e-12, 0, 0, "by hand from the formula"},
	{"tricuspid-e-to-a", []float64{40, 50}, nil, 0.8, 1e-12, 0, 0, "by hand from the formula"},
	{"aortic-isthmus-gradient", []float64{-250}, []float64{12.5}, 25, 1e-12, 2.5, 1e-9, "check-values.md row 8, flow away from the transducer"},
	{"foramen-ovale-gradient", []float64{100}, nil, 4, 1e-12, 0, 0, "by hand from the formula"},
	{"lv-output-by-mean-velocity", []float64{7, 10 * 140.0 / 60}, nil, 538.8, 0.05, 0, 0, "check-values.md row 12: 10 cm a beat, 140 beats a minute, are a mean of 23.33 cm/s"},
	{"lv-output-by-mean-velocity-per-kg", []float64{7, -10 * 140.0 / 60, 3.2}, nil, 168.4, 0.05, 0, 0, "check-values.md row 12, flow away from the transducer"},
	{"superior-vena-cava-to-lv-output", []float64{3.8, 3.0, 90, 7.5, 105}, nil, 17.61, 0.01, 0, 0, "measurements.md 1.3: 102.1·1.2/150 = 0.8168 mL of 4.639 mL a beat"},
	{"superior-vena-cava-to-lv-output", []float64{4, 4, -140, 4, 140}, nil, 100, 1e-9, 0, 0, "by definition: the same flow"},
	{"descending-aorta-retrograde-fraction", []float64{-36, 120}, nil, 30, 1e-12, 0, 0, "by hand: the limit of Skinner 2001"},
	{"descending-aorta-retrograde-fraction", []float64{36, -120}, nil, 30, 1e-12, 0, 0, "by hand: seen from the other side"},
	{"mitral-e-to-e-prime-lateral", []float64{50, -5}, nil, 10, 1e-12, 0, 0, "by hand from the formula: the annulus moves the other way"},
	{"mitral-e-to-e-prime-septal", []float64{50, 4}, nil, 12.5, 1e-12, 0, 0, "by hand from the formula"},
	{"duct-diameter-per-kg", []float64{2.0, 0.9}, nil, 2.22, 0.005, 0, 0, "measurements.md 1.4"},
	{"duct-to-left-pulmonary-artery", []float64{2, 4}, nil, 0.5, 1e-12, 0, 0, "by hand from the formula"},
	{"vena-cava-distensibility", []float64{4.2, 2.5}, nil, 68.0, 0.05, 0, 0, "check-values.md row 22"},
	{"vena-cava-distensibility", []float64{4.0, 2.6}, nil, 53.85, 0.005, 0, 0, "measurements.md 1.4"},
	{"vena-cava-variation", []float64{4.2, 2.5}, nil, 50.7, 0.05, 0, 0, "check-values.md row 22"},
	{"vena-cava-variation", []float64{4.0, 2.6}, nil, 42.42, 0.005, 0, 0, "measurements.md 1.4"},
	{"vena-cava-to-aorta", []float64{3.1, 5}, nil, 0.62, 1e-12, 0, 0, "by hand from the formula"},
	{"frontal-occipital-horn-ratio", []float64{31, 33, 88}, nil, 0.364, 0.0005, 0, 0, "check-values.md row 26"},
	{"frontal-occipital-horn-ratio", []float64{32, 38, 84}, nil, 0.4167, 5e-05, 0, 0, "measurements.md 1.5"},
	{"frontal-temporal-horn-ratio", []float64{31, 27, 88}, nil, 0.33, 0.0005, 0, 0, "check-values.md row 27"},
	{"frontal-horn-to-biparietal", []float64{31, 88}, nil, 0.352, 0.0005, 0, 0, "check-values.md row 28"},
	{"frontal-horn-to-biparietal", []float64{32, 84}, nil, 0.381, 0.0005, 0, 0, "measurements.md 1.5"},
	{"diaphragm-thickening-fraction", []float64{1.9, 1.5}, nil, 26.7, 0.05, 0, 0, "check-values.md row 32"},
	{"diaphragm-thickening-fraction", []float64{1.7, 1.3}, nil, 30.8, 0.05, 0, 0, "measurements.md 1.6"},
	{"lung-score-6-zones", []float64{2, 2, 3, 2, 1, 2}, nil, 12, 0, 0, 0, "check-values.md row 33"},
	{"lung-score-8-zones", []float64{0, 1, 2, 3, 3, 2, 1, 0}, nil, 12, 0, 0, 0, "by hand from the formula"},
	{"lung-score-10-zones", []float64{3, 3, 3, 3, 3, 3, 3, 3, 3, 3}, nil, 30, 0, 0, 0, "check-values.md row 33: the most of 10 zones"},
	{"lung-score-12-zones", []float64{3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3}, nil, 36, 0, 0, 0, "check-values.md row 33: the most of 12 zones"},
	{"volume-kidney", []float64{24, 18, 20}, nil, 4.524, 0.0005, 0, 0, "check-values.md row 30"},
	{"volume-bladder", []float64{20, 30, 40}, nil, 12.566, 0.0005, 0, 0, "measurements.md 1.6"},
	{"tapse-mean", []float64{6.65}, nil, 6.65, 0, 0, 0, "one take is its own mean"},
	{"mapse-mean", []float64{5.6}, nil, 5.6, 0, 0, 0, "one take is its own mean"},
	{"duct-diameter-mean", []float64{2.0}, nil, 2.0, 0, 0, 0, "one take is its own mean"},
	{"ventricular-index-mean", []float64{10.8}, nil, 10.8, 0, 0, 0, "one take is its own mean"},
	{"anterior-horn-width-mean", []float64{1.5}, nil, 1.5, 0, 0, 0, "one take is its own mean"},
	{"thalamo-occipital-distance-mean", []float64{16.7}, nil, 16.7, 0, 0, 0, "one take is its own mean"},
	{"diaphragm-excursion-mean", []float64{6.8}, nil, 6.8, 0, 0, 0, "one take is its own mean"},
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

// familyOf is an index without its side and the part of the body that it is made for.
func familyOf(id string) string {
	id = strings.TrimSuffix(strings.TrimSuffix(id, "-left"), "-right")
	for _, family := range []string{"resistive-index-", "pulsatility-index-", "systolic-diastolic-ratio-", "volume-"} {
		if strings.HasPrefix(id, family) {
			return family
		}
	}
	return strings.Replace(id, "-systole", "-diastole", 1)
}

// Every index has a worked value, and every partial derivative equals the difference
// quotient of its formula. Counts cannot be moved a little.
func TestPartials(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range worked {
		d := byID(t, c.id)
		seen[familyOf(c.id)] = true
		_, partials, _ := d.Compute(c.in)
		if len(partials) != len(d.Inputs) || len(c.in) != len(d.Inputs) {
			t.Fatalf("%s: %d partials for %d inputs", c.id, len(partials), len(d.Inputs))
		}
		for i := range c.in {
			if d.Inputs[i].Count {
				continue
			}
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
		if !seen[familyOf(d.ID)] {
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
		{"fractional-shortening", []float64{0, 0}}, {"fractional-shortening", []float64{12, 18}}, {"mean-vcf", []float64{12, 18, 0.2}}, {"mean-vcf-corrected", []float64{12, 18, 0.2, 0.4}},
		{"vena-cava-collapsibility", []float64{3, 4}}, {"vena-cava-distensibility", []float64{3, 4}}, {"vena-cava-variation", []float64{3, 4}}, {"teichholz-ejection-fraction", []float64{0, 1}},
		{"left-atrium-to-aortic-root", []float64{9, 0}}, {"heart-rate", []float64{0}}, {"lv-stroke-volume", []float64{0, 1}},
		{"resistive-index-aca", []float64{0, -3}}, {"systolic-diastolic-ratio-aca", []float64{30, 0}},
		{"systolic-diastolic-ratio-aca", []float64{30, -3}}, {"systolic-diastolic-ratio-aca", []float64{-30, 3}},
		{"teichholz-ejection-fraction", []float64{12, 18}}, {"teichholz-stroke-volume", []float64{12, 18}}, {"cube-ejection-fraction", []float64{12, 18}},
		{"teichholz-end-systolic-volume", []float64{0}}, {"ejection-fraction-by-volumes", []float64{10, 12}}, {"ejection-fraction-by-volumes", []float64{0, 0}},
		{"mean-vcf", []float64{0, 0, 1}}, {"mean-vcf", []float64{18, 12, 0}}, {"mean-vcf-corrected", []float64{18, 12, 0.2, 0}},
		{"lv-mass", []float64{0, 18, 3}}, {"lv-mass-penn", []float64{3.5, 18, 3}}, {"lv-mass-per-kg", []float64{3, 18, 3, 0}},
		{"lv-volume-bullet-systole", []float64{0, 24}}, {"volume-kidney", []float64{24, -18, 20}}, {"relative-wall-thickness", []float64{3, 0}},
		{"heart-rate-of-beats", []float64{2.5, 1}}, {"heart-rate-of-beats", []float64{0, 1}}, {"heart-rate-of-beats", []float64{2, 0}},
		{"lv-stroke-volume", []float64{7, 0}}, {"rv-output", []float64{7, 100, 0}}, {"rv-output-per-kg", []float64{7, 100, 140, 0}},
		{"lv-performance-index", []float64{0.04, 0.04, 0}}, {"lv-performance-index-by-closure", []float64{0.1, 0.2}},
		{"pulmonary-pressure-by-acceleration-time", []float64{0.2, 5}}, {"pressure-half-time", []float64{0}},
		{"aortic-valve-net-gradient", []float64{100, -120}}, {"mitral-e-to-a", []float64{50, -50}}, {"mitral-e-to-a", []float64{50, 0}},
		{"mitral-e-to-e-prime-septal", []float64{50, 0}}, {"vena-cava-distensibility", []float64{3, 0}}, {"vena-cava-variation", []float64{0, 0}},
		{"diaphragm-thickening-fraction", []float64{2, 0}}, {"tricuspid-e-to-a", []float64{50, -50}},
		{"lv-output-by-mean-velocity", []float64{0, 20}}, {"lv-output-by-mean-velocity", []float64{7, 0}}, {"lv-output-by-mean-velocity-per-kg", []float64{7, 20, 0}},
		{"superior-vena-cava-to-lv-output", []float64{4, 4, 0, 7, 100}}, {"superior-vena-cava-to-lv-output", []float64{4, 4, 90, 0, 100}}, {"superior-vena-cava-to-lv-output", []float64{4, 4, 90, 7, 0}},
		{"descending-aorta-retrograde-fraction", []float64{30, 0}}, {"descending-aorta-retrograde-fraction", []float64{130, 120}},
		{"frontal-occipital-horn-ratio", []float64{31, 33, 0}},
		{"lung-score-6-zones", []float64{2, 2, 4, 2, 1, 2}}, {"lung-score-6-zones", []float64{2, 2, 1.5, 2, 1, 2}}, {"lung-score-6-zones", []float64{-1, 2, 1, 2, 1, 2}},
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
			if in.Header != nil || in.Assumed.Unit != "" {
				continue
			}
			for _, id := range []string{in.Measure, in.Or} {
				m, ok := measures.Builtin().ByID(id)
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

// Monte Carlo (JCGM 101:2008 clause 7) of every index: normal inputs of 2 %, u within
// 5 %. Counts do not vary. At 2 % the linear model holds for all of them; it fails
// where a difference is small against its own uncertainty and then divided by it
// (TestWhereTheLinearModelEnds).
func TestMonteCarlo(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, c := range worked {
		d := byID(t, c.id)
		u := make([]float64, len(c.in))
		for i, x := range c.in {
			if !d.Inputs[i].Count {
				u[i] = 0.02 * math.Abs(x)
			}
		}
		linear, sd := both(d, c.in, u, 20_000, rng)
		if linear == 0 && sd == 0 && d.Inputs[0].Count {
			continue
		}
		if math.Abs(linear/sd-1) > 0.05 {
			t.Errorf("%s: u %v, Monte Carlo %v", c.id, linear, sd)
		}
	}
}

// both is the standard uncertainty of an index to first order, and by drawing.
func both(d *Definition, x, u []float64, draws int, rng *rand.Rand) (linear, drawn float64) {
	_, partials, _ := d.Compute(x)
	variance := 0.0
	for i := range x {
		variance += math.Pow(partials[i]*u[i], 2)
	}
	in := make([]float64, len(x))
	return math.Sqrt(variance), montecarlo.Draw(draws, func() (float64, bool) {
		for i := range x {
			in[i] = x[i] + u[i]*rng.NormFloat64()
		}
		v, _, refusal := d.Compute(in)
		return v, refusal == ""
	}).StdU
}

// The documented ends of the linear model: a denominator known to some 15 % only,
// and a gradient of a velocity near its own uncertainty.
func TestWhereTheLinearModelEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for _, c := range []struct {
		id    string
		in, u []float64
	}{
		{"systolic-diastolic-ratio-aca", []float64{30, 4}, []float64{0.5, 0.6}},
		{"tricuspid-regurgitation-gradient", []float64{10}, []float64{10}},
		{"vena-cava-distensibility", []float64{4, 1}, []float64{0.15, 0.15}},
	} {
		linear, sd := both(byID(t, c.id), c.in, c.u, 100_000, rng)
		if math.Abs(linear/sd-1) < 0.05 {
			t.Errorf("%s: u %v, Monte Carlo %v: the linear model holds here", c.id, linear, sd)
		}
	}
}
