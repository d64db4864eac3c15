package ingest

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"leadline/ingest/dcm"
	b "leadline/ingest/internal/dcmbuild"
)

// record is a directory record that names a file; inUse is its Record In-use Flag.
func record(inUse float64, kind, uid string, components ...string) dcm.Dataset {
	return b.Set(
		b.Number(dcm.RecordInUseFlag, "US", inUse),
		b.Text(dcm.DirectoryRecordType, "CS", kind),
		b.Text(dcm.ReferencedFileID, "CS", components...),
		b.Text(dcm.ReferencedSOPClassUIDInFile, "UI", usImage),
		b.Text(dcm.ReferencedSOPInstanceUIDInFile, "UI", uid))
}

// mediaFile writes a media directory, whose class stands in its meta group only.
func mediaFile(records ...dcm.Dataset) []byte {
	return b.FileOf(mediaDirectory, b.Set(b.Sequence(dcm.DirectoryRecordSequence, records...)))
}

// patientRecord names no file.
var patientRecord = b.Set(
	b.Number(dcm.RecordInUseFlag, "US", 0xFFFF),
	b.Text(dcm.DirectoryRecordType, "CS", "PATIENT"))

// TestDirectoryRecords: what a record names stays below the folder, whatever it
// says; records that name nothing or are inactive are left out.
func TestDirectoryRecords(t *testing.T) {
	long := strings.Repeat("A", maxFileID+1)
	for _, c := range []struct {
		name string
		item dcm.Dataset
		want string
	}{
		{"plain", record(0xFFFF, "IMAGE", "2.25.1", "A", "IM1"), "A/IM1 IMAGE 2.25.1"},
		{"lower case and padding", record(0xFFFF, "IMAGE", "2.25.1", "a ", "im1 "), "a/im1 IMAGE 2.25.1"},
		{"in-use flag of another value", record(1, "IMAGE", "2.25.1", "A"), "A IMAGE 2.25.1"},
		{"no in-use flag", b.Set(b.Text(dcm.ReferencedFileID, "CS", "A")), "A  "},
		{"inactive", record(0, "IMAGE", "2.25.1", "A"), ""},
		{"patient", patientRecord, ""},
		{"blank File ID", record(0xFFFF, "IMAGE", "2.25.1", "  "), ""},
		{"upwards", record(0xFFFF, "IMAGE", "2.25.1", "..", "..", "ETC"), "?/?/ETC IMAGE 2.25.1"},
		{"absolute", record(0xFFFF, "IMAGE", "2.25.1", "", "ETC", "."), "?/ETC/? IMAGE 2.25.1"},
		{"a path as component", record(0xFFFF, "IMAGE", "2.25.1", "../ETC/PASSWD"), "? IMAGE 2.25.1"},
		{"control characters", record(0xFFFF, "IMAGE", "2.25.1", "A\x01\x1BB"), `A\x01\x1BB IMAGE 2.25.1`},
		{"longer than any name", record(0xFFFF, "IMAGE", "2.25.1", long), "? IMAGE 2.25.1"},
		{"type and UID longer than any", record(0xFFFF, long, long, "A"), "A  "},
	} {
		d := directoryOf("m/DICOMDIR", &dcm.Dataset{Elements: []dcm.Element{b.Sequence(dcm.DirectoryRecordSequence, c.item)}})
		got := ""
		for _, r := range d.Records {
			got += fmt.Sprintf("%s %s %s", r.FileID, r.Type, r.SOPInstanceUID)
		}
		if got != c.want || d.Folder != "m" {
			t.Errorf("%s: got %q, want %q; folder %q", c.name, got, c.want, d.Folder)
		}
	}
}

// TestLoadDirectories finds media directories under any name, in folders and in
// containers, and orders them by path.
func TestLoadDirectories(t *testing.T) {
	dir := t.TempDir()
	media := mediaFile(patientRecord, record(0xFFFF, "IMAGE", "2.25.1", "IM1"), record(0, "IMAGE", "2.25.2", "IM2"))
	write(t, dir+"/a/DICOMDIR", media)
	write(t, dir+"/b/listing.bin", mediaFile())
	write(t, dir+"/c.zip", zipped(t, zip.Deflate, packed{"x/DICOMDIR", media}, packed{"x/IM1", object(usImage, "2.25.1", "2.25.9", usRows)}))
	write(t, dir+"/d.tar", tarred(t, packed{"DICOMDIR", media}))
	write(t, dir+"/e/cut", media[:len(media)-7])
	over := mediaFile(record(0xFFFF, "IMAGE", "2.25.1", "IM1"), record(0xFFFF, "IMAGE", "2.25.2", "IM2"))
	lengthOfLast := bytes.LastIndex(over, []byte("\xFE\xFF\x00\xE0")) + 4
	over[lengthOfLast] += 24 // as in a real file: the last item is said to be longer than the sequence
	write(t, dir+"/e/over", over)
	write(t, dir+"/f/no-meta", b.File(b.Set(b.Sequence(dcm.DirectoryRecordSequence, record(0xFFFF, "IMAGE", "2.25.1", "IM1")))))
	archive, err := Load(context.Background(), []string{dir}, Options{Workers: 4})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range archive.Directories {
		line := fmt.Sprintf("%s in %s: %d", strings.TrimPrefix(d.Path, dir), strings.TrimPrefix(d.Folder, dir), len(d.Records))
		if d.Broken {
			line += " broken"
		}
		got = append(got, line)
	}
	want := []string{
		"/a/DICOMDIR in /a: 1", "/b/listing.bin in /b: 0", "/c.zip!/x/DICOMDIR in /c.zip!/x: 1",
		"/d.tar!/DICOMDIR in /d.tar!: 1", "/e/over in /e: 1 broken", "/f/no-meta in /f: 1",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	reasons := map[string]string{}
	for _, e := range archive.Ledger {
		reasons[strings.TrimPrefix(e.Path, dir)] = string(e.Outcome) + " | " + e.Reason
	}
	if got, want := reasons["/a/DICOMDIR"], "other | a media directory; records: 3; in use and naming a file: 1; the files decide"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := reasons["/e/cut"]; !strings.HasPrefix(got, "unreadable | the header cannot be read") {
		t.Errorf("a directory that is cut: %s", got)
	}
}
