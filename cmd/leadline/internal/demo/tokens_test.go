package demo

import (
	"bytes"
	"strings"
	"testing"
)

// TestTokens holds that what tests look for in outputs does stand in the files,
// and neither in their paths nor in the tables beside them, save the notes of the
// study table, which a person wrote.
func TestTokens(t *testing.T) {
	all := files(t, committed)
	var dicom [][]byte
	var open strings.Builder
	for path, content := range all {
		open.WriteString(path + "\n")
		if path == labelTable {
			continue
		}
		if strings.HasSuffix(path, ".csv") || strings.HasSuffix(strings.ToLower(path), ".txt") {
			open.Write(content)
			continue
		}
		dicom = append(dicom, content[:min(len(content), 4096)])
	}
	headers := bytes.Join(dicom, nil)
	tokens := append(PatientTokens(), StaffTokens()...)
	if len(tokens) < 7*len(curated) {
		t.Fatalf("only %d tokens", len(tokens))
	}
	for _, token := range tokens {
		if strings.Contains(open.String(), token) {
			t.Errorf("%q stands in a path or a table", token)
		}
		written := !isoDate(token) && token != reader && token != strings.Split(reader, "^")[0]
		if written && !bytes.Contains(headers, []byte(token)) {
			t.Errorf("%q stands in no header", token)
		}
	}
}

// isoDate tells the second form of a birth date, which files do not use.
func isoDate(token string) bool { return len(token) == 10 && token[4] == '-' && token[7] == '-' }
