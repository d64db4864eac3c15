package presentation

import (
	"bytes"
	"math"
	"testing"

	"leadline/ingest/dcm"
	"leadline/ingest/internal/allocation"
	b "leadline/ingest/internal/dcmbuild"
)

// seeds are states that Read must understand.
func seeds() []dcm.Dataset {
	return []dcm.Dataset{
		state([]dcm.Dataset{area(1, 1, 800, 600)}, annotation([]dcm.Dataset{graphic("POLYLINE", "PIXEL", 1, 2, 3, 4)}, nil, []dcm.Dataset{anchored("LVIDd 1.82 cm", "PIXEL", 3, 4)})),
		state([]dcm.Dataset{area(1, 1, 800, 600, "1.2", "1")}, annotation([]dcm.Dataset{graphic("ELLIPSE", "DISPLAY", .1, .2, .3, .4, .5, .6, .7, .8)}, nil, []dcm.Dataset{boxed("PSV: -45,3 cm/s", "DISPLAY", .1, .1, .2, .2)})),
		state(nil, annotation([]dcm.Dataset{with(graphic("POLYLINE", "PIXEL", 1, 2, 3, 4), dcm.CompoundGraphicInstanceID, 3)},
			[]dcm.Dataset{with(compound("RULER", 1, 2, 3, 4), dcm.CompoundGraphicInstanceID, 3)}, []dcm.Dataset{with(anchored("2", "PIXEL", 0, 0), dcm.GraphicGroupID, 1)})),
	}
}

// perByte bounds what Read may allocate for each byte of a file.
const perByte = 500

// deflated is the transfer syntax of a compressed data set (PS3.5 A.5).
const deflated = "1.2.840.10008.1.2.1.99"

// FuzzPresentation reads whatever passes the header scan. Nothing may panic;
// graphics must be whole and finite, texts paired within bounds, values finite,
// and what is allocated in proportion to the file.
func FuzzPresentation(f *testing.F) {
	for i, d := range seeds() {
		content := b.File(d)
		file, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
		if err != nil {
			f.Fatalf("seed %d: %v", i, err)
		}
		if s := Read(&file.Data); len(s.Annotations) != 1 || len(s.Annotations[0].Graphics) != 1 || len(s.Problems) != 0 {
			f.Fatalf("seed %d is not understood: %q", i, s.Problems)
		}
		f.Add(content)
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		file, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
		if err != nil {
			return
		}
		if file.TransferSyntaxUID == deflated {
			return // its bytes are no measure of what it holds
		}
		var s *State
		if n := allocation.Of(func() { s = Read(&file.Data) }); n > allocation.Linear(len(content), perByte) {
			t.Errorf("%d bytes allocated for %d bytes of file", n, len(content))
		}
		if len(s.Problems) > maxProblems+1 {
			t.Errorf("%d problems", len(s.Problems))
		}
		for i := range s.Annotations {
			checkAnnotation(t, s, &s.Annotations[i])
		}
	})
}

func checkAnnotation(t *testing.T, s *State, a *Annotation) {
	of := s.TextsOf(a, "1.2", 1)
	if len(of) != len(a.Graphics) {
		t.Fatalf("%d answers for %d graphics", len(of), len(a.Graphics))
	}
	for i, g := range a.Graphics {
		if expected, fits := pointsFit(g, len(g.Points)); !fits {
			t.Errorf("expected %s, got %d points", expected, len(g.Points))
		}
		if of[i] < -1 || of[i] >= len(a.Texts) {
			t.Errorf("text %d of %d", of[i], len(a.Texts))
		}
		points, reason, ok := s.ImagePoints(g, "1.2", 1)
		if ok == (reason != "") {
			t.Errorf("ok %v with reason %q", ok, reason)
		}
		for _, p := range points {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
				t.Error("a point is not finite")
			}
		}
	}
	for _, text := range a.Texts {
		checkReading(t, text.Text)
	}
}

func checkReading(t *testing.T, text string) {
	r := ParseText(text)
	if math.IsNaN(r.Value.Value) || math.IsInf(r.Value.Value, 0) || r.Value.Set != (r.Unit != "") || r.Value.Set != (r.ValueText != "") {
		t.Errorf("value and unit do not go together")
	}
	if len(r.Label) > len(text) {
		t.Errorf("a label longer than its text")
	}
}

// FuzzText asserts the same of texts alone.
func FuzzText(f *testing.F) {
	for _, text := range []string{"LVIDd 1.82 cm", "PSV: -45,3 cm/s", "1.2 x 3.4 cm", "12:30", "\u22125 mm", "( : = ,"} {
		f.Add(text)
	}
	f.Fuzz(checkReading)
}
