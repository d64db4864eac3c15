package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"leadline/analyse/audit"
	"leadline/ingest"
)

// TestDirectoryOracle has dcmmkdir (DCMTK) write the media directory of real files:
// nothing is then found to be missing or unlisted. One file is taken away, one
// added and one exchanged, and just these are found.
func TestDirectoryOracle(t *testing.T) {
	if _, err := exec.LookPath("dcmmkdir"); err != nil {
		t.Skip("skipped: dcmmkdir is not installed (Debian package dcmtk)")
	}
	dir := t.TempDir()
	source := demoDir + "/media/ward-a/20260927-029"
	files, err := filepath.Glob(source + "/IM*")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d files in %s, %v", len(files), source, err)
	}
	for i, f := range files {
		copyFile(t, f, filepath.Join(dir, "DICOM", []string{"A", "B"}[i%2], filepath.Base(f)))
	}
	cmd := exec.Command("dcmmkdir", "-q", "+r", "+I", "-Nxc", "-Nec", "-Nrc", "+id", dir, "+D", dir+"/DICOMDIR", "DICOM")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("dcmmkdir: %v: %s", err, out)
	}
	if got := directoryFindings(t, dir, len(files)); len(got) > 0 {
		t.Errorf("of the directory as it was written: %q", got)
	}

	if err := os.Remove(dir + "/DICOM/A/IM0001"); err != nil {
		t.Fatal(err)
	}
	copyFile(t, demoDir+"/media/ward-a/20260928-030/IM0001", dir+"/DICOM/B/IM0099")
	copyFile(t, demoDir+"/media/ward-a/20260928-030/IM0002", dir+"/DICOM/A/IM0003")
	got := directoryFindings(t, dir, len(files))
	want := []string{"directory-file-missing DICOM/A/IM0001", "directory-record-contradicts DICOM/A/IM0003", "directory-file-unlisted DICOM/B/IM0099"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// directoryFindings audits a folder that holds one media directory of so many
// files, and lists its findings with the files they are about.
func directoryFindings(t *testing.T, dir string, files int) []string {
	t.Helper()
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(archive.Directories) != 1 || len(archive.Directories[0].Records) != files {
		t.Fatalf("%d directories, want one of %d records: %+v", len(archive.Directories), files, archive.Directories)
	}
	result, err := audit.Run(context.Background(), archive, audit.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, f := range result.Findings {
		if f.Path == dir+"/DICOMDIR" {
			found = append(found, f.ID+" "+strings.ReplaceAll(strings.Join(f.Files, " "), dir+"/", ""))
		}
	}
	return found
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	content, err := os.ReadFile(from)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(to), 0o755)
	}
	if err == nil {
		err = os.WriteFile(to, content, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}
