package stats

// Rule is what makes a point of a control chart a signal.
type Rule struct{ ID, Title, Source string }

const (
	westernElectric = "Western Electric, Statistical Quality Control Handbook, 1956"
	anhoj           = "Anhøj and Olesen 2014, PLoS ONE 9:e113825 (cited from memory)"
)

// The run rules. The first four belong together; with all of them a steady process
// gives a false alarm every 92 points on average, with the first alone every 370
// (Champ and Woodall 1987, Technometrics 29:393–399). More rules, of trends and of
// alternation, are left out for that reason.
var (
	BeyondLimits = Rule{"beyond-limits", "one point beyond a three-sigma limit", westernElectric}
	TwoOfThree   = Rule{"two-of-three", "two of three points beyond two sigma on one side", westernElectric}
	FourOfFive   = Rule{"four-of-five", "four of five points beyond one sigma on one side", westernElectric}
	EightInARow  = Rule{"eight-in-a-row", "eight points in a row on one side of the centre", westernElectric}
	LongRun      = Rule{"long-run", "a run on one side of the median longer than chance gives", anhoj}
	FewCrossings = Rule{"few-crossings", "the median is crossed less often than chance gives", anhoj}
)

// Rules are all run rules.
var Rules = []Rule{BeyondLimits, TwoOfThree, FourOfFive, EightInARow, LongRun, FewCrossings}

// zone is a rule of the form: the last point and so many of the last few lie further
// from the centre than so many sigma, all on one side.
type zone struct {
	rule     Rule
	sigma    float64
	some, of int
}

var zones = []zone{{BeyondLimits, 3, 1, 1}, {TwoOfThree, 2, 2, 3}, {FourOfFive, 1, 4, 5}, {EightInARow, 0, 8, 8}}

// WesternElectric names, for each value of the series, the rules that it completes.
// The value that completes a rule takes part in it. They are rules for values that
// are independent and about normal: not for moving ranges, which share values, and
// not for p-charts.
func WesternElectric(series []Individual, limits Limits) [][]Rule {
	signals := make([][]Rule, len(series))
	sigma, start := (limits.Upper-limits.Centre)/3, 0
	for i, x := range series {
		if x.Gap {
			start = i
		}
		for _, z := range zones {
			if z.completed(series[start:i+1], limits.Centre, sigma) {
				signals[i] = append(signals[i], z.rule)
			}
		}
	}
	return signals
}

// completed tells that the last value of an unbroken series completes the rule.
func (z zone) completed(series []Individual, centre, sigma float64) bool {
	last := series[max(0, len(series)-z.of):]
	side := func(x Individual) int {
		switch distance := x.Value - centre; {
		case distance > z.sigma*sigma:
			return 1
		case distance < -z.sigma*sigma:
			return -1
		}
		return 0
	}
	same, own := 0, side(last[len(last)-1])
	for _, x := range last {
		if side(x) == own {
			same++
		}
	}
	return own != 0 && same >= z.some
}
