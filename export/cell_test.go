package export

import (
	"math"
	"strconv"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

func TestCellString(t *testing.T) {
	day := ingest.Stamp{T: time.Date(2026, 3, 2, 9, 5, 7, 900e6, time.UTC)}
	withTime := day
	withTime.HasTime = true
	cases := []struct {
		cell Cell
		want string
	}{
		{Cell{}, ""},
		{text(""), ""},
		{text("a\x00b\r\nc\xff"), "a\uFFFDb\nc\uFFFD"},
		{text("\x1b[2J\u009b2J\x7f\u00a0é"), "\uFFFD[2J\uFFFD2J\uFFFD\u00a0é"},
		{integer(-7), "-7"},
		{number(0.1), "0.1"},
		{number(math.Copysign(0, -1)), "0"},
		{number(123456789.25), "123456789.25"},
		{number(1e-7), "1e-07"},
		{number(math.NaN()), ""},
		{number(math.Inf(1)), ""},
		{rounded(1.23456, 2), "1.23456"},
		{flag(true), "true"},
		{date(day), "2026-03-02"},
		{clock(day), ""},
		{clock(withTime), "09:05:07"},
		{moment(day), "2026-03-02"},
		{moment(withTime), "2026-03-02T09:05:07"},
		{date(ingest.Stamp{}), ""},
		{reported(&analyse.Reported{Value: 12.3, Text: " 12.30 "}), "12.30"},
		{reported(&analyse.Reported{Value: 12.3, Text: "1.23e1"}), "12.3"},
		{reported(&analyse.Reported{Value: 5, Text: "-"}), "5"},
		{numbers([]int{3, 17}), "3 17"},
		{pairs([]ingest.Point{{X: -1.5, Y: 2}, {X: 3, Y: 4.25}}), "-1.5,2 3,4.25"},
	}
	for _, c := range cases {
		if got := c.cell.String(); got != c.want {
			t.Errorf("%+v: got %q, want %q", c.cell, got, c.want)
		}
	}
}

// Whatever the number, what is written reads back as the same one.
func TestShortestRoundTrips(t *testing.T) {
	for _, v := range []float64{0.1 + 0.2, 1.0 / 3, 5e-324, math.MaxFloat64, 1e15, 999999999999999, 1e-6, -2.5} {
		if got, err := strconv.ParseFloat(shortest(v), 64); err != nil || got != v {
			t.Errorf("%v is written %q", v, shortest(v))
		}
	}
}

// JCGM 100:2008 7.2.6: at most two digits of an uncertainty mean anything.
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		u    float64
		want int
	}{{0.14, 2}, {0.3, 2}, {0.0512, 3}, {1.0, 1}, {2.4, 1}, {24, 0}, {240, 0}, {1e-9, mostPlaces}} {
		if got := placesOf(c.u); got != c.want {
			t.Errorf("U %v: got %d places, want %d", c.u, got, c.want)
		}
	}
	q := physical.Quantity{Value: 15.234567, StdU: 0.0712, Unit: physical.MM}
	if c := value(&q); !c.Rounded || c.Places != 2 || c.Number != q.Value {
		t.Errorf("a value is shown as %+v; the cell must hold it whole", c)
	}
	q.StdU = 0
	if c := value(&q); c.Rounded {
		t.Error("a value without uncertainty is rounded")
	}
}

func TestPlacesOfInterval(t *testing.T) {
	for _, c := range []struct {
		value, low, high float64
		want             int
	}{{-0.00013, -0.00061, 0.00035, 5}, {153, -1791, 2097, 0}, {0.108, -4.011, 4.227, 1}, {0.0375, 0.0375, 0.0375, agreementPlaces}} {
		r := analyse.Statistic{Value: c.value, Low: ingest.Some(c.low), High: ingest.Some(c.high)}
		got := inPlacesOfInterval(number(r.Value), &r)
		places := agreementPlaces // the column's
		if got.Rounded {
			places = got.Places
		}
		if got.Number != c.value || places != c.want {
			t.Errorf("%+v: %+v", c, got)
		}
	}
	sd := analyse.Statistic{Value: 0.00042}
	if got := inPlacesOfInterval(number(sd.Value), &sd); got.Places != 5 {
		t.Errorf("%+v", got)
	}
}
