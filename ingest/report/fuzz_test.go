package report

import (
	"bytes"
	"math"
	"testing"

	"leadline/ingest/dcm"
	"leadline/ingest/internal/allocation"
	b "leadline/ingest/internal/dcmbuild"
)

// seeds are reports that Read must understand: a seed that is not read any more
// would make the fuzzing worthless.
func seeds() []dcm.Dataset {
	img := image("SELECTED FROM", "1.2", "1")
	return []dcm.Dataset{
		echo(),
		root(group(groupConcept, line("CONTAINS", 1, 2, 3, 4), number(lengthConcept, "2.0"), number(lengthConcept, "3.0"))),
		root(group("", group("", number(lengthConcept, "2.0")), group("", text("CONTAINS", "", "shape", line("HAS PROPERTIES", 1, 2, 3, 4))))),
		root(number(lengthConcept, "2.0", scoord("INFERRED FROM", vertexConcept, "POINT", []float64{1, 2}, img), scoord("INFERRED FROM", vertexConcept, "POINT", []float64{3, 4}, img))),
		root(group("", line("CONTAINS", 1, 2, 3, 4)), number(lengthConcept, "2.0", reference("INFERRED FROM", 1, 1, 1), reference("INFERRED FROM", 1, 2))),
		root(number(lengthConcept, "2.0", scoord("INFERRED FROM", "", "ELLIPSE", []float64{1, 2, 3, 4, 5, 6, 7, 8}, img))),
	}
}

// perByte bounds what Read may allocate for each byte of a file: a content item of
// 8 bytes becomes a node and what it may be.
const perByte = 500

// FuzzReport reads whatever passes the header scan. Read must not panic, must give
// finite numbers and whole graphics only, no more than its limits, and allocate in
// proportion to the file.
func FuzzReport(f *testing.F) {
	for i, d := range seeds() {
		if doc := Read(&d); len(doc.Numerics) == 0 {
			f.Fatalf("seed %d holds no number", i)
		}
		f.Add(b.File(d))
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		file, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
		if err != nil {
			return
		}
		if file.TransferSyntaxUID == deflated {
			return // its bytes are no measure of what it holds
		}
		var doc *Document
		if n := allocation.Of(func() { doc = Read(&file.Data) }); n > allocation.Linear(len(content), perByte) {
			t.Errorf("%d bytes allocated for %d bytes of file", n, len(content))
		}
		if len(doc.Problems) > maxProblems+1 {
			t.Errorf("%d problems", len(doc.Problems))
		}
		entries := 0
		for _, n := range doc.Numerics {
			entries += len(n.Modifiers) + len(n.Containers) + len(n.Images)
			if math.IsNaN(n.Value.Value) || math.IsInf(n.Value.Value, 0) {
				t.Errorf("number %s is not finite", n.Path)
			}
			for _, g := range n.Graphics {
				wellFormed(t, g)
			}
		}
		if entries > maxEntries {
			t.Errorf("%d entries", entries)
		}
	})
}

// deflated is the transfer syntax of a compressed data set (PS3.5 A.5).
const deflated = "1.2.840.10008.1.2.1.99"

func wellFormed(t *testing.T, g Graphic) {
	if want, fits := pointsFit(g.Type, len(g.Points)); !fits {
		t.Errorf("graphic %s: expected %s, got %d", g.Path, want, len(g.Points))
	}
	if g.Link != LinkOwn && g.Link != LinkGroup && g.Link != LinkContainer {
		t.Errorf("graphic %s: link %q", g.Path, g.Link)
	}
	for _, p := range g.Points {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			t.Errorf("graphic %s: a point is not finite", g.Path)
		}
	}
}

// TestSeedsSurviveTheFile makes sure that the files the fuzzer starts from say
// what the data sets say.
func TestSeedsSurviveTheFile(t *testing.T) {
	for i, d := range seeds() {
		content := b.File(d)
		file, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
		if err != nil {
			t.Fatalf("seed %d: %v", i, err)
		}
		direct, read := Read(&d), Read(&file.Data)
		if len(read.Numerics) != len(direct.Numerics) || len(read.Numerics) == 0 || graphics(read.Numerics[0]) != graphics(direct.Numerics[0]) {
			t.Errorf("seed %d reads otherwise from its file", i)
		}
	}
}
