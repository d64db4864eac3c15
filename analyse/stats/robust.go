package stats

// normalMAD makes the median absolute deviation of normal values their standard
// deviation: 1/Φ⁻¹(3/4) (Rousseeuw and Croux 1993, J Am Stat Assoc 88:1273; from memory).
const normalMAD = 1.482602218505602

// Spread is the scaled median absolute deviation from the median, which half of the
// values may leave without moving it far; ok is false below two values.
func Spread(values []float64) (s float64, ok bool) {
	if len(values) < 2 {
		return 0, false
	}
	return normalMAD * CentreOf(values).MAD, true
}
