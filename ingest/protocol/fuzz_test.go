package protocol

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/internal/allocation"
)

// perByte bounds what Parse may allocate for each byte of a file: the YAML library
// makes a node of what may be two bytes.
const perByte = 2000

// below is more than the built-in protocols have that one extends after the other.
const below = 100_000

// FuzzProtocol: Parse gives an error or a protocol that holds its own promises,
// and the same file written out anew by the YAML library reads as the same
// protocol, places aside. What it allocates is in proportion to the file: aliases
// cannot multiply it.
func FuzzProtocol(f *testing.F) {
	seeds := 0
	for _, pattern := range []string{"builtin/*.yaml", "testdata/bad/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("no seeds in %s: %v", pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
			seeds++
		}
	}
	f.Add([]byte(whole))
	f.Add([]byte("language: 1\nname: x\nversion: 1\ntitle: X\nextends: newborn-heart-function\ndrop: [operator]\nitems:\n  - {id: study-date, fact: study-time}\n"))
	if seeds < 15 {
		f.Fatalf("only %d seeds", seeds)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var p *Protocol
		var err error
		size := len(data)
		if bytes.Contains(data, []byte("extends")) {
			size += below
		}
		if n := allocation.Of(func() { p, err = Parse("fuzz", data) }); n > allocation.Linear(size, perByte) {
			t.Fatalf("%d bytes allocated for %d bytes of file", n, len(data))
		}
		if (err == nil) == (p == nil) {
			t.Fatalf("protocol %v and error %v", p, err)
		}
		if err != nil {
			return
		}
		promises(t, p)
		again, err := Parse("fuzz", rewritten(t, data))
		if err != nil {
			t.Fatalf("written anew it does not read: %v", err)
		}
		forget(p)
		forget(again)
		if !reflect.DeepEqual(p, again) {
			t.Fatalf("written anew it reads as\n%+v\ninstead of\n%+v", again, p)
		}
	})
}

// promises holds what callers rely on without looking.
func promises(t *testing.T, p *Protocol) {
	if p.Name == "" || p.Title == "" || len(p.Items) == 0 || p.When.AtLeast < 1 {
		t.Errorf("name, title, items or at-least missing: %+v", p)
	}
	for _, it := range p.Items {
		if it.ID == "" || len(it.Sources) == 0 || len(it.Rules) == 0 {
			t.Errorf("item without id, source or rule: %+v", it)
		}
		for _, r := range it.Rules {
			ok := map[Kind]bool{KindHeader: r.Header != nil, KindImage: r.Image != nil, KindMeasure: r.Measure != nil,
				KindIndex: r.Index != nil, KindReport: r.Report != nil}[r.Kind]
			if !ok || (r.Image != nil && (r.Image.Count < 1 || len(r.Image.Entries()) == 0)) ||
				(r.Measure != nil && (r.Measure.Count < 1 || len(r.Measure.Measures) == 0)) {
				t.Errorf("item %s: rule %+v", it.ID, r)
			}
		}
	}
}

func rewritten(t *testing.T, data []byte) []byte {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(&doc); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// forget drops the places of references, which a rewritten file changes.
func forget(p *Protocol) {
	clear := func(refs []Ref) {
		for i := range refs {
			refs[i].Line, refs[i].Column = 0, 0
		}
	}
	clear(p.When.Measures)
	for i := range p.Uncertainty.Placement {
		ref := &p.Uncertainty.Placement[i].Measure
		ref.Line, ref.Column = 0, 0
	}
	for i := range p.Items {
		if c := p.Items[i].If; c != nil {
			clear(c.Measures)
		}
		for _, r := range p.Items[i].Rules {
			if r.Measure != nil {
				clear(r.Measure.Measures)
			}
			if r.Index != nil {
				r.Index.Line, r.Index.Column = 0, 0
			}
		}
	}
}
