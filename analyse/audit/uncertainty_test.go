package audit

import (
	"context"
	"math"
	"strings"
	"testing"

	"leadline/ingest"
	"leadline/ingest/protocol"
)

// A protocol that is chosen by a measure of the study gives its placing error and
// tolerance to the study's values; one that does not apply gives nothing.
func TestUncertaintyOfTheProtocol(t *testing.T) {
	parse := func(name, when string) *protocol.Protocol {
		p, err := protocol.Parse(name, []byte("language: 1\nname: "+name+"\nversion: 1\ntitle: T\nsources: {u: local}\nwhen: {"+when+"}\n"+
			"uncertainty: {placement-px: {duct-diameter: 2}, scale-tolerance-percent: 3}\nitems: [{id: a, title: A, sources: u, kind: report}]\n"))
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	row := caliper("", "1.1")
	row.Label = "duct diameter"
	// 50 pixels of 0.2 mm. Pixels alone: √2·0.2·0.5/√3; placing error: √2·0.2·2; and 3 %
	// of 10 mm as a rectangle: 0.3/√3.
	plain, placed := math.Sqrt2*0.2*0.5/math.Sqrt(3), math.Hypot(math.Sqrt2*0.2*2, 0.3/math.Sqrt(3))
	for _, c := range []struct {
		name string
		p    *protocol.Protocol
		want float64
		note string
	}{
		{"by a measure", parse("ours", "measures: [duct-diameter], at-least: 1"), placed, "by protocol ours"},
		{"does not apply", parse("theirs", "body-parts: [KIDNEY]"), plain, ""},
	} {
		archive := &ingest.Archive{Instances: []*ingest.Instance{calibrated("1", "1.1", "a.dcm", noon)}}
		result, err := Run(context.Background(), archive, Options{Protocols: []*protocol.Protocol{c.p}, Calipers: []ingest.CaliperRow{row}})
		if err != nil || len(result.Studies) != 1 || len(result.Studies[0].Measurements) != 1 {
			t.Fatal(c.name, err)
		}
		m := result.Studies[0].Measurements[0]
		if m.Rebuilt == nil || math.Abs(m.Rebuilt.Value-10) > 1e-12 || math.Abs(m.Rebuilt.StdU-c.want) > 1e-12 || !strings.Contains(m.Note, c.note) {
			t.Errorf("%s: %+v %q, want u %v", c.name, m.Rebuilt, m.Note, c.want)
		}
	}
}
