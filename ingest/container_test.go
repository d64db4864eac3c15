package ingest

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"
)

type packed struct {
	name string
	data []byte
}

func zipped(t *testing.T, method uint16, files ...packed) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.name, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(f.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func tarred(t *testing.T, files ...packed) []byte {
	t.Helper()
	var b bytes.Buffer
	w := tar.NewWriter(&b)
	for _, f := range files {
		if err := w.WriteHeader(&tar.Header{Name: f.name, Mode: 0o600, Size: int64(len(f.data)), Typeflag: tar.TypeReg}); err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(f.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func gzipped(t *testing.T, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestLoadContainers reads one image from every kind of container, and tells the
// copies of it from an image of other bytes.
func TestLoadContainers(t *testing.T) {
	dir := t.TempDir()
	image := object(usImage, "2.25.1", "2.25.9", usRows)
	other := object(usImage, "2.25.1", "2.25.9", usRows+usRows)
	text := []byte("notes")
	write(t, dir+"/a.dcm", image)
	write(t, dir+"/b.zip", zipped(t, zip.Deflate, packed{"x/1", image}, packed{"x/2", other}, packed{"notes.txt", text}))
	write(t, dir+"/c.tar", tarred(t, packed{"./1", image}, packed{"cut", image[:len(image)-3]}))
	write(t, dir+"/d.tar.gz", gzipped(t, tarred(t, packed{"1", image})))
	write(t, dir+"/e.zip", zipped(t, zip.Store, packed{"in.zip", zipped(t, zip.Deflate, packed{"1", other}, packed{"deep.zip", zipped(t, zip.Deflate)})}))
	write(t, dir+"/f.gz", gzipped(t, text))
	write(t, dir+"/g.zip", zipped(t, zip.Deflate, packed{"1", image})[:60])
	archive, err := Load(context.Background(), []string{dir}, Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range archive.Ledger {
		got = append(got, fmt.Sprintf("%s %s", strings.TrimPrefix(e.Path, dir), e.Outcome))
	}
	want := []string{
		"/a.dcm image",
		"/b.zip not-dicom", "/b.zip!/notes.txt not-dicom", "/b.zip!/x/1 duplicate", "/b.zip!/x/2 conflict",
		"/c.tar not-dicom", "/c.tar!/1 duplicate", "/c.tar!/cut unreadable",
		"/d.tar.gz not-dicom", "/d.tar.gz!/1 duplicate",
		"/e.zip not-dicom", "/e.zip!/in.zip not-dicom", "/e.zip!/in.zip!/1 conflict", "/e.zip!/in.zip!/deep.zip unreadable",
		"/f.gz not-dicom",
		"/g.zip unreadable",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestLoadZipBomb: a member that inflates to far more than a header is given up
// at the limit, and the next member is read.
func TestLoadZipBomb(t *testing.T) {
	dir := t.TempDir()
	var bomb bytes.Buffer
	bomb.Write(object(usImage, "2.25.1", "2.25.9", ""))
	bomb.WriteString("\x09\x00\x10\x10UN\x00\x00\x00\x00\x80\x02") // 40 MiB of private zeros
	bomb.Write(make([]byte, 0x02800000))
	bomb.WriteString(usRows) // what would have to be read behind them
	write(t, dir+"/bomb.zip", zipped(t, zip.Deflate, packed{"bomb", bomb.Bytes()}, packed{"good", object(usImage, "2.25.2", "2.25.9", usRows)}))
	archive, err := Load(context.Background(), []string{dir}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if e := archive.Ledger[1]; e.Outcome != OutcomeUnreadable || !strings.Contains(e.Reason, "bytes of a compressed header") {
		t.Errorf("bomb: %s, %s", e.Outcome, e.Reason)
	}
	if e := archive.Ledger[2]; e.Outcome != OutcomeImage {
		t.Errorf("good: %s, %s", e.Outcome, e.Reason)
	}
}
