package rebuild

import (
	"math"
	"strings"
	"testing"

	"leadline/ingest"
)

// An angle of 60 degrees that is 5 degrees off makes +18.3 % (check-values.md row 34 and
// section 3). Whatever is made of velocities says so, and nothing else.
func TestDopplerAngle(t *testing.T) {
	for _, c := range []struct {
		angle float64
		row   string
		want  string
	}{
		{60, "point|100,390.5|30|cm/s|ACA PSV", "5 degrees more would make velocities 18.3 % larger"},
		{-60, "line|100,390.5 120,330.5|30|cm/s|", "correction angle of 60 degrees"},
		{45, "polyline|100,450.5 120,330.5 160,450.5|9.0|cm|LVOT VTI", "10.0 % larger, which is not in U"},
		{87, "line|100,390.5 120,330.5|300|cm/s2|", "no velocity can be told"},
		{20, "point|100,390.5|30|cm/s|ACA PSV", ""},
		{0, "point|100,390.5|30|cm/s|ACA PSV", ""},
		{math.NaN(), "point|100,390.5|30|cm/s|ACA PSV", ""},
		{60, "line|100,390.5 120,330.5|100|ms|", ""},
	} {
		s := sample()
		for _, img := range s.Images {
			if img.SOPInstanceUID == "pw" {
				img.Image.Regions[1].DopplerAngleDeg = ingest.Some(c.angle)
			}
		}
		m := Measurements(s, []ingest.CaliperRow{row("pw", c.row)}, nil)[0]
		if m.Rebuilt == nil || !strings.Contains(m.Note, c.want) || c.want == "" && strings.Contains(m.Note, "angle") {
			t.Errorf("%v degrees, %s: %+v %q, want %q", c.angle, c.row, m.Rebuilt, m.Note, c.want)
		}
	}
}
