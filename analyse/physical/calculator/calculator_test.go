package calculator

import (
	"math"
	"testing"
)

func TestEvaluate(t *testing.T) {
	for expression, want := range map[string]float64{
		"1 + 2 * 3": 7, "(1 + 2) * 3": 9, "8 / 4 / 2": 1, "5 - 2 - 1": 2, "-2^2": -4, "(-2)^2": 4, "2 * -3": -6,
		"sqrt(3^2 + 4^2)": 5, "abs(1 - 3)": 2, "atan2(1, 1) * 180 / pi": 45, "1.5e-3 * 2": 3e-3, "2.5e+2": 250, "1e3": 1000,
	} {
		if got, err := Evaluate(expression); err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%s = %v, %v; want %v", expression, got, err, want)
		}
	}
	for _, wrong := range []string{"", "1 +", "(1", "sin(1)", "1 2", "atan2(1)", "1 = 1"} {
		if got, err := Evaluate(wrong); err == nil {
			t.Errorf("%q is %v", wrong, got)
		}
	}
}
