package ingest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"

	"leadline/ingest/dcm"
)

// object writes a minimal explicit little endian object (PS3.10 7.1).
func object(sopClass, sopUID, studyUID, extra string) []byte {
	var b bytes.Buffer
	text := func(tag dcm.Tag, vr, s string) {
		if len(s)%2 == 1 {
			s += "\x00"
		}
		b.Write([]byte{byte(tag >> 16), byte(tag >> 24), byte(tag), byte(tag >> 8)})
		b.WriteString(vr)
		b.Write([]byte{byte(len(s)), byte(len(s) >> 8)})
		b.WriteString(s)
	}
	b.Write(make([]byte, 128))
	b.WriteString("DICM")
	text(dcm.TransferSyntaxUID, "UI", "1.2.840.10008.1.2.1")
	text(dcm.SOPClassUID, "UI", sopClass)
	text(dcm.SOPInstanceUID, "UI", sopUID)
	text(dcm.StudyInstanceUID, "UI", studyUID)
	b.WriteString(extra)
	return b.Bytes()
}

const (
	usImage = "1.2.840.10008.5.1.4.1.1.6.1"
	usRows  = "\x28\x00\x10\x00US\x02\x00\xF0\x00"
)

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// oddFolder holds one of everything that is met in exports.
func oddFolder(t *testing.T) string {
	dir := t.TempDir()
	first := object(usImage, "2.25.1", "2.25.9", usRows)
	write(t, dir+"/a/IM0001", first)
	write(t, dir+"/b/copy.dcm", first)
	write(t, dir+"/b/other.dcm", object(usImage, "2.25.1", "2.25.9", usRows+usRows))
	write(t, dir+"/c/no-study.dcm", object(usImage, "2.25.2", "", usRows))
	write(t, dir+"/c/cut.dcm", first[:len(first)-3])
	write(t, dir+"/c/raw.dcm", object("1.2.840.10008.5.1.4.1.1.66", "2.25.3", "2.25.9", ""))
	write(t, dir+"/d/notes.txt", []byte("nothing to see\n"))
	write(t, dir+"/d/export.dcm", []byte("PK\x03\x04zip"))
	write(t, dir+"/d/empty.dcm", nil)
	if err := syscall.Mkfifo(dir+"/d/pipe", 0o644); err != nil {
		t.Fatal(err)
	}
	for link, target := range map[string]string{"/d/loop": "..", "/d/broken": "nowhere", "/d/link.dcm": "../a/IM0001"} {
		if err := os.Symlink(target, dir+link); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestLoadLedger(t *testing.T) {
	dir := oddFolder(t)
	archive, err := Load(context.Background(), []string{dir, dir + "/a"}, Options{Workers: 3})
	if err != nil {
		t.Fatal(err)
	}
	offset := regexp.MustCompile(`offset \d+`)
	var got []string
	for _, e := range archive.Ledger {
		got = append(got, fmt.Sprintf("%s %s | %s", strings.TrimPrefix(e.Path, dir), e.Outcome, offset.ReplaceAllString(e.Reason, "offset N")))
	}
	want := []string{
		"/a/IM0001 image | ",
		"/b/copy.dcm duplicate | the same bytes as the file met before with this SOP Instance UID",
		"/b/other.dcm conflict | another file met before has this SOP Instance UID and other bytes; this one is not used",
		"/c/cut.dcm unreadable | the header cannot be read: offset N: expected an element header, and the bytes end before it is whole",
		"/c/no-study.dcm unreadable | no Study Instance UID (0020,000D): the object belongs to no study",
		"/c/raw.dcm other | ",
		"/d/broken unreadable | cannot be opened: no such file or directory",
		"/d/empty.dcm not-dicom | not a DICOM file: the file is empty",
		"/d/export.dcm unreadable | a ZIP archive that cannot be read to its end (files before: 0): reading the list of files: zip: not a valid zip file",
		"/d/link.dcm duplicate | the same bytes as the file met before with this SOP Instance UID",
		"/d/loop not-dicom | a link to a folder that it lies in; not followed",
		"/d/notes.txt not-dicom | not a DICOM file: plain text",
		"/d/pipe not-dicom | not a regular file: a named pipe",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if len(archive.Instances) != 2 {
		t.Errorf("%d instances, want the image and the raw object", len(archive.Instances))
	}
}

// TestLoadOrder: the archive is the same whatever the number of workers.
func TestLoadOrder(t *testing.T) {
	dir := oddFolder(t)
	one, err := Load(context.Background(), []string{dir}, Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	eight, err := Load(context.Background(), []string{dir}, Options{Workers: 8})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(one, eight) {
		t.Error("one and eight workers read different archives")
	}
}

// TestLoadOnePath: of two files with one path, in a folder named so and in an archive,
// the order does not depend on which was read first.
func TestLoadOnePath(t *testing.T) {
	some := []row{{entry: Entry{Path: "a.zip!/x", Bytes: 2}}}
	others := []row{{entry: Entry{Path: "a.zip!/x", Bytes: 1}}}
	for _, rows := range [][][]row{{some, others}, {others, some}} {
		l := &loader{rows: rows}
		if got := l.archive().Ledger; got[0].Bytes != 1 || got[1].Bytes != 2 {
			t.Errorf("ledger %+v, want the smaller file first", got)
		}
	}
}

func TestLoadMissingPath(t *testing.T) {
	_, err := Load(context.Background(), []string{t.TempDir() + "/nowhere"}, Options{})
	var missing *MissingPathError
	if !errors.As(err, &missing) || !strings.HasSuffix(err.Error(), "nowhere: no such file or folder") {
		t.Error(err)
	}
}

// TestLoadWithinArchive: who gives a path of the ledger that leads into an archive is
// told what to give.
func TestLoadWithinArchive(t *testing.T) {
	archive := t.TempDir() + "/export.zip"
	write(t, archive, []byte("PK\x05\x06"))
	_, err := Load(context.Background(), []string{archive + "!/a/1"}, Options{})
	var missing *MissingPathError
	if !errors.As(err, &missing) || !strings.HasSuffix(err.Error(), "is not read alone; give "+archive) {
		t.Error(err)
	}
}

// TestHandedOn: while no file waits to be read one is handed on at once, else many
// together.
func TestHandedOn(t *testing.T) {
	dir := t.TempDir()
	for i := range batch + 3 {
		write(t, fmt.Sprintf("%s/%02d", dir, i), []byte("x"))
	}
	files := make(chan []met, inFlight)
	l := &loader{}
	if err := l.list(context.Background(), []string{dir}, files); err != nil {
		t.Fatal(err)
	}
	close(files)
	var got []int
	for some := range files {
		got = append(got, len(some))
	}
	if want := []int{1, batch, 2}; !slices.Equal(got, want) {
		t.Errorf("handed on %v, want %v", got, want)
	}
}

// TestLoadCancelled stops in the middle of a run, from the progress report.
func TestLoadCancelled(t *testing.T) {
	dir := oddFolder(t)
	ctx, cancel := context.WithCancel(context.Background())
	last := Progress{}
	_, err := Load(ctx, []string{dir}, Options{Workers: 1, Progress: func(p Progress) {
		last = p
		cancel()
	}})
	if !errors.Is(err, context.Canceled) || last.Done == 0 {
		t.Errorf("%v after %v", err, last)
	}
}

// TestLoadHostile: every hostile file is a row, and the run goes on.
func TestLoadHostile(t *testing.T) {
	archive, err := Load(context.Background(), []string{"../testdata/hostile"}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	entries, _ := os.ReadDir("../testdata/hostile")
	if len(archive.Ledger) != len(entries) || len(entries) < 50 {
		t.Errorf("%d rows for %d files", len(archive.Ledger), len(entries))
	}
}
