package protocol

import (
	"testing"

	"leadline/ingest/dcm"
)

func TestViewOf(t *testing.T) {
	for _, c := range []struct {
		code     dcm.Code
		name     string
		id, side string
	}{
		{code: dcm.Code{Value: "399139001", Scheme: "SCT"}, id: "parasternal-long-axis"},
		{code: dcm.Code{Value: "G-A19C", Scheme: "SRT"}, name: "whatever", id: "apical-four-chamber"},
		{code: dcm.Code{Value: "1", Scheme: "99XYZ"}, name: "PLAX", id: "parasternal-long-axis"},
		{name: "PLAX 2D", id: "parasternal-long-axis"},
		{name: "plax colour 2", id: "parasternal-long-axis"},
		{name: "4-Kammer-Blick", id: "apical-four-chamber"},
		{name: "Vierkammerblick CW", id: "apical-four-chamber"},
		{name: "apicale quatre cavités", id: "apical-four-chamber"},
		{name: "eje corto paraesternal", id: "parasternal-short-axis"},
		{name: "right parasternal", id: "right-parasternal"},
		{name: "Lung upper anterior R", id: "lung-upper-anterior", side: "right"},
		{name: "parasagittal links", id: "head-parasagittal", side: "left"},
		{name: "high-parasternal", id: "high-parasternal"},
		{name: "PLAX or so"},
		{name: "2D"},
		{name: ""},
	} {
		v, side, ok := ViewOf(c.code, c.name)
		if ok != (c.id != "") || v.ID != c.id || side != c.side {
			t.Errorf("ViewOf(%v, %q) = %q, %q, want %q, %q", c.code, c.name, v.ID, side, c.id, c.side)
		}
	}
}

// Names and codes lead back to their view, and Within names a view and ends.
func TestViews(t *testing.T) {
	if len(ViewIDs()) < 30 {
		t.Fatalf("%d views; the vocabulary is not there", len(ViewIDs()))
	}
	for _, v := range views().Views {
		if !kebab.MatchString(v.ID) {
			t.Errorf("%s is no kebab word", v.ID)
		}
		for _, name := range v.Names {
			if got, _, _ := ViewOf(dcm.Code{}, name); got.ID != v.ID {
				t.Errorf("%q leads to %q, want %s", name, got.ID, v.ID)
			}
		}
		if v.Within == "" {
			continue
		}
		if !Counts(v.Within, []string{v.Within}) || !Counts(v.ID, []string{v.Within}) {
			t.Errorf("%s does not lie within %s", v.ID, v.Within)
		}
		if Counts(v.Within, []string{v.ID}) {
			t.Errorf("%s and %s lie in each other", v.ID, v.Within)
		}
	}
	if Counts("no-such-view", []string{"subcostal"}) || Counts("", []string{""}) {
		t.Error("an unknown view counts as one")
	}
}

func TestReadViewsRefuses(t *testing.T) {
	for name, data := range map[string]string{
		"a name of two views": "views: [{id: a, names: [x]}, {id: b, names: [X]}]",
		"a code of two views": "views: [{id: a, codes: [SCT 1]}, {id: b, codes: [SCT 1]}]",
		"no YAML":             "views: [",
	} {
		if _, err := readViews([]byte(data)); err == nil {
			t.Errorf("readViews takes %s", name)
		}
	}
}

// TestAreaOf: what lies in the beam, and where the view leaves it open.
func TestAreaOf(t *testing.T) {
	for id, want := range map[string]string{
		"lung-lateral": "lung", "apical-four-chamber": "heart", "head-mastoid": "head", "middle-cerebral-artery": "head", "renal-artery": "abdomen",
		"diaphragm": "", "subcostal": "", "subcostal-inferior-vena-cava": "", "umbilical-venous-line-tip": "", "": "", "no such view": "",
	} {
		if got := AreaOf(id); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
}

// A view that is named twice is one of the views that at-least counts.
func TestEntriesOfOneView(t *testing.T) {
	for _, c := range []struct {
		shown Shown
		want  int
	}{
		{Shown{ViewNames: []string{"Window 3", "WINDOW-3", "window 3"}}, 1},
		{Shown{ViewNames: []string{"Window 3", "Window 4"}}, 2},
		{Shown{Views: []string{"apical-four-chamber"}, ViewNames: []string{"A4C", "Vierkammerblick"}, ViewCodes: []dcm.Code{{Scheme: "SCT", Value: "399214001"}, {Scheme: "SRT", Value: "G-A19C"}}}, 1},
		{Shown{ViewCodes: []dcm.Code{{Scheme: "99WARD", Value: "W3"}, {Scheme: "99WARD", Value: "W3"}, {Scheme: "99WARD", Value: "W4"}}}, 2},
		{Shown{ViewNames: []string{"lung lateral L", "lung lateral R"}}, 2},
	} {
		entries := c.shown.Entries()
		if len(entries) != c.want {
			t.Errorf("%v: %d entries, want %d", c.shown, len(entries), c.want)
		}
		ways := 0
		for _, e := range entries {
			ways += len(e.Listed())
		}
		if ways != len(c.shown.Listed()) {
			t.Errorf("%v: the entries hold %d ways to name a view, want all %d", c.shown, ways, len(c.shown.Listed()))
		}
	}
}
