package indices

import (
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
)

func in(mode analyse.Mode, m analyse.Measurement) analyse.Measurement {
	m.Mode = mode
	return m
}

func mm(measure string, value float64) analyse.Measurement {
	return rebuilt(measure, value, 0.2, physical.MM)
}

// Values of two modes are never averaged. An index takes all its inputs in one mode
// where one holds them all, 2D before M-mode, but an excursion of the catalogue's
// M-mode in that.
func TestOneMethod(t *testing.T) {
	const twoD, strip = analyse.Mode2D, analyse.ModeMMode
	for _, c := range []struct {
		name, index string
		want        float64
		inputs      string
		note        string
		list        []analyse.Measurement
	}{
		{"one mode", "fractional-shortening", 100 * (18. - 12) / 18, "1 2", "",
			[]analyse.Measurement{in(strip, mm(dd, 18)), in(strip, mm(ds, 12))}},
		{"all in both", "fractional-shortening", 100 * (20. - 14) / 20, "3 4", "2D and M-mode: other methods, not averaged; that of 2D counts",
			[]analyse.Measurement{in(strip, mm(dd, 18)), in(strip, mm(ds, 12)), in(twoD, mm(dd, 20)), in(twoD, mm(ds, 14))}},
		{"M-mode alone holds both", "fractional-shortening", 100 * (18. - 12) / 18, "1 2", "that of M-mode counts",
			[]analyse.Measurement{in(strip, mm(dd, 18)), in(strip, mm(ds, 12)), in(twoD, mm(dd, 20))}},
		{"repeats within the mode", "fractional-shortening", 100 * (19. - 12) / 19, "1 3 2", "mean of 2",
			[]analyse.Measurement{in(strip, mm(dd, 18)), in(strip, mm(ds, 12)), in(strip, mm(dd, 20)), in(twoD, mm(dd, 25))}},
		{"no mode holds both", "left-atrium-to-aortic-root", 1.2, "2 3", "no mode holds all inputs",
			[]analyse.Measurement{in(strip, mm("left-atrium-diameter", 11)), in(twoD, mm("left-atrium-diameter", 12)), in(analyse.ModeUntold, mm("aortic-root-diameter", 10))}},
		{"an M-mode measure", "tapse-mean", 8, "1", "that of M-mode counts",
			[]analyse.Measurement{in(strip, mm("tapse", 8)), in(twoD, mm("tapse", 9))}},
		{"selected in one mode", "teichholz-end-diastolic-volume", 7 / (2.4 + 1.8) * math.Pow(1.8, 3), "1", "",
			[]analyse.Measurement{with(in(strip, mm(dd, 18)), func(m *analyse.Measurement) { m.Selected = true }), in(twoD, mm(dd, 20))}},
	} {
		x := find(t, study(c.list...), c.index)
		if x == nil || x.Value == nil || math.Abs(x.Value.Value-c.want) > 1e-9 || !strings.Contains(x.Note, c.note) {
			t.Errorf("%s: %+v, want %v", c.name, x, c.want)
			continue
		}
		var numbers []string
		for _, text := range x.Inputs {
			numbers = append(numbers, strings.Fields(text)[1])
		}
		if got := strings.Join(numbers, " "); got != c.inputs || (c.note == "") == strings.Contains(x.Note, "other methods") && c.name != "repeats within the mode" {
			t.Errorf("%s: inputs %s, want %s; note %s", c.name, got, c.inputs, x.Note)
		}
	}
}
