package ingest

import (
	"hash/maphash"
	"testing"

	"leadline/ingest/dcm"
)

// TestInternOneHash: two headers of one hash stay two, and each is found again.
func TestInternOneHash(t *testing.T) {
	n := newInterner()
	v, other := Series{UID: "1.2"}, &Series{UID: "1.3"}
	n.serieses[maphash.Comparable(n.seed, v)] = other
	first := n.series(v)
	if first == other || first.UID != v.UID {
		t.Fatalf("got series %s, expected %s", first.UID, v.UID)
	}
	if again := n.series(v); again != first {
		t.Error("the same series was kept twice")
	}
}

// TestWriterTexts: writers whose texts are the same letters, divided otherwise, are two.
func TestWriterTexts(t *testing.T) {
	b := &builder{pool: newPool()}
	of := func(class, version string) *Writer {
		return b.writer(&dcm.Dataset{Elements: []dcm.Element{
			{Tag: dcm.ImplementationClassUID, VR: dcm.VR{'U', 'I'}, Value: []byte(class)},
			{Tag: dcm.ImplementationVersionName, VR: dcm.VR{'S', 'H'}, Value: []byte(version)},
		}})
	}
	a := of("1.2.3", "4")
	if other := of("1.2", ".34"); other == a || other.Class != "1.2" || other.Version != ".34" {
		t.Errorf("got %+v beside %+v", *other, *a)
	}
	if again := of("1.2.3", "4 "); again != a {
		t.Error("padding made a second writer")
	}
}
