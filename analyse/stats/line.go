package stats

import "math"

// Line is a straight line fitted by least squares: y = intercept + slope·x. Slope and
// intercept have 95 % confidence intervals; ResidualSD is √(Σ residual²/(n − 2)).
type Line struct {
	N                    int
	Slope, Intercept     Estimate
	SlopeSE, InterceptSE float64
	ResidualSD           float64
}

// FitLine fits a line to three points or more. It is false where there are fewer, or
// x does not vary: means that differ in the last bits only do not.
func FitLine(x, y []float64) (Line, bool) {
	if len(x) < 3 {
		return Line{}, false
	}
	n := float64(len(x))
	mx, _ := meanSD(x)
	my, _ := meanSD(y)
	var sxx, sxy float64
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
	}
	if sxx <= 1e-24*mx*mx*n {
		return Line{}, false
	}
	slope, residual := sxy/sxx, 0.0
	for i := range x {
		e := y[i] - my - slope*(x[i]-mx)
		residual += e * e
	}
	l := Line{N: len(x), ResidualSD: scatter(math.Sqrt(residual/(n-2)), largest(x, y))}
	l.SlopeSE = l.ResidualSD / math.Sqrt(sxx)
	l.InterceptSE = l.ResidualSD * math.Sqrt(1/n+mx*mx/sxx)
	l.Slope = around(slope, t(n-2)*l.SlopeSE)
	l.Intercept = around(my-slope*mx, t(n-2)*l.InterceptSE)
	return l, true
}

// mostPoints bounds the work of MedianSlope: above so many points every kth is taken.
const mostPoints = 600

// MedianSlope is the median of the slopes between all pairs of points of different x
// (Theil 1950, Sen 1968, J Am Stat Assoc 63:1379; from memory). Up to 29 % of the points
// may be anything. It is false where no two points differ in x.
func MedianSlope(x, y []float64) (float64, bool) {
	step := 1 + (len(x)-1)/mostPoints
	var slopes []float64
	for i := 0; i < len(x); i += step {
		for j := 0; j < i; j += step {
			if x[i] != x[j] {
				slopes = append(slopes, (y[i]-y[j])/(x[i]-x[j]))
			}
		}
	}
	if len(slopes) == 0 {
		return 0, false
	}
	return Median(slopes), true
}
