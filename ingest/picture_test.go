package ingest

import (
	"bytes"
	"context"
	"errors"
	"os"
	"strings"
	"testing"

	"archive/zip"

	"leadline/ingest/pixels"
)

// demoPicture is an image of the demo archive, a still of JPEG baseline.
const demoPicture = "../testdata/demo/exports/delivery room/20260902-003/US00001.dcm"

// TestFirstFrame reads the same first frame from a file and from every kind of
// container that is come back to, after all of them are closed; a member of an archive
// of one pass says why it is not.
func TestFirstFrame(t *testing.T) {
	file, err := os.ReadFile(demoPicture)
	if err != nil {
		t.Fatal(err)
	}
	want, err := pixels.First(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{
		"plain":              file,
		"deflated.zip":       zipped(t, zip.Deflate, packed{"a", file}),
		"stored.zip":         zipped(t, zip.Store, packed{"a", file}),
		"files.tar":          tarred(t, packed{"a", file}),
		"zip within.zip":     zipped(t, zip.Store, packed{"in.zip", zipped(t, zip.Deflate, packed{"a", file})}),
		"ONE PASS files.tgz": gzipped(t, tarred(t, packed{"a", file})),
		"ONE PASS deep.zip":  zipped(t, zip.Deflate, packed{"in.zip", zipped(t, zip.Deflate, packed{"a", file})}),
	} {
		dir := t.TempDir()
		write(t, dir+"/"+name, content)
		archive, err := Load(context.Background(), []string{dir}, Options{Pictures: true})
		if err != nil || len(archive.Instances) != 1 {
			t.Fatalf("%s: %v, %d instances", name, err, len(archive.Instances))
		}
		got, err := archive.FirstFrame(archive.Instances[0])
		var refused *pixels.NotDecodedError
		switch {
		case strings.HasPrefix(name, "ONE PASS"):
			if !errors.As(err, &refused) || !strings.Contains(refused.Reason, "unpack") {
				t.Errorf("%s: %v", name, err)
			}
		case err != nil:
			t.Errorf("%s: %v", name, err)
		case got.Columns != want.Columns || !bytes.Equal(got.Pix, want.Pix):
			t.Errorf("%s: another picture", name)
		}
	}
}

// TestFirstFrameGone: a file that has gone, and an archive that was loaded without
// pictures, are told without the path, which may be a name.
func TestFirstFrameGone(t *testing.T) {
	dir := t.TempDir()
	file, err := os.ReadFile(demoPicture)
	if err != nil {
		t.Fatal(err)
	}
	write(t, dir+"/Doe^Jane.dcm", file)
	for _, kept := range []bool{true, false} {
		archive, err := Load(context.Background(), []string{dir}, Options{Pictures: kept})
		if err != nil {
			t.Fatal(err)
		}
		if kept {
			if err := os.Rename(dir+"/Doe^Jane.dcm", dir+"/moved"); err != nil {
				t.Fatal(err)
			}
		}
		frame, err := archive.FirstFrame(archive.Instances[0])
		if frame != nil || err == nil || strings.Contains(err.Error(), "Doe") {
			t.Errorf("kept %v: %v %v", kept, frame, err)
		}
	}
}
