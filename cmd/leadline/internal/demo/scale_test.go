package demo

import (
	"context"
	"testing"

	"leadline/analyse/checks"
)

// TestGenerated writes a larger archive twice and wants the same bytes, another
// seed and wants others, and every kind of defect in it.
func TestGenerated(t *testing.T) {
	o := Options{Studies: 12, Seed: 7}
	if testing.Short() { // with the race detector: studies are drawn at once
		o.Studies = 3
	}
	first, second, other := t.TempDir(), t.TempDir(), t.TempDir()
	summary, err := Write(context.Background(), first, o)
	if err != nil {
		t.Fatal(err)
	}
	if summary.Studies != o.Studies || summary.Planted == 0 || summary.Files != len(files(t, first)) {
		t.Errorf("summary %+v of %d files", summary, len(files(t, first)))
	}
	if _, err := Write(context.Background(), second, o); err != nil {
		t.Fatal(err)
	}
	o.Seed++
	if _, err := Write(context.Background(), other, o); err != nil {
		t.Fatal(err)
	}
	a, b, c := files(t, first), files(t, second), files(t, other)
	for path := range a {
		if string(a[path]) != string(b[path]) {
			t.Errorf("%s differs between two runs with the same options", path)
		}
	}
	if string(a[truthTable]) == string(c[truthTable]) {
		t.Error("another seed planted the same rows")
	}
}

// TestPlansPlantEverything holds that both archives go through all defects, and
// that half of the studies and more are clean.
func TestPlansPlantEverything(t *testing.T) {
	for _, o := range []Options{{}, {Studies: defectEvery * len(defectList)}} {
		met, clean, all := map[string]bool{}, 0, plans(o)
		for _, p := range all {
			if len(p.defects) == 0 {
				clean++
			}
			for _, name := range p.defects {
				d, known := defects[name]
				if !known || d.kind != p.kind {
					t.Errorf("study %d of kind %s cannot hold the defect %q", p.ordinal, p.kind, name)
				}
				met[name] = true
			}
		}
		if 2*clean < len(all) {
			t.Errorf("%d of %d studies are clean", clean, len(all))
		}
		for name := range defects {
			if !met[name] {
				t.Errorf("%+v plants no %q", o, name)
			}
		}
	}
}

// TestEveryFindingIsPlanted holds the small archive against the list of findings.
func TestEveryFindingIsPlanted(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	planted := map[string]bool{
		// Whether a protocol applies is a matter of the flags of a run.
		checks.ProtocolUnused.ID: true,
		checks.StudyNotJudged.ID: true, // a fault of the program, which no file should raise
	}
	for _, p := range plans(Options{}) {
		s := p.build(0, true)
		for _, row := range s.truth {
			planted[row.finding] = true
		}
		for _, c := range s.copies {
			planted[c.finding] = true
		}
	}
	for _, c := range checks.All {
		if !planted[c.ID] {
			t.Errorf("no study of the small archive plants %s", c.ID)
		}
	}
}

// TestWriteStops holds that a cancelled run ends with an error.
func TestWriteStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Write(ctx, t.TempDir(), Options{Studies: 3}); err == nil {
		t.Error("a cancelled run reported success")
	}
}
