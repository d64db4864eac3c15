package audit

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"leadline/analyse/assemble"
	"leadline/analyse/indices"
	"leadline/analyse/physical"
	"leadline/analyse/rebuild"
	"leadline/ingest"
)

// BenchmarkRebuildAndDerive rebuilds 200,000 calipers of 1,000 studies, lines of
// every length that an index uses and one outline of 60 points in eight, most of which
// share points, and derives every index from them.
func BenchmarkRebuildAndDerive(b *testing.B) {
	const studies, each = 1000, 200
	var archive []*ingest.Instance
	var names []string
	for i := range indices.All {
		for _, in := range indices.All[i].Inputs {
			if in.Measure != "" && in.Unit == physical.MM && !slices.Contains(names, in.Measure) {
				names = append(names, in.Measure)
			}
		}
	}
	rows := make([][]ingest.CaliperRow, studies)
	for s := range studies {
		uid := fmt.Sprintf("2.25.%d", s+1)
		archive = append(archive, calibrated(uid, uid+".1", uid, noon))
		for k := range each {
			row := caliper(uid, uid+".1")
			row.Line, row.Label = k+2, names[k%len(names)]
			row.Points = []ingest.Point{{X: 10, Y: 10}, {X: 40 + float64(k%50), Y: 50}}
			if k%8 == 0 {
				row.Geometry, row.Label, row.Points = ingest.GeometryPolygon, "LVAd A4C", circle(60)
			}
			rows[s] = append(rows[s], row)
		}
	}
	list := assemble.Studies(archive)
	b.ReportAllocs()
	for b.Loop() {
		rebuilt, derived := 0, 0
		for i, s := range list {
			s.Measurements = rebuild.Measurements(s, rows[i], nil)
			s.Indices = indices.Derive(s)
			rebuilt += len(s.Measurements)
			derived += len(s.Indices)
		}
		if rebuilt != studies*each || derived < studies {
			b.Fatalf("%d rebuilt, %d derived", rebuilt, derived)
		}
		b.ReportMetric(float64(derived), "indices")
	}
}

func circle(n int) []ingest.Point {
	var points []ingest.Point
	for i := range n {
		sin, cos := math.Sincos(float64(i) / float64(n) * 2 * math.Pi)
		points = append(points, ingest.Point{X: 50 + 30*cos, Y: 50 + 30*sin})
	}
	return points
}
