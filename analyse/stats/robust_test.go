package stats

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The factor is 1/Φ⁻¹(3/4) by a general library, and makes the spread of normal
// quantiles their standard deviation.
func TestSpreadOfNormal(t *testing.T) {
	normal := distuv.Normal{Mu: 10, Sigma: 3}
	if want := 1 / distuv.UnitNormal.Quantile(0.75); math.Abs(normalMAD-want) > 1e-12 {
		t.Errorf("factor %v, want %v", normalMAD, want)
	}
	var values []float64
	for i := range 999 {
		values = append(values, normal.Quantile((float64(i)+0.5)/999))
	}
	if s, ok := Spread(values); !ok || math.Abs(s-3) > 0.01 {
		t.Errorf("spread %v", s)
	}
	values[0], values[998] = -1e9, 1e9
	if m := Median(values); math.Abs(m-10) > 1e-9 {
		t.Errorf("median %v", m)
	}
}

// Median and deviation of ten values, worked out by hand.
func TestMedianByHand(t *testing.T) {
	values := []float64{2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3}
	// Sorted 2.1 2.1 2.3 2.3 2.4 2.5 2.6 2.6 8.2 8.3: median 2.45; deviations sorted
	// 0.05 0.05 0.15 0.15 0.15 0.15 0.35 0.35 5.75 5.85: their median 0.15.
	m := Median(values)
	s, _ := Spread(values)
	if math.Abs(m-2.45) > 1e-12 || math.Abs(s-normalMAD*0.15) > 1e-9 {
		t.Errorf("median %v, spread %v", m, s)
	}
	if _, ok := Spread([]float64{1}); ok {
		t.Error("the spread of one value")
	}
}

// A line with a quarter of its points anywhere keeps its slope; points above one
// another have none.
func TestMedianSlopeOfMany(t *testing.T) {
	var x, y []float64
	for i := range 1000 {
		x, y = append(x, float64(i)), append(y, 5-0.25*float64(i))
		if i%4 == 0 {
			y[i] = 1e6 * float64(i%7)
		}
	}
	if s, ok := MedianSlope(x, y); !ok || math.Abs(s+0.25) > 1e-9 {
		t.Errorf("slope %v", s)
	}
	if _, ok := MedianSlope([]float64{1, 1}, []float64{0, 9}); ok {
		t.Error("the slope of points above one another")
	}
}
