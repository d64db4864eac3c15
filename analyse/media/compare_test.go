package media

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"leadline/ingest"
)

// lines writes comparisons so that they can be compared.
func lines(comparisons []Comparison) []string {
	var out []string
	for _, c := range comparisons {
		line := fmt.Sprintf("%s names %d", c.Directory, c.Named)
		for _, m := range c.Missing {
			line += " -" + m.Path
		}
		for _, p := range c.Unlisted {
			line += " +" + p
		}
		for _, p := range c.Contradicting {
			line += " !" + p
		}
		out = append(out, line)
	}
	return out
}

// directory is one at path that names these files, each "ID" or "ID=UID".
func directory(path string, names ...string) ingest.Directory {
	d := ingest.Directory{Path: path, Folder: "."}
	if at := strings.LastIndex(path, "/"); at >= 0 {
		d.Folder = path[:at]
	}
	if d.Folder == "" {
		d.Folder = "/"
	}
	for _, n := range names {
		id, uid, _ := strings.Cut(n, "=")
		d.Records = append(d.Records, ingest.DirectoryRecord{FileID: id, SOPInstanceUID: uid, SOPClassUID: "c"})
	}
	return d
}

func broken(d ingest.Directory) ingest.Directory {
	d.Broken = true
	return d
}

// image is a file of the ledger with the SOP Instance UID "1".
func image(path string) ingest.Entry {
	return ingest.Entry{Path: path, Outcome: ingest.OutcomeImage, SOPUID: "1", SOPClassUID: "c"}
}

func TestCompare(t *testing.T) {
	dcmdir := func(path string) ingest.Entry { return ingest.Entry{Path: path, Outcome: ingest.OutcomeOther} }
	of := func(o ingest.Outcome, path string) ingest.Entry {
		e := image(path)
		e.Outcome = o
		return e
	}
	for _, c := range []struct {
		name        string
		directories []ingest.Directory
		ledger      []ingest.Entry
		want        []string
	}{
		{"all there", []ingest.Directory{directory("m/DICOMDIR", "A/1=1", "A/2")},
			[]ingest.Entry{image("m/A/1"), image("m/A/2"), dcmdir("m/DICOMDIR"), image("other/9")}, []string{"m/DICOMDIR names 2"}},
		{"missing, named twice", []ingest.Directory{directory("m/DICOMDIR", "A/1", "A/3", "A/3", "?/1")},
			[]ingest.Entry{image("m/A/1"), dcmdir("m/DICOMDIR")}, []string{"m/DICOMDIR names 3 -m/A/3 -m/?/1"}},
		{"unlisted, and what is no object", []ingest.Directory{directory("m/DICOMDIR", "A/1")}, []ingest.Entry{
			image("m/A/1"), of(ingest.OutcomeReport, "m/A/2"), of(ingest.OutcomeDuplicate, "m/B/1"), of(ingest.OutcomeNotDICOM, "m/notes.txt"),
			of(ingest.OutcomeUnreadable, "m/cut"), dcmdir("m/DICOMDIR"), image("mm/1"), image("1"),
		}, []string{"m/DICOMDIR names 1 +m/A/2 +m/B/1"}},
		{"contradicting", []ingest.Directory{directory("m/DICOMDIR", "1=2", "2=1", "3=")},
			[]ingest.Entry{image("m/1"), image("m/2"), image("m/3"), {Path: "m/4", Outcome: ingest.OutcomeUnreadable}, dcmdir("m/DICOMDIR")},
			[]string{"m/DICOMDIR names 3 !m/1"}},
		{"a file that cannot be read is there", []ingest.Directory{directory("m/DICOMDIR", "1=1")},
			[]ingest.Entry{{Path: "m/1", Outcome: ingest.OutcomeUnreadable}, dcmdir("m/DICOMDIR")}, []string{"m/DICOMDIR names 1"}},
		{"lower case, dot and version", []ingest.Directory{directory("m/dicomdir", "A/IM1", "A/IM2", "A/IM3")},
			[]ingest.Entry{image("m/a/im1"), image("m/a/im2."), image("m/a/IM3.;1"), dcmdir("m/dicomdir")}, []string{"m/dicomdir names 3"}},
		{"exact before folded", []ingest.Directory{directory("m/DICOMDIR", "A", "a")},
			[]ingest.Entry{image("m/A"), image("m/a"), dcmdir("m/DICOMDIR")}, []string{"m/DICOMDIR names 2"}},
		{"in a container", []ingest.Directory{directory("e.zip!/DICOMDIR", "A/1", "A/2")},
			[]ingest.Entry{image("e.zip!/A/1"), image("e.zip!/B"), image("A/2"), dcmdir("e.zip!/DICOMDIR")},
			[]string{"e.zip!/DICOMDIR names 2 -e.zip!/A/2 +e.zip!/B"}},
		{"beside a container", []ingest.Directory{directory("m/DICOMDIR", "1")},
			[]ingest.Entry{image("m/1"), image("m/e.zip!/A/1"), dcmdir("m/DICOMDIR")}, []string{"m/DICOMDIR names 1"}},
		{"one below another", []ingest.Directory{directory("m/DICOMDIR", "1", "d/1"), directory("m/d/DICOMDIR", "2")},
			[]ingest.Entry{image("m/1"), image("m/d/1"), image("m/d/2"), image("m/d/e/3"), dcmdir("m/DICOMDIR"), dcmdir("m/d/DICOMDIR")},
			[]string{"m/DICOMDIR names 2", "m/d/DICOMDIR names 1 +m/d/e/3"}},
		{"here", []ingest.Directory{directory("DICOMDIR", "A/1")},
			[]ingest.Entry{image("./A/1"), image("2"), image("../3"), image("/4"), dcmdir("DICOMDIR")}, []string{"DICOMDIR names 1 +2"}},
		{"at the root", []ingest.Directory{directory("/DICOMDIR", "1")},
			[]ingest.Entry{image("/1"), image("/a/2"), dcmdir("/DICOMDIR")}, []string{"/DICOMDIR names 1 +/a/2"}},
		{"two of one path", []ingest.Directory{directory("e.zip!/DICOMDIR", "1=1")},
			[]ingest.Entry{image("e.zip!/1"), {Path: "e.zip!/1", Outcome: ingest.OutcomeImage, SOPUID: "2"}, dcmdir("e.zip!/DICOMDIR")},
			[]string{"e.zip!/DICOMDIR names 1"}},
		{"broken", []ingest.Directory{broken(directory("m/DICOMDIR", "1", "3"))},
			[]ingest.Entry{image("m/1"), image("m/2"), dcmdir("m/DICOMDIR")}, []string{"m/DICOMDIR names 2 -m/3"}},
		{"none", nil, []ingest.Entry{image("1")}, nil},
	} {
		if got := lines(Compare(c.directories, c.ledger)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}
