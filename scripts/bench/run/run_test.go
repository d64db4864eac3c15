package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestValues(t *testing.T) {
	got := values("seconds=0.25 files=6000 name=word read_bytes=7 =")
	want := map[string]float64{"seconds": 0.25, "files": 6000, "read_bytes": 7}
	if len(got) != len(want) {
		t.Errorf("read %v, expected %v", got, want)
	}
	for name, v := range want {
		if got[name] != v {
			t.Errorf("%s is %v, expected %v", name, got[name], v)
		}
	}
}

// TestTargets wants a figure on the limit to count as reached, one beyond it as
// missed, and one that was not measured as neither.
func TestTargets(t *testing.T) {
	for _, tc := range []struct {
		name   string
		target target
		says   string
		missed int
	}{
		{"on the lower limit", target{got: 5, measured: true, want: 5}, "| at least 5  | reached |", 0},
		{"below it", target{got: 4.99, measured: true, want: 5}, "| **missed** |", 1},
		{"on the upper limit", target{got: 2, measured: true, want: 2, most: true, unit: "KiB"}, "| 2.00 KiB | at most 2 KiB | reached |", 0},
		{"above it", target{got: 2.01, measured: true, want: 2, most: true}, "| **missed** |", 1},
		{"not measured", target{want: 5}, "| not measured |", 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var out strings.Builder
			if missed := printTargets(&out, []target{tc.target}); missed != tc.missed {
				t.Errorf("%d missed, expected %d", missed, tc.missed)
			}
			if !strings.Contains(out.String(), tc.says) {
				t.Errorf("printed\n%s\nexpected in it %q", out.String(), tc.says)
			}
		})
	}
}

func TestRatio(t *testing.T) {
	all := []*contestant{
		{name: "slow", ran: true, best: measure{seconds: 6, processor: 8}},
		{name: "quick", ran: true, best: measure{seconds: 2, processor: 2}},
		{name: "absent"},
	}
	if r := ratio(all, "", "quick", "slow", 1, false); r.got != 3 || r.note != "4.00 by processor time" {
		t.Errorf("quick is %v times slow (%s), expected 3 and 4 by processor time", r.got, r.note)
	}
	if r := ratio(all, "", "quick", "absent", 1, false); r.measured {
		t.Error("a ratio to a program that did not run")
	}
}

// TestSameCounts wants a reader that found less to end the comparison.
func TestSameCounts(t *testing.T) {
	reader := func(regions float64) *contestant {
		said := map[string]float64{"files": 10, "regions": regions, "reports": 1}
		return &contestant{ran: true, peer: true, best: measure{said: said}}
	}
	if err := sameCounts([]*contestant{reader(7), {ran: true}, reader(7)}, 10); err != nil {
		t.Error(err)
	}
	if sameCounts([]*contestant{reader(7), reader(6)}, 10) == nil {
		t.Error("6 regions beside 7 are accepted")
	}
	if sameCounts([]*contestant{reader(7)}, 11) == nil {
		t.Error("10 files of 11 are accepted")
	}
}

// TestReadme wants the figures to be replaced where README.md has their place, and
// nothing else.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "README.md")
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := intoReadme(path, "figures\n"); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := strings.Cut(string(text), begin)
	_, after, _ := strings.Cut(string(text), end)
	if want := before + begin + "figures\n" + end + after; string(got) != want {
		t.Error("more than the figures changed")
	}
	if intoReadme("run_test.go", "figures\n") == nil {
		t.Error("figures were written into a file without a place for them")
	}
}
