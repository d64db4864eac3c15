package demo

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// committed is the small archive in the repository.
const committed = "../../../../testdata/demo"

// maxBytes is the most that the committed archive may hold.
const maxBytes = 8_000_000

// TestCommitted rebuilds the committed archive byte for byte; UPDATE_GOLDEN=1
// writes it anew.
func TestCommitted(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("pictures are drawn in floating point, which other processors may round in another way")
	}
	dir := t.TempDir()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.RemoveAll(committed); err != nil {
			t.Fatal(err)
		}
		dir = committed
	}
	summary, err := Write(context.Background(), dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if summary.Bytes > maxBytes {
		t.Errorf("the archive has %d bytes, at most %d are wanted", summary.Bytes, maxBytes)
	}
	want, got := files(t, committed), files(t, dir)
	if len(want) < 100 {
		t.Fatalf("only %d files in %s", len(want), committed)
	}
	for path, content := range got {
		if !bytes.Equal(want[path], content) {
			t.Errorf("%s differs from the committed file; UPDATE_GOLDEN=1 writes it anew", path)
		}
		delete(want, path)
	}
	for path := range want {
		t.Errorf("%s is committed and no longer written", path)
	}
}

// files reads a whole tree by relative path.
func files(t *testing.T, root string) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		all[filepath.ToSlash(rel)] = content
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
