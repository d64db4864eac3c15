package pixels

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// largestSeed keeps the corpus small: the larger files differ in nothing but size.
const largestSeed = 40 << 10

// seeds are the hostile files and the small ones of the demo archive.
func seeds(t testing.TB) [][]byte {
	var all [][]byte
	for _, root := range []string{"../../testdata/hostile", "../../testdata/demo"} {
		filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			if b, err := os.ReadFile(path); err == nil && len(b) <= largestSeed {
				all = append(all, b)
			}
			return nil
		})
	}
	if len(all) < 60 {
		t.Fatalf("only %d seeds", len(all))
	}
	return all
}

// FuzzPixels: whatever the bytes, the answer is an error or a frame with all its
// samples.
func FuzzPixels(f *testing.F) {
	for _, b := range seeds(f) {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) { wantWhole(t, b) })
}

func wantWhole(t *testing.T, b []byte) *Frame {
	t.Helper()
	frame, err := First(bytes.NewReader(b), int64(len(b)))
	switch {
	case err != nil && frame != nil:
		t.Error("a frame and an error")
	case err == nil && (frame.Columns < 1 || frame.Rows < 1 || len(frame.Pix) != frame.Columns*frame.Rows*frame.Samples()):
		t.Errorf("%d bytes for %d by %d pixels of %d samples", len(frame.Pix), frame.Columns, frame.Rows, frame.Samples())
	case err == nil && len(frame.Brightness()) != frame.Columns*frame.Rows:
		t.Error("the brightness has another size")
	}
	return frame
}
