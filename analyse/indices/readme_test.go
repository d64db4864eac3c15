package indices

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

const readmePath = "../../README.md"

// row is the line of the README about an index. Those of one side are told with the
// one that takes no side.
func row(d *Definition, sides bool) string {
	id := "`" + d.ID + "`"
	if sides {
		id += ", `-left`, `-right`"
	}
	cells := []string{id, d.Title, "`" + string(d.Unit) + "`", d.Formula, d.Reference}
	for i := range cells {
		cells[i] = strings.ReplaceAll(cells[i], "|", `\|`)
	}
	return fmt.Sprintf("| %s |", strings.Join(cells, " | "))
}

// TestReadme wants the list of indices in the README to be that of All, in its
// order. UPDATE_GOLDEN=1 writes it anew.
func TestReadme(t *testing.T) {
	sided := map[string]bool{}
	for i := range All {
		if whole, ok := strings.CutSuffix(All[i].ID, "-left"); ok {
			sided[whole] = true
		}
	}
	lines := []string{"| index | what it is | unit | formula | source |", "|---|---|---|---|---|"}
	for i := range All {
		d := &All[i]
		if d.Side == "" {
			lines = append(lines, row(d, sided[d.ID]))
		} else if whole := strings.TrimSuffix(d.ID, "-"+d.Side); !sided[whole] || whole == d.ID {
			t.Errorf("%s is of the side %s and does not say so as the README does", d.ID, d.Side)
		}
	}
	want := strings.Join(lines, "\n") + "\n"
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	start := strings.Index(string(text), lines[0]+"\n")
	if start < 0 {
		t.Fatal("README.md has no list of indices")
	}
	length := strings.Index(string(text[start:]), "\n\n") + 1
	if string(text[start:start+length]) == want {
		return
	}
	if os.Getenv("UPDATE_GOLDEN") == "" {
		t.Fatalf("the list of indices in README.md differs from All; UPDATE_GOLDEN=1 writes it anew. It should be\n%s", want)
	}
	if err := os.WriteFile(readmePath, []byte(string(text[:start])+want+string(text[start+length:])), 0o644); err != nil {
		t.Fatal(err)
	}
}
