package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// goPackage is what `go list` says about a package.
type goPackage struct {
	ImportPath, Dir         string
	GoFiles, IgnoredGoFiles []string
	Imports                 []string
}

const module = "leadline/"

// packages lists the packages of the module.
func packages(t *testing.T) []goPackage {
	t.Helper()
	cmd := exec.Command("go", "list", "-json", "./...")
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("listing the packages: %v", err)
	}
	var all []goPackage
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p goPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 15 {
		t.Fatalf("only %d packages found", len(all))
	}
	return all
}

// stages are the top folders in the order of the data's way: each may import
// those before it, never one after it. scripts come last: they use the stages to
// measure them, and nothing the program needs lies there.
var stages = []string{"ingest", "analyse", "export", "cmd", "scripts"}

func stageOf(importPath string) int {
	top, _, _ := strings.Cut(strings.TrimPrefix(importPath, module), "/")
	return slices.Index(stages, top)
}

// TestImportDirection holds the way of the data: cmd imports export imports
// analyse imports ingest, and never back. That a package below a stage imports the
// stage's root or is imported by it, and never both, the compiler sees to.
func TestImportDirection(t *testing.T) {
	seen := map[[2]string]int{}
	for _, p := range packages(t) {
		from := stageOf(p.ImportPath)
		if from < 0 {
			t.Errorf("%s lies in none of the folders %q", p.ImportPath, stages)
			continue
		}
		for _, imported := range p.Imports {
			if !strings.HasPrefix(imported, module) {
				continue
			}
			to := stageOf(imported)
			seen[[2]string{stages[from], stages[max(to, 0)]}]++
			if to < 0 || to > from {
				t.Errorf("%s imports %s: against the way of the data", p.ImportPath, imported)
			}
		}
	}
	// A test that sees nothing proves nothing.
	for _, arrow := range [][2]string{
		{"ingest", "ingest"}, {"analyse", "ingest"}, {"export", "analyse"}, {"export", "ingest"}, {"cmd", "analyse"}, {"cmd", "export"}, {"cmd", "ingest"},
	} {
		if seen[arrow] == 0 {
			t.Errorf("no import of %s by %s was seen", arrow[1], arrow[0])
		}
	}
}

// conductors are the packages that call the others of their stage in order; only
// they, and cmd, may import several of them (style: "the only packages that call
// the others in order").
var conductors = []string{"leadline/analyse/audit", "leadline/analyse/calib"}

// workers are the packages of analyse that each fill one part of a study.
var workers = []string{
	"leadline/analyse/rebuild", "leadline/analyse/indices", "leadline/analyse/completeness", "leadline/analyse/checks", "leadline/analyse/assemble", "leadline/analyse/references", "leadline/analyse/devices", "leadline/analyse/views", "leadline/analyse/timing", "leadline/analyse/clocks", "leadline/analyse/actions", "leadline/analyse/testobject", "leadline/analyse/acoustic",
}

// TestConductors wants the parts of analyse to be put together in one place.
func TestConductors(t *testing.T) {
	calls := 0
	for _, p := range packages(t) {
		var called []string
		for _, imported := range p.Imports {
			if slices.Contains(workers, imported) {
				called = append(called, imported)
			}
		}
		if slices.Contains(conductors, p.ImportPath) {
			calls += len(called)
			continue
		}
		if stageOf(p.ImportPath) == slices.Index(stages, "analyse") && len(called) > 1 {
			t.Errorf("%s imports %q: putting stages together belongs in %q", p.ImportPath, called, conductors)
		}
	}
	if calls < len(workers) {
		t.Errorf("the conductors import %d of the %d workers", calls, len(workers))
	}
}

// TestPackageComments wants exactly one package comment in each package.
func TestPackageComments(t *testing.T) {
	for _, p := range packages(t) {
		var with []string
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.ParseComments|parser.PackageClauseOnly)
			if err != nil {
				t.Fatal(err)
			}
			if file.Doc != nil {
				with = append(with, name)
			}
		}
		if len(with) != 1 {
			t.Errorf("%s: package comments in %q, expected one", p.ImportPath, with)
		}
	}
}

// TestNoFileLeftOut wants no file that this machine's build leaves out: a name
// that ends in _arm.go or _windows.go is enough for that, silently.
func TestNoFileLeftOut(t *testing.T) {
	for _, p := range packages(t) {
		if len(p.IgnoredGoFiles) > 0 {
			t.Errorf("%s: left out of the build: %q", p.ImportPath, p.IgnoredGoFiles)
		}
	}
}

// mainLines is how long main.go may be: it only starts things.
const mainLines = 40

func TestMainIsShort(t *testing.T) {
	text, err := os.ReadFile("main.go")
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(text, []byte("\n")); n > mainLines {
		t.Errorf("main.go has %d lines, at most %d are wanted", n, mainLines)
	}
}

// TestNoTagsInCommands wants the commands free of DICOM tags: no constant of
// ingest/dcm, no number written as a tag. internal/demo writes files and may.
func TestNoTagsInCommands(t *testing.T) {
	files := 0
	for _, p := range packages(t) {
		if !strings.HasPrefix(p.ImportPath, "leadline/cmd/") || strings.Contains(p.ImportPath, "/internal/demo") {
			continue
		}
		for _, imported := range p.Imports {
			if imported == "leadline/ingest/dcm" || strings.HasPrefix(imported, "github.com/suyashkumar/dicom") {
				t.Errorf("%s imports %s", p.ImportPath, imported)
			}
		}
		for _, name := range p.GoFiles {
			files++
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.INT && strings.HasPrefix(lit.Value, "0x") {
					t.Errorf("%s: %s: a number in hexadecimal, which looks like a tag", path.Base(name), set.Position(lit.Pos()))
				}
				return true
			})
		}
	}
	if files < 5 {
		t.Errorf("only %d files looked at", files)
	}
}

// TestReadmeStart: whoever opens the README meets the job in one paragraph, then the
// two commands that do everything on a fresh machine.
func TestReadmeStart(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	const commands = "    go run ./cmd/leadline audit testdata/demo -o audit.xlsx\n    scripts/test"
	parts := strings.SplitN(string(text), "\n\n", 4)
	if parts[0] != "# Leadline" || len(parts[1]) < 200 || parts[2] != commands {
		t.Errorf("the README begins with %q, %q, %q", parts[0], parts[1], parts[2])
	}
}
