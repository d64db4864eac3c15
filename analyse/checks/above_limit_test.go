package checks

import (
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// TestAboveLimit: what the notes of output indices say, and which index is whose.
func TestAboveLimit(t *testing.T) {
	limit := func(above float64, minutes ingest.Optional[float64]) *ingest.AcousticLimit {
		return &ingest.AcousticLimit{Above: above, Minutes: minutes, Seen: "seen", Source: "A 2009"}
	}
	lung, head := limit(0.3, ingest.Optional[float64]{}), limit(0.7, ingest.Some(60.0))
	s := &analyse.Study{Acoustic: []analyse.AcousticExcess{
		{Index: ingest.IndexMI, Exam: "lung", Told: "descriptions", Lowest: lung, Highest: lung, Above: 2, With: 3, Max: 1.25, SOPUID: "2.25.7"},
		{Index: ingest.IndexTIC, Exam: "head", Told: "anatomic region", Lowest: head, Highest: limit(1, ingest.Some(30.0)), Above: 1, With: 1, Max: 1.2},
		{Index: ingest.IndexTIB, Exam: "spine", Told: "descriptions", Lowest: head, Highest: limit(3, ingest.Some(0.0)), Above: 1, With: 1, Max: 3.5},
	}}
	mechanical, thermal := MechanicalIndexAboveLimit.Run(s), ThermalIndexAboveLimit.Run(s)
	if len(mechanical) != 1 || len(thermal) != 2 || mechanical[0].SOPUID != "2.25.7" {
		t.Fatalf("%+v\n%+v", mechanical, thermal)
	}
	for i, want := range []string{
		"MI above 0.3 on 2 of 3 images that give it, the largest 1.25; exam lung by descriptions (seen: A 2009)",
		"TIC above 0.7 on 1 of 1 images that give it, the largest 1.2; exam head by anatomic region; above 1 at most 30 minutes recommended (seen: A 2009)",
		"TIB above 0.7 on 1 of 1 images that give it, the largest 3.5; exam spine by descriptions; above 3 not recommended (seen: A 2009)",
	} {
		if got := append(mechanical, thermal...)[i].Message; got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
	if f := MechanicalIndexAboveLimit.Run(&analyse.Study{}); len(f) != 0 {
		t.Errorf("a study below all limits: %+v", f)
	}
}
