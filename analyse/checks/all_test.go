package checks

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"
)

// TestAll: every check is whole, unique, in a file of its own name, and a row of
// the README.
func TestAll(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	kebab := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, c := range All {
		if seen[c.ID] || !kebab.MatchString(c.ID) {
			t.Errorf("%q is not unique or not kebab", c.ID)
		}
		seen[c.ID] = true
		if c.Title == "" || len(c.Title) > 60 || unicode.IsUpper([]rune(c.Title)[0]) && !strings.HasPrefix(c.Title, "DICOM") && !strings.HasPrefix(c.Title, "Pixel") || strings.HasSuffix(c.Title, ".") {
			t.Errorf("%s: title %q", c.ID, c.Title)
		}
		if c.Doc == "" || c.Advice == "" || c.Severity == "" {
			t.Errorf("%s lacks doc, advice or severity", c.ID)
		}
		if _, err := os.Stat(strings.ReplaceAll(c.ID, "-", "_") + ".go"); err != nil {
			t.Errorf("%s has no file of its name", c.ID)
		}
		if row := Row(&c); !strings.Contains(string(readme), row) {
			t.Errorf("README.md lacks the row\n%s", row)
		}
	}
	files, _ := filepath.Glob("*.go")
	others := 0
	for _, f := range files {
		if f == "all.go" || f == "run.go" || f == "axes.go" || f == "each.go" || strings.HasSuffix(f, "_test.go") {
			others++
		}
	}
	if n := len(files) - others; n != len(All) {
		t.Errorf("%d check files for %d checks", n, len(All))
	}
}
