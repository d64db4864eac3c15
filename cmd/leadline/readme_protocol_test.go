package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadline/ingest"
	"leadline/ingest/protocol"
)

// TestReadmeProtocols reads the protocols of the README as a reader would copy
// them, and wants every key of the language to be shown there.
func TestReadmeProtocols(t *testing.T) {
	examples := readmeProtocols(t)
	if len(examples) != 2 {
		t.Fatalf("the README has %d protocols, wanted one that extends another and one that is whole", len(examples))
	}
	for i, text := range examples {
		file := filepath.Join(t.TempDir(), "ours.yaml")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		p, err := loadProtocol(file, nil)
		if err != nil {
			t.Errorf("example %d: %v", i+1, err)
			continue
		}
		if (p.Extends != nil) != (i == 0) {
			t.Errorf("example %d extends %v", i+1, p.Extends)
		}
	}
	shown := strings.Join(examples, "")
	keys := schemaKeys(t)
	if len(keys) < 35 {
		t.Errorf("the schema has only the keys %v", keys)
	}
	for key := range keys {
		if !strings.Contains(shown, key+":") {
			t.Errorf("the README does not show the key %s", key)
		}
	}
}

// readmeProtocols are the indented blocks that begin as a protocol does.
func readmeProtocols(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var blocks []string
	inside := false
	for line := range strings.Lines(string(text)) {
		code, indented := strings.CutPrefix(line, "    ")
		switch {
		case indented && !inside && strings.HasPrefix(code, "language:"):
			inside = true
			blocks = append(blocks, code)
		case indented && inside:
			blocks[len(blocks)-1] += code
		default:
			inside = false
		}
	}
	return blocks
}

// schemaKeys are all keys that the schema knows, at any level.
func schemaKeys(t *testing.T) map[string]bool {
	t.Helper()
	text, err := protocol.Schema([]string{"tapse"}, []string{"heart-rate"})
	if err != nil {
		t.Fatal(err)
	}
	var schema any
	if err := json.NewDecoder(bytes.NewReader(text)).Decode(&schema); err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	schemaKeysOf(schema, keys)
	return keys
}

func schemaKeysOf(node any, keys map[string]bool) {
	switch node := node.(type) {
	case []any:
		for _, child := range node {
			schemaKeysOf(child, keys)
		}
	case map[string]any:
		if properties, ok := node["properties"].(map[string]any); ok {
			for key := range properties {
				keys[key] = true
			}
		}
		for _, child := range node {
			schemaKeysOf(child, keys)
		}
	}
}

// TestReadmeLabels reads the study table of the README as a reader would copy it.
func TestReadmeLabels(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var csv strings.Builder
	for line := range strings.Lines(string(text)) {
		code, indented := strings.CutPrefix(line, "    ")
		if indented && (csv.Len() > 0 || strings.HasPrefix(code, "path,view,")) {
			csv.WriteString(code)
		} else if csv.Len() > 0 {
			break
		}
	}
	file := filepath.Join(t.TempDir(), "labels.csv")
	if err := os.WriteFile(file, []byte(csv.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	rows, err := ingest.ReadLabels(file)
	if err != nil || len(rows) != 3 || rows[1].Side != "left" || rows[2].View != "parasternal-long-axis" {
		t.Errorf("%+v: %v", rows, err)
	}
}
