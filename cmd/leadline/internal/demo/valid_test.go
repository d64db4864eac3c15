package demo

import (
	"context"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// excused are the plants that make a file invalid, by the finding they raise, with
// a part of every error line that dciodvfy then prints.
var excused = map[string][]string{
	"frame-timing-missing":    {"<FrameIncrementPointer>"},
	"header-value-unreadable": {"Mechanical Index", "invalid data values"},
	"pixel-data-cut":          {"Seek failed - while reading unencapsulated Pixel Data", "Dicom dataset read failed", "<PixelData>"},
	"file-unreadable":         {""},
	"region-sequence-lost":    {""},
	"value-missing":           {"MeasuredValueSequence"},
}

// TestValid has dciodvfy judge every file of the committed archive. It cannot read
// deflated files, so those are inflated first by dcmconv.
func TestValid(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	for _, tool := range []string{"dciodvfy", "dcmconv", "dcmdump"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed", tool)
		}
	}
	planted := plantedFindings(t)
	checked := 0
	for path := range files(t, committed) {
		if !strings.Contains(path, "/") || strings.HasSuffix(strings.ToLower(path), ".txt") || path == "zz-recovered/US0004.dcm" {
			continue
		}
		checked++
		t.Run(path, func(t *testing.T) {
			t.Parallel()
			excuses := planted[path]
			full := filepath.Join(committed, path)
			if out, err := exec.Command("dcmdump", "-q", full).CombinedOutput(); err != nil && len(excuses) == 0 {
				t.Errorf("dcmdump: %v: %s", err, out)
			}
			for _, line := range dciodvfy(t, full) {
				if !excusedLine(line, excuses) {
					t.Error(line)
				}
			}
		})
	}
	if checked < 100 {
		t.Fatalf("only %d files were checked", checked)
	}
}

func excusedLine(line string, findings []string) bool {
	for _, f := range findings {
		for _, part := range excused[f] {
			if strings.Contains(line, part) {
				return true
			}
		}
	}
	return false
}

// dciodvfy lists the error lines of a file.
func dciodvfy(t *testing.T, path string) []string {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(content[:min(len(content), 1024)]), deflatedLE) {
		plain := filepath.Join(t.TempDir(), "plain.dcm")
		if out, err := exec.Command("dcmconv", "+te", path, plain).CombinedOutput(); err != nil {
			t.Fatalf("dcmconv: %v: %s", err, out)
		}
		path = plain
	}
	out, _ := exec.Command("dciodvfy", path).CombinedOutput()
	if len(out) == 0 {
		t.Fatal("dciodvfy says nothing at all")
	}
	var errors []string
	for line := range strings.Lines(string(out)) {
		if strings.Contains(line, "Error") {
			errors = append(errors, strings.TrimSpace(line))
		}
	}
	return errors
}

// plantedFindings lists the findings of truth.csv by path; rows that name an object
// only are looked up by its UID.
func plantedFindings(t *testing.T) map[string][]string {
	t.Helper()
	paths := map[string]string{}
	for _, p := range plans(Options{}) {
		s := p.build(0, false)
		s.place()
		for _, o := range s.images {
			paths[o.uid] = o.path
		}
		for _, r := range s.reports {
			for _, sec := range r.sections {
				for _, n := range sec.numbers {
					if n.text == "" {
						paths[n.imageUID+n.concept.meaning] = r.path
					}
				}
			}
		}
	}
	f, err := os.Open(filepath.Join(committed, truthTable))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	planted := map[string][]string{}
	for _, row := range rows[1:] {
		sop, path, finding, item := row[1], row[2], row[3], row[5]
		if finding == "value-missing" {
			sop += item
		}
		if path == "" {
			path = paths[sop]
		}
		planted[path] = append(planted[path], finding)
	}
	return planted
}

// TestPydicom has pydicom read the header of every file that is not planted as
// unreadable.
func TestPydicom(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	const script = `
import os, sys, pydicom
def tree(d, path):
    # pydicom makes the tree of records by their offsets when it reads a directory.
    patients = d.patient_records
    assert len(patients) == 1, path
    found = [r for s in patients[0].children for series in s.children for r in series.children]
    named = [r for r in d.DirectoryRecordSequence if "ReferencedFileID" in r]
    assert len(found) == len(named) > 2, path
n = 0
for root, _, names in os.walk(sys.argv[1]):
    for name in sorted(names):
        path = os.path.join(root, name)
        if name.lower().endswith((".txt", ".csv")) or name in ("US0003.dcm", "US0004.dcm"):
            continue
        d = pydicom.dcmread(path)
        if name == "DICOMDIR":
            tree(d, path)
            continue
        assert d.StudyInstanceUID and d.SOPInstanceUID and d.PatientName, path
        n += 1
print(n)
`
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import pydicom").Run() != nil {
		t.Skip("pydicom is not installed for " + python)
	}
	out, err := exec.CommandContext(context.Background(), python, "-c", script, committed).CombinedOutput()
	if err != nil {
		t.Fatalf("pydicom: %v: %s", err, out)
	}
	t.Logf("%s files read", strings.TrimSpace(string(out)))
}
