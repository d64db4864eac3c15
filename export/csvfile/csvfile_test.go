package csvfile

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"leadline/export"
	"leadline/export/atomicfile"
	"leadline/export/internal/sample"
)

func TestGuard(t *testing.T) {
	cases := []struct{ in, want string }{
		{"plain", "plain"},
		{"", ""},
		{"=1+1", "'=1+1"},
		{"+49 30", "'+49 30"},
		{"-cmd", "'-cmd"},
		{"@sum", "'@sum"},
		{"\tx", "'\tx"},
		{"  =1+1", "'  =1+1"},
		{"＝1+1", "'＝1+1"},
		{"-1", "-1"},
		{"+49", "+49"},
		{"-1+2", "'-1+2"},
		{"-", "'-"},
		{"'=1", "'=1"},
		{"a=b", "a=b"},
	}
	for _, c := range cases {
		if got := guard(c.in); got != c.want {
			t.Errorf("guard(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

// TestGolden holds every byte of every table of the sample; UPDATE_GOLDEN=1 writes
// the golden files anew.
func TestGolden(t *testing.T) {
	golden := filepath.Join("testdata", "golden")
	for _, table := range export.Tables(sample.Result(), export.Options{}) {
		var got bytes.Buffer
		if err := Write(context.Background(), &got, table); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(golden, table.Name+extension)
		if os.Getenv("UPDATE_GOLDEN") != "" {
			if err := errors.Join(os.MkdirAll(golden, 0o755), os.WriteFile(path, got.Bytes(), 0o644)); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want) {
			t.Errorf("%s differs from %s; UPDATE_GOLDEN=1 writes it anew", table.Name, path)
		}
		rows, err := csv.NewReader(bytes.NewReader(want)).ReadAll()
		if err != nil || len(rows) != table.Len+1 {
			t.Errorf("%s: %d records for %d rows, %v", table.Name, len(rows), table.Len, err)
		}
		if !bytes.HasSuffix(want, []byte("\r\n")) {
			t.Errorf("%s: the last line is not ended by CR LF", table.Name)
		}
	}
}

func TestCancelledLeavesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "tables")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := WriteDir(ctx, dir, export.Tables(sample.Result(), export.Options{}), false)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want the context's error", err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("an interrupted run left its folder")
	}
}

func TestExistingIsRefused(t *testing.T) {
	dir := t.TempDir()
	tables := export.Tables(sample.Result(), export.Options{})
	taken := filepath.Join(dir, "regions.csv")
	if err := os.WriteFile(taken, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	var exists *atomicfile.ExistsError
	if err := WriteDir(context.Background(), dir, tables, false); !errors.As(err, &exists) || exists.Path != taken {
		t.Errorf("got %v, want *ExistsError for %s", err, taken)
	}
	entries, _ := os.ReadDir(dir)
	if len(entries) != 1 {
		t.Errorf("a refused run wrote %d files", len(entries)-1)
	}
	if err := WriteDir(context.Background(), dir, tables, true); err != nil {
		t.Errorf("with force: %v", err)
	}
}
