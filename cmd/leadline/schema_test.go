package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/protocol"
)

// A schema sees neither how a file is written nor what one part says of another:
// these broken files it takes, each for the reason beside it. Every other one it
// must refuse.
var beyondSchema = map[string]string{
	"age-range":            "one number is held against another",
	"alias-bomb":           "anchors and aliases are gone when a document is read",
	"anchor":               "anchors are gone when a document is read",
	"at-least-too-many":    "at-least is held against the length of other lists",
	"depth-range":          "one number is held against another",
	"duplicate-id":         "one item is held against another",
	"duplicate-key":        "keys are gone when a document is read",
	"min-above-max":        "one number is held against another",
	"name-without-letters": "what a letter is, the expressions of a schema do not say everywhere alike",
	"not-a-number":         "JSON has no such number",
	"not-yaml":             "it is no document",
	"tab":                  "it is no document",
	"tag":                  "tags are gone when a document is read",
	"two-documents":        "each of them is held alone",
	"unknown-source":       "the words stand in the file itself",
}

// TestSchema holds the schema against a general validator: it is a schema by the
// meta-schema, takes every protocol that is read without fault, and refuses every
// broken one that a schema can.
func TestSchema(t *testing.T) {
	python := needSchemaPython(t)
	documents := map[string]any{}
	for _, name := range protocol.Builtins() {
		text, err := protocol.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		documents["good "+name] = documentOf(t, name, text)
		if text, err = protocol.Text(name); err != nil {
			t.Fatal(err)
		}
		documents["good whole "+name] = documentOf(t, name, text)
	}
	for name, text := range goodProtocols {
		if _, err := protocol.Parse(name, []byte(text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		documents["good "+name] = documentOf(t, name, []byte(text))
	}
	files, err := filepath.Glob("../../ingest/protocol/testdata/bad/*.yaml")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d broken files: %v", len(files), err)
	}
	var beyond []string
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		if beyondSchema[name] != "" {
			beyond = append(beyond, name)
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		documents["bad "+name] = documentOf(t, name, text)
	}
	if len(beyond) != len(beyondSchema) {
		t.Errorf("files are gone that the schema need not refuse: of %v there are %v", beyondSchema, beyond)
	}
	for name, text := range badProtocols {
		documents["bad "+name] = documentOf(t, name, []byte(text))
	}
	refused := validate(t, python, documents)
	for name := range documents {
		switch why, is := refused[name]; {
		case is && strings.HasPrefix(name, "good "):
			t.Errorf("the schema refuses %s: %s", name, why)
		case !is && strings.HasPrefix(name, "bad "):
			t.Errorf("the schema takes %s", name)
		}
	}
	t.Logf("%d documents, %d of them refused; %d broken files beyond a schema", len(documents), len(refused), len(beyond))
}

const schemaHead = "language: 1\nname: ours\nversion: 1\ntitle: Ours\n"

// Protocols of which each writes something in another way.
var goodProtocols = map[string]string{
	"extends":    schemaHead + "extends: newborn-heart-function\ndrop: tapse\nitems:\n  - {id: apical-four-chamber-clip, min-seconds: 2}\n  - {id: left-atrium, any-of: [{kind: report}, {kind: measure, measure: tapse}]}\n",
	"only drops": schemaHead + "extends: newborn-heart-function\ndrop: [tapse, left-atrium]\n",
	"short forms": schemaHead + "sources: {2011: 7}\nwhen: {body-parts: HEART, at-least: 1}\nuncertainty: {placement-px: {tapse: 1}}\nitems:\n" +
		"  - {id: 4, title: 4, sources: 2011, kind: report, within-hours: 0.5}\n" +
		"  - {id: b, title: B, sources: [2011], if: {measure: [tapse]}, any-of: [{kind: index, index: fractional-shortening}, {kind: header, fact: operator}]}\n" +
		"  - {id: c, title: C, sources: [2011], kind: image, view: lung, type: clip, min-frames: 3, need: preferred}\n" +
		"  - {id: d, title: D, sources: [2011], kind: image, view-names: Window 3, severity: error}\n" +
		"  - {id: e, title: E, sources: [2011], any-of: [{kind: image, view-codes: [99WARD W3]}, {kind: measure, measure: tapse, plane: m-mode, in-report: true}]}\n",
}

// Faults of what stands beside extends, and words that ingest does not know.
var badProtocols = map[string]string{
	"drop alone":        schemaHead + "drop: [tapse]\nsources: {a: b}\nwhen: {body-parts: HEART}\nitems: [{id: a, title: A, sources: a, kind: report}]\n",
	"change without id": schemaHead + "extends: newborn-heart-function\nitems: [{count: 2}]\n",
	"change of no key":  schemaHead + "extends: newborn-heart-function\nitems: [{id: tapse, counts: 2}]\n",
	"unknown measure":   schemaHead + "extends: newborn-heart-function\nitems: [{id: tapse, measure: tapsee}]\n",
	"unknown index":     schemaHead + "sources: {a: b}\nwhen: {body-parts: HEART}\nitems: [{id: a, title: A, sources: a, kind: index, index: fractional-shorting}]\n",
}

func validate(t *testing.T, python string, documents map[string]any) (refused map[string]string) {
	t.Helper()
	var schema bytes.Buffer
	if err := printSchema(&schema, nil); err != nil {
		t.Fatal(err)
	}
	in, err := json.Marshal(map[string]any{"schema": json.RawMessage(schema.Bytes()), "documents": documents})
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, filepath.Join(oracleDir, "schema.py"))
	cmd.Stdin = bytes.NewReader(in)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("schema.py: %v\n%s", err, out)
	}
	refused = map[string]string{}
	for line := range strings.Lines(string(out)) {
		name, why, _ := strings.Cut(strings.TrimSpace(line), "\t")
		refused[name] = why
	}
	return refused
}

// needSchemaPython finds a Python that has jsonschema.
func needSchemaPython(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import jsonschema").Run() == nil {
			return python
		}
	}
	t.Skip("skipped: no Python with jsonschema (Debian package python3-jsonschema)")
	return ""
}

// documentOf is what an editor makes of a file: its values, all keys as text.
func documentOf(t *testing.T, name string, text []byte) any {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal(text, &n); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(n.Content) == 0 {
		return nil
	}
	return plainValue(t, n.Content[0])
}

func plainValue(t *testing.T, n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for pair := range slices.Chunk(n.Content, 2) {
			m[pair[0].Value] = plainValue(t, pair[1])
		}
		return m
	case yaml.SequenceNode:
		list := make([]any, len(n.Content))
		for i, c := range n.Content {
			list[i] = plainValue(t, c)
		}
		return list
	}
	var v any
	if err := n.Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}
