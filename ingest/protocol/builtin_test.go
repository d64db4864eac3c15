package protocol_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leadline/ingest/protocol"
)

// Every built-in protocol loads by its name and bears it, and its text is what is
// embedded, so that it can be printed, changed and given back.
func TestBuiltins(t *testing.T) {
	if len(protocol.Builtins()) == 0 {
		t.Fatal("no built-in protocol")
	}
	for _, name := range protocol.Builtins() {
		p, err := protocol.Load(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Name != name || len(p.Items) == 0 {
			t.Errorf("%s: bears the name %q and has %d items", name, p.Name, len(p.Items))
		}
		text, err := protocol.Source(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		file := filepath.Join(t.TempDir(), "copy.yaml")
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
		if q, err := protocol.Load(file); err != nil || len(q.Items) != len(p.Items) {
			t.Errorf("%s: its copy does not load alike: %v", name, err)
		}
	}
}

// What an audit uses by default is built in.
func TestDefaults(t *testing.T) {
	if len(protocol.Defaults()) == 0 {
		t.Error("an audit has no protocol by default")
	}
	for _, name := range protocol.Defaults() {
		if !slices.Contains(protocol.Builtins(), name) {
			t.Errorf("%s is not built in", name)
		}
	}
}

func TestLoadRefuses(t *testing.T) {
	dir := t.TempDir()
	big := filepath.Join(dir, "big.yaml")
	if err := os.WriteFile(big, make([]byte, 1<<20+1), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, want string }{
		{"newborn-hart-function", "newborn-hart-function: expected a file, or a built-in protocol: " + strings.Join(protocol.Builtins(), ", ") +
			`, found neither; the nearest word is "newborn-heart-function"`},
		{dir, dir + ": expected a file, found a folder or a device"},
		{big, big + ": expected at most 1048576 bytes, found more"},
	} {
		_, err := protocol.Load(c.name)
		if err == nil || err.Error() != c.want {
			t.Errorf("Load: %v\nwant  %s", err, c.want)
		}
		var fe *protocol.FileError
		if !errors.As(err, &fe) || fe.File != c.name {
			t.Errorf("Load(%s): the error names no file: %v", c.name, err)
		}
	}
	if _, err := protocol.Source("nothing"); err == nil || !strings.Contains(err.Error(), "newborn-heart-function") {
		t.Errorf("Source of nothing: %v", err)
	}
}

// A word that the language does not know is answered with its place and the
// nearest one that it does.
func ExampleParse() {
	_, err := protocol.Parse("mine.yaml", []byte(`
language: 1
name: mine
version: 1
title: My study
sources: {unit: local policy}
when: {body-parts: HEART}
items:
  - id: weight
    title: Weight
    kind: haeder
    fact: patient-weight
    sources: unit
`))
	fmt.Println(err)
	// Output: mine.yaml:11:11: expected a word for kind: header, image, measure, index, report, found "haeder"; the nearest word is "header"
}

func ExampleLoad() {
	p, err := protocol.Load("newborn-heart-function")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Title)
	for _, it := range p.Items[:2] {
		fmt.Println(it.ID, it.Kind(), it.Required)
	}
	// Output:
	// Functional newborn heart study
	// patient-weight header true
	// study-date header true
}
