package export

import (
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// comparedMeaning is what the codebook says of comparisons.
const comparedMeaning = "limits and unit (population; what the limits are; source): inside, below or above. Rows of other ages and weights are left out; where the files do not tell what a row asks for, it says so. No diagnosis: limits hold for the population they were made from."

// comparedSeparator stands between comparisons, whose own words hold semicolons.
const comparedSeparator = " | "

// joinCompared writes the source of a formula, where there is one, and the
// comparisons of its value.
func joinCompared(source string, list []analyse.Comparison) string {
	var parts []string
	if source != "" {
		parts = append(parts, source)
	}
	for i := range list {
		parts = append(parts, comparison(&list[i]))
	}
	return strings.Join(parts, comparedSeparator)
}

func comparison(c *analyse.Comparison) string {
	var b strings.Builder
	if limits := limitWords(c); limits != "" {
		b.WriteString(limits + " ")
	}
	b.WriteString("(" + c.Population + "; " + c.Limits + "; " + c.Source + "): ")
	switch {
	case c.Chart != "":
		b.WriteString("by " + c.Untold + " " + c.Chart)
	default:
		b.WriteString(string(c.Standing))
	}
	if c.Close {
		b.WriteString(", a limit is nearer than U")
	}
	if c.Untold != "" {
		b.WriteString("; whether the row applies cannot be told: " + c.Untold + " not in the files")
	}
	return b.String()
}

// limitWords writes the limits in the unit of the value.
func limitWords(c *analyse.Comparison) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', comparedDigits, 64) }
	words := ""
	switch {
	case c.Low.Set && c.High.Set:
		words = number(c.Low.Value) + " to " + number(c.High.Value)
	case c.Low.Set:
		words = "from " + number(c.Low.Value)
	case c.High.Set:
		words = "up to " + number(c.High.Value)
	default:
		return ""
	}
	return strings.TrimSpace(words + " " + physical.Printed(c.Unit))
}

// comparedDigits is more than any printed limit has; it hides what a change of
// unit leaves in the last bits.
const comparedDigits = 6
