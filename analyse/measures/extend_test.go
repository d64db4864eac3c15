package measures

import (
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

func newMeasure(change func(*ingest.MeasureRow)) ingest.MeasureRow {
	r := ingest.MeasureRow{Table: "m.csv", Line: 2, ID: "ductus-venosus-velocity", Label: "DV Vmax", Title: "Ductus venosus, peak velocity", Quantity: "velocity", Unit: "cm/s"}
	if change != nil {
		change(&r)
	}
	return r
}

func TestExtended(t *testing.T) {
	local := dcm.Code{Scheme: "99WARD", Value: "17"}
	words, err := Builtin().Extended([]ingest.MeasureRow{
		{ID: "ventricular-index", Label: "Vent. Idx, coronal"},
		{ID: "tapse", Code: local},
		newMeasure(func(r *ingest.MeasureRow) { r.Sides = true }),
		{ID: "ductus-venosus-velocity", Label: "venosus peak"},
	})
	if err != nil {
		t.Fatal(err)
	}
	for label, want := range map[string]Match{
		"VENT IDX CORONAL": {Measure: Measure{ID: "ventricular-index"}},
		"venosus peak 2":   {Measure: Measure{ID: "ductus-venosus-velocity"}},
		"L dv vmax":        {Measure: Measure{ID: "ductus-venosus-velocity"}, Side: "left"},
		"TAPSE":            {Measure: Measure{ID: "tapse"}},
	} {
		if got, ok := words.OfLabel(label); !ok || got.ID != want.ID || got.Side != want.Side {
			t.Errorf("%q leads to %q %q, want %q %q", label, got.ID, got.Side, want.ID, want.Side)
		}
	}
	if m, ok := words.Lookup(local, nil, nil, "anything"); !ok || m.ID != "tapse" {
		t.Errorf("the local code leads to %q", m.ID)
	}
	m, ok := words.ByID("ductus-venosus-velocity")
	if !ok || m.Quantity != analyse.Velocity || m.Unit != physical.CMPerS || m.Plane != PlaneAny || len(m.Labels) != 2 {
		t.Errorf("%+v", m)
	}
	// The catalogue that comes with the program stays as it is.
	if _, ok := Builtin().OfLabel("venosus peak"); ok || len(Builtin().All()) != len(words.All())-1 {
		t.Error("extending changed the built-in catalogue")
	}
	var none *Catalogue
	if got, ok := none.OfLabel("TAPSE"); !ok || got.ID != "tapse" {
		t.Error("no catalogue is not the built-in one")
	}
}

func TestExtendedRefuses(t *testing.T) {
	const place = "m.csv: row 2, "
	row := func(r ingest.MeasureRow) ingest.MeasureRow { r.Table, r.Line = "m.csv", 2; return r }
	for want, r := range map[string]ingest.MeasureRow{
		place + "measure: expected the id of a measure, or title, quantity and unit of a new one, perhaps tapse":  row(ingest.MeasureRow{ID: "tapze", Label: "ours"}),
		place + "measure: expected only label or code for a measure of the catalogue; it cannot be defined again": row(ingest.MeasureRow{ID: "tapse", Label: "ours", Unit: "cm"}),
		place + "label: expected a label here or a code in the column code":                                       row(ingest.MeasureRow{ID: "tapse"}),
		place + "label: expected a label of its own; this one belongs to heart-rate":                              row(ingest.MeasureRow{ID: "tapse", Label: "HR"}),
		place + "label: expected a label with letters or digits":                                                  row(ingest.MeasureRow{ID: "tapse", Label: "--"}),
		place + "code: expected a code of its own; this one belongs to heart-rate":                                row(ingest.MeasureRow{ID: "tapse", Code: dcm.Code{Scheme: "LN", Value: "8867-4"}}),
		place + "measure: expected a new id of small letters, digits and hyphens":                                 newMeasure(func(r *ingest.MeasureRow) { r.ID = "Ductus Venosus" }),
		place + "title: expected the name of the new measure in words":                                            newMeasure(func(r *ingest.MeasureRow) { r.Title = "" }),
		place + "unit: expected the unit that Leadline keeps this quantity in: cm/s":                              newMeasure(func(r *ingest.MeasureRow) { r.Unit = "m/s" }),
		place + "plane: expected one of any 2d m-mode spectral, perhaps spectral":                                 newMeasure(func(r *ingest.MeasureRow) { r.Plane = "spektral" }),
	} {
		if words, err := Builtin().Extended([]ingest.MeasureRow{r}); err == nil || err.Error() != want || words != nil {
			t.Errorf("got  %v\nwant %s", err, want)
		}
	}
}
