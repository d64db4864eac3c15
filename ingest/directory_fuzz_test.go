package ingest

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode"

	"leadline/ingest/dcm"
)

// demoDirectory is the media directory of the demo archive, which dcmdump, dciodvfy
// and pydicom read.
const demoDirectory = "../testdata/demo/media/ward-a/20260912-013/DICOMDIR"

// directorySeeds are media directories of which each must give records: a seed that
// is not read any more would make the fuzzing worthless.
func directorySeeds(f *testing.F) [][]byte {
	whole, err := os.ReadFile(demoDirectory)
	if err != nil {
		f.Fatal(err)
	}
	return [][]byte{
		whole,
		mediaFile(patientRecord, record(0xFFFF, "IMAGE", "2.25.1", "A", "IM1"), record(0, "IMAGE", "2.25.2", "IM2")),
		mediaFile(record(0xFFFF, "SR DOCUMENT", "2.25.1", "..", "", "A/../B", "C\x00D", "\xFF")),
		mediaFile(record(0xFFFF, "IMAGE", strings.Repeat("9", 80), strings.Repeat(`A\`, 600))),
	}
}

// FuzzDirectory reads anything as a media directory. It must not panic, must give
// no more records than the file has bytes for, and every file it names must lie
// below the folder: no component is empty, points up, or holds a separator or a
// control character.
func FuzzDirectory(f *testing.F) {
	for i, seed := range directorySeeds(f) {
		if d, ok := readDirectory(seed); !ok || len(d.Records) == 0 {
			f.Fatalf("seed %d holds no record", i)
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		d, ok := readDirectory(content)
		if !ok {
			return
		}
		const leastItem = 8 // bytes of an item header
		if len(d.Records) > len(content)/leastItem && !deflatedFile(content) {
			t.Errorf("%d records of %d bytes", len(d.Records), len(content))
		}
		for _, r := range d.Records {
			if err := wellNamed(r); err != nil {
				t.Error(err)
			}
		}
	})
}

func readDirectory(content []byte) (Directory, bool) {
	header, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
	if err != nil || !isDirectory(orMeta(header, dcm.SOPClassUID, dcm.MediaStorageSOPClassUID), header) {
		return Directory{}, false
	}
	return directoryOf("m/DICOMDIR", &header.Data), true
}

// deflatedFile tells files whose records may be many more than their bytes.
func deflatedFile(content []byte) bool {
	return bytes.Contains(content, []byte("1.2.840.10008.1.2.1.99")) || bytes.Contains(content, []byte("1.2.840.10008.1.2.4."))
}

func wellNamed(r DirectoryRecord) error {
	if r.FileID == "" || len(r.FileID) > 4*maxFileID {
		return fmt.Errorf("a File ID of %d bytes", len(r.FileID))
	}
	for _, c := range strings.Split(r.FileID, "/") {
		if c == "" || c == "." || c == ".." || strings.ContainsFunc(c, func(r rune) bool { return !unicode.IsGraphic(r) }) {
			return fmt.Errorf("a component %q", c)
		}
	}
	if len(r.Type) > 4*maxRecordValue || len(r.SOPInstanceUID) > 4*maxRecordValue || len(r.SOPClassUID) > 4*maxRecordValue {
		return fmt.Errorf("values of %d, %d and %d bytes", len(r.Type), len(r.SOPClassUID), len(r.SOPInstanceUID))
	}
	return nil
}
