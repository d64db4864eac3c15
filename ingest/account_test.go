package ingest

import (
	"context"
	"os"
	"strings"
	"syscall"
	"testing"
)

// TestReadWhatIsNoLongerThere: a file that vanished, or gave way to a folder or to a
// pipe, between the listing and the reading is a row. Opening the pipe must not wait.
func TestReadWhatIsNoLongerThere(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(dir+"/pipe", 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(dir+"/folder", 0o700); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"gone":   "cannot be opened: no such file or directory",
		"pipe":   "no longer a regular file",
		"folder": "no longer a regular file",
	} {
		w := &worker{loader: &loader{}}
		w.read(met{path: dir + "/" + name})
		if w.made != 1 || w.rows[0][0].entry.Outcome != OutcomeUnreadable || w.rows[0][0].entry.Reason != want {
			t.Errorf("%s: %d rows, %+v", name, w.made, w.rows)
		}
	}
}

// TestReadCalipersFromPipe: a pipe given as a caliper table is refused, not waited for.
func TestReadCalipersFromPipe(t *testing.T) {
	pipe := t.TempDir() + "/pipe"
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadCalipers(pipe); err == nil {
		t.Error("no error")
	}
}

// TestLoadOddNames: copies are compared, which opens them again, of files whose names
// are shown otherwise than they are; ledger and instances show the same.
func TestLoadOddNames(t *testing.T) {
	dir := t.TempDir()
	image := object(usImage, "2.25.1", "2.25.9", usRows)
	write(t, dir+"/latin-\xe8.dcm", image)
	write(t, dir+"/latin-\xe9.dcm", image)
	write(t, dir+"/two\nlines.dcm", object(usImage, "2.25.2", "2.25.9", usRows))
	archive, err := Load(context.Background(), []string{dir}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range archive.Ledger {
		got = append(got, strings.TrimPrefix(e.Path, dir)+" "+string(e.Outcome))
	}
	if want := `/latin-\xE8.dcm image, /latin-\xE9.dcm duplicate, /two\x0Alines.dcm image`; strings.Join(got, ", ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, ", "), want)
	}
	if len(archive.Instances) != 2 || archive.Instances[0].Path != archive.Ledger[0].Path || archive.Instances[1].Path != archive.Ledger[2].Path {
		t.Errorf("instances %+v", archive.Instances)
	}
}
