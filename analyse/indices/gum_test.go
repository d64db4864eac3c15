package indices

import (
	"math"
	"testing"
)

// JCGM 100:2008 H.2, resistance, reactance and impedance from voltage, current and
// phase whose errors are correlated (means, uncertainties and correlations seen, see
// shared/reference/measurements.md C12; results recomputed there): 127.732 (0.071),
// 219.847 (0.295), 254.260 (0.236) ohms. The correlation is written as errors that
// inputs share, as those of a point are here: V = a·e1, I = b·e1 + c·e2 and so on,
// by Cholesky's factors of the correlation matrix. Were it left out, u(R) would be
// 0.195.
func TestGUMH2(t *testing.T) {
	v, i, phi := 4.999, 0.019661, 1.04446
	u := []float64{0.0032093, 9.471e-6, 7.5206e-4}
	vi, vp, ip := -0.3553, 0.8576, -0.6451
	l22 := math.Sqrt(1 - vi*vi)
	l32 := (ip - vi*vp) / l22
	factors := [][]float64{{1, 0, 0}, {vi, l22, 0}, {vp, l32, math.Sqrt(1 - vp*vp - l32*l32)}}
	inputs := make([]term, 3)
	for k, row := range factors {
		for e, f := range row {
			inputs[k].parts = append(inputs[k].parts, effect{cause{kind: ofCoordinate, number: e + 1}, f * u[k]})
		}
	}
	sin, cos := math.Sincos(phi)
	z := v / i
	for _, c := range []struct {
		name        string
		value, want float64
		by          []float64
		u           float64
	}{
		{"R", z * cos, 127.732, []float64{cos / i, -z * cos / i, -z * sin}, 0.0711},
		{"X", z * sin, 219.847, []float64{sin / i, -z * sin / i, z * cos}, 0.2956},
		{"Z", z, 254.260, []float64{1 / i, -z / i, 0}, 0.2363},
	} {
		got := combined(inputs, c.by).stdU()
		if math.Abs(c.value-c.want) > 1e-3 || math.Abs(got-c.u) > 2e-4 {
			t.Errorf("%s: %.3f, u %.4f, want %v and %v", c.name, c.value, got, c.want, c.u)
		}
	}
}
