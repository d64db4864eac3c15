package dcm

import (
	"bufio"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const oracleDir = "../../scripts/oracle"

// archives are the folders whose files are read by Leadline and by toolkits, by the
// name they have in scripts/oracle/elements.csv. Real files are never committed:
// without the shared folder beside the repository they are left out.
var archives = []struct{ name, dir string }{
	{"demo", "../../testdata/demo"},
	{"hostile", "../../testdata/hostile"},
	{"real", "../../../shared/data/real"},
}

// TestElementsByToolkits wants every wanted element of every file, nested ones too,
// to be what pydicom and dcmdump read: the same elements, VRs, values and numbers
// of items, or a row in scripts/oracle/elements.csv that says why not.
func TestElementsByToolkits(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	python := needPython(t)
	if _, err := exec.LookPath("dcmdump"); err != nil {
		t.Skip("skipped: dcmdump is not installed (Debian package dcmtk)")
	}
	dump := filepath.Join(t.TempDir(), "dump.jsonl")
	out, err := os.Create(dump)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	buffered := bufio.NewWriter(out)
	for _, a := range archives {
		if _, err := os.Stat(a.dir); errors.Is(err, fs.ErrNotExist) {
			t.Logf("%s left out: %s is not here", a.name, a.dir)
			continue
		}
		if n := dumpArchive(t, json.NewEncoder(buffered), a.name, a.dir); n == 0 {
			t.Errorf("%s: no file", a.dir)
		}
	}
	if err := buffered.Flush(); err != nil {
		t.Fatal(err)
	}
	runOracle(t, python, "elements.py", dump, writeWanted(t), filepath.Join(oracleDir, "elements.csv"))
}

// dumpedFile is one file as scripts/oracle/elements.py reads it.
type dumpedFile struct {
	Archive string `json:"archive"`
	Name    string `json:"name"`
	Path    string `json:"path"`
	// Error says why the header was not read to its end, NotDICOM that nothing was.
	Error    string          `json:"error"`
	NotDICOM bool            `json:"not_dicom"`
	Elements []dumpedElement `json:"elements"`
}

// dumpedElement is one element: where it stands, and its value as Leadline gives it.
type dumpedElement struct {
	// Path is tags and item numbers from 1: 00186011[1].00186012.
	Path string `json:"path"`
	VR   string `json:"vr"`
	Raw  string `json:"raw"`
	// One of these, by VR; Items counts the items of a sequence.
	Text    []string  `json:"text"`
	Numbers []float64 `json:"numbers"`
	Items   int       `json:"items"`
}

func dumpArchive(t *testing.T, out *json.Encoder, name, dir string) int {
	t.Helper()
	n := 0
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		n++
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		return dumpFile(out, name, filepath.ToSlash(rel), path)
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func dumpFile(out *json.Encoder, archive, name, path string) error {
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return err
	}
	d := dumpedFile{Archive: archive, Name: name, Path: path}
	f, err := Scan(file, info.Size())
	if err != nil {
		d.Error, d.NotDICOM = err.Error(), errors.Is(err, ErrNotDICOM)
	}
	d.Elements = appendElements(nil, &f.Meta, "")
	d.Elements = appendElements(d.Elements, &f.Data, "")
	return out.Encode(d)
}

// appendElements walks a data set. Of elements that stand there twice only the one
// that Find gives counts.
func appendElements(to []dumpedElement, d *Dataset, prefix string) []dumpedElement {
	for i := range d.Elements {
		e := &d.Elements[i]
		if d.Find(e.Tag) != e {
			continue
		}
		path := fmt.Sprintf("%s%08X", prefix, uint32(e.Tag))
		to = append(to, dumpElement(d, e, path))
		for j := range e.Items {
			to = appendElements(to, &e.Items[j], fmt.Sprintf("%s[%d].", path, j+1))
		}
	}
	return to
}

// dumpElement reads the value in the way that suits its VR.
func dumpElement(d *Dataset, e *Element, path string) dumpedElement {
	out := dumpedElement{Path: path, VR: string(e.VR[:]), Raw: hex.EncodeToString(e.Value), Items: len(e.Items)}
	switch out.VR {
	case "SQ":
	case "US", "SS", "UL", "SL", "FL", "FD", "UV", "SV", "DS", "IS":
		out.Numbers = d.Floats(e.Tag)
	case "AT":
		for _, tag := range d.Tags(e.Tag) {
			out.Numbers = append(out.Numbers, float64(tag))
		}
	case "ST", "LT", "UT", "UR":
		out.Text = []string{d.Text(e.Tag)}
	default:
		out.Text = d.Strings(e.Tag)
	}
	return out
}

// TestDictionary wants VR and keyword of every wanted element to be those of the
// data dictionaries of pydicom and dcmtk, copies of PS3.6 chapters 6 and 7.
func TestDictionary(t *testing.T) {
	runOracle(t, needPython(t), "dictionary.py", writeWanted(t))
}

// writeWanted writes tags.go as lines of tag, VR and name, and wants its two lists
// to hold the same elements.
func writeWanted(t *testing.T) string {
	t.Helper()
	names := declaredTags(t)
	var b strings.Builder
	for tag, name := range names {
		vr, ok := wanted[tag]
		if !ok {
			t.Errorf("%s %s is declared and not among the wanted elements", name, tag)
		}
		fmt.Fprintf(&b, "%08X %s %s\n", uint32(tag), vr[:], name)
	}
	if len(names) != len(wanted) {
		t.Errorf("%d elements declared, %d wanted", len(names), len(wanted))
	}
	path := filepath.Join(t.TempDir(), "wanted.txt")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// declaredTags reads the constants of tags.go.
func declaredTags(t *testing.T) map[Tag]string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "tags.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	names := map[Tag]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		literal, ok := spec.Values[0].(*ast.BasicLit)
		if typ, isName := spec.Type.(*ast.Ident); !ok || !isName || typ.Name != "Tag" {
			return true
		}
		v, err := strconv.ParseUint(literal.Value, 0, 32)
		if err != nil {
			t.Fatal(err)
		}
		names[Tag(v)] = spec.Names[0].Name
		return true
	})
	if len(names) < 200 {
		t.Fatalf("%d tags found in tags.go", len(names))
	}
	return names
}

// needPython finds a Python that has pydicom; Debian's package serves the
// system's own only.
func needPython(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import pydicom").Run() == nil {
			return python
		}
	}
	t.Skip("skipped: no Python with pydicom (Debian package python3-pydicom)")
	return ""
}

func runOracle(t *testing.T, python, script string, args ...string) {
	t.Helper()
	out, err := exec.Command(python, append([]string{filepath.Join(oracleDir, script)}, args...)...).CombinedOutput()
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if err != nil {
		t.Fatalf("%s: %v\n%s", script, err, strings.Join(lines[max(0, len(lines)-60):], "\n"))
	}
	t.Log(lines[len(lines)-1])
}
