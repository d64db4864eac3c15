package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// TestHeaderRoundTrip wants the header of every source to be written byte for byte
// as it was read, so that what a tree changes is only what it means to.
func TestHeaderRoundTrip(t *testing.T) {
	for _, names := range sourceFiles {
		for _, name := range names {
			file, err := os.ReadFile(filepath.Join(realFiles, name))
			if errors.Is(err, fs.ErrNotExist) {
				t.Skip("the shared folder with real files is not beside the repository")
			} else if err != nil {
				t.Fatal(err)
			}
			h, err := parse(file)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			written := h.encode()
			clear(file[:metaAt-4]) // the preamble may hold anything
			if !bytes.HasPrefix(file, written) {
				t.Errorf("%s: another header is written than was read", name)
			}
			next := file[min(len(written), len(file)):]
			if h.hasPixels && !bytes.HasPrefix(next, []byte{0xE0, 0x7F, 0x10, 0x00}) || !h.hasPixels && len(next) > 0 {
				t.Errorf("%s: the header written does not end where the pixel data begin", name)
			}
		}
	}
}

// TestParseCut wants every cut of a header to be an error or a shorter header, never
// a panic.
func TestParseCut(t *testing.T) {
	file := smallSources()[strip][0].header.encode()
	whole, err := parse(file)
	if err != nil {
		t.Fatal(err)
	}
	for n := range len(file) {
		h, err := parse(file[:n])
		if err == nil && len(h.meta)+len(h.data) >= len(whole.meta)+len(whole.data) {
			t.Errorf("cut at %d: nothing is missing", n)
		}
	}
}
