package audit

import (
	"fmt"
	"reflect"
	"testing"

	"leadline/ingest"
)

// TestDirectoryFindings: one finding for a directory and kind, with counts in words
// and no text of the file in the message.
func TestDirectoryFindings(t *testing.T) {
	records := []ingest.DirectoryRecord{
		{FileID: "A", SOPInstanceUID: "1", Type: "IMAGE"}, {FileID: "B", Type: "IMAGE"}, {FileID: "C", Type: "SR DOCUMENT"},
		{FileID: "D", Type: "IMAGE"}, {FileID: "E", Type: "Umberleigh^Baby"},
	}
	archive := &ingest.Archive{
		Directories: []ingest.Directory{{Path: "m/DICOMDIR", Folder: "m", Records: records}, {Path: "n/DICOMDIR", Folder: "n"}},
		Ledger: []ingest.Entry{
			{Path: "m/A", Outcome: ingest.OutcomeImage, SOPUID: "2"}, {Path: "m/DICOMDIR", Outcome: ingest.OutcomeOther},
			{Path: "m/X", Outcome: ingest.OutcomeReport}, {Path: "n/DICOMDIR", Outcome: ingest.OutcomeOther},
		},
	}
	var got []string
	for _, f := range directoryFindings(archive) {
		got = append(got, fmt.Sprintf("%s %s %s: %s %v", f.Severity, f.ID, f.Path, f.Message, f.Files))
	}
	want := []string{
		"warning directory-file-missing m/DICOMDIR: the directory names 5 files; not among the files read: 4 (images: 2, reports: 1, of other kinds: 1) [m/B m/C m/D m/E]",
		"note directory-file-unlisted m/DICOMDIR: DICOM files below the directory's folder that it does not name: 1 [m/X]",
		"warning directory-record-contradicts m/DICOMDIR: the directory names 5 files; other objects than it says: 1 [m/A]",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
