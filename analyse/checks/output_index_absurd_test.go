package checks

import (
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// TestOutputIndexAbsurd: what is named, once for each index, and that readings at the
// bounds are none.
func TestOutputIndexAbsurd(t *testing.T) {
	image := func(uid string, a ingest.Acoustic) *analyse.Image {
		return &analyse.Image{Picture: &analyse.Picture{}, Instance: &ingest.Instance{SOPInstanceUID: uid, Image: &ingest.Image{Acoustic: a}}}
	}
	some := func(v float64) ingest.Optional[float64] { return ingest.Some(v) }
	s := &analyse.Study{Images: []*analyse.Image{
		image("2.25.1", ingest.Acoustic{Mechanical: some(0), Cranial: some(12), SoftTissueFocus: some(-0.1)}),
		image("2.25.2", ingest.Acoustic{Mechanical: some(110), Cranial: some(0)}),
		image("2.25.3", ingest.Acoustic{Mechanical: some(-1), Bone: some(12.5)}),
		image("2.25.4", ingest.Acoustic{Mechanical: some(4)}),
		image("2.25.5", ingest.Acoustic{}),
	}}
	got := OutputIndexAbsurd.Run(s)
	want := []analyse.Finding{
		{SOPUID: "2.25.2", Message: "MI below 0 or above 4 on 2 of 4 images that give it: -1 to 110"},
		{SOPUID: "2.25.1", Message: "TIS at the focus below 0 or above 12 on 1 of 1 image that gives it: -0.1"},
		{SOPUID: "2.25.3", Message: "TIB below 0 or above 12 on 1 of 1 image that gives it: 12.5"},
	}
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i := range want {
		if got[i].SOPUID != want[i].SOPUID || got[i].Message != want[i].Message {
			t.Errorf("got  %+v\nwant %+v", got[i], want[i])
		}
	}
	s.Images = s.Images[3:]
	if got := OutputIndexAbsurd.Run(s); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	s.Images = []*analyse.Image{image("2.25.6", ingest.Acoustic{Mechanical: some(4.00001)})}
	if got := OutputIndexAbsurd.Run(s); len(got) != 1 || got[0].Message != "MI below 0 or above 4 on 1 of 1 image that gives it: 4.00001" {
		t.Errorf("just above: %+v", got)
	}
}
