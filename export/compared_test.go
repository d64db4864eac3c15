package export

import (
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

func TestJoinCompared(t *testing.T) {
	some := ingest.Some[float64]
	p := analyse.Comparison{Population: "p", Limits: "range", Source: "s", Unit: physical.MM, Standing: analyse.StandingInside}
	with := func(change func(*analyse.Comparison)) analyse.Comparison {
		c := p
		change(&c)
		return c
	}
	for _, c := range []struct {
		source string
		list   []analyse.Comparison
		want   string
	}{
		{"", nil, ""},
		{"a paper; from memory", nil, "a paper; from memory"},
		{"", []analyse.Comparison{with(func(c *analyse.Comparison) { c.Low, c.High = some(0.3*10), some(5.9) })}, "3 to 5.9 mm (p; range; s): inside"},
		{"", []analyse.Comparison{with(func(c *analyse.Comparison) {
			c.Low, c.Unit, c.Standing = some(0.29), physical.One, analyse.StandingBelow
		})}, "from 0.29 (p; range; s): below"},
		{"f", []analyse.Comparison{
			with(func(c *analyse.Comparison) {
				c.High, c.Standing, c.Close, c.Untold = some(10), analyse.StandingAbove, true, "age"
			}),
			with(func(c *analyse.Comparison) {
				c.Standing, c.Untold, c.Chart = analyse.StandingDepending, "postmenstrual weeks", "28..30 above, 30..33 inside"
			}),
		}, "f | up to 10 mm (p; range; s): above, a limit is nearer than U; whether the row applies cannot be told: age not in the files" +
			" | (p; range; s): by postmenstrual weeks 28..30 above, 30..33 inside; whether the row applies cannot be told: postmenstrual weeks not in the files"},
	} {
		if got := joinCompared(c.source, c.list); got != c.want {
			t.Errorf("got\n%s\nwant\n%s", got, c.want)
		}
	}
}
