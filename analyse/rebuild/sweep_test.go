package rebuild

import (
	"strings"
	"testing"

	"leadline/ingest"
)

// Newest column 400 on frame 1; at 20 ms a frame and 5 ms a column the strip is
// written on by 4 columns a frame: on frame f its end is 401 + 4·(f−1), from the left
// again after 800.
func TestSweepingClip(t *testing.T) {
	study := sample()
	for _, c := range []struct {
		flags uint32
		frame int
		line  string
		want  string
	}{
		{2, 1, "300,350 400,350", "duration 0.5 s agrees"},
		{2, 11, "340,350 440,350", "duration 0.5 s agrees"},
		{2, 11, "342,350 442,350", "duration not-rebuilt caliper-across-regions"},
		{2, 11, "441,350 541,350", "duration 0.5 s agrees"},
		{2, 39, "552,350 652,350", "duration not-rebuilt caliper-across-regions"},
		// 110 frames on: column 840, from the left again 40.
		{2, 111, "0,350 100,350", "duration not-rebuilt caliper-across-regions"},
		{2, 111, "41,350 141,350", "duration 0.5 s agrees"},
		// Sweeping, then scrolling: full from frame 101 on.
		{3, 100, "700,350 800,350", "duration not-rebuilt caliper-across-regions"},
		{3, 101, "700,350 800,350", "duration 0.5 s agrees"},
	} {
		for _, img := range study.Images {
			if img.SOPInstanceUID == "sweep-clip" {
				img.Image.Frames, img.Image.Regions[0].Flags = 200, ingest.Some(c.flags<<3)
			}
		}
		r := row("sweep-clip", "line|"+c.line+"|0.5|s|")
		r.Frames = []int{c.frame}
		got := Measurements(study, []ingest.CaliperRow{r}, nil)
		if said := describe(got); said != c.want {
			t.Errorf("frame %d, %s: got %s (%s), want %s", c.frame, c.line, said, got[0].Note, c.want)
		}
	}
	for _, img := range study.Images {
		if img.SOPInstanceUID == "sweep-clip" {
			img.Image.Timing = ingest.Timing{}
		}
	}
	r := row("sweep-clip", "line|300,350 400,350|0.5|s|")
	r.Frames = []int{2}
	if got := Measurements(study, []ingest.CaliperRow{r}, nil); describe(got) != "duration not-rebuilt caliper-uncalibrated" || !strings.Contains(got[0].Note, "without frame timing") {
		t.Errorf("without timing: %s (%s)", describe(got), got[0].Note)
	}
}
