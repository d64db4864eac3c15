package assemble

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"leadline/ingest"
	"leadline/ingest/report"
)

// TestOrder: a study is the same wherever its files lie and in whatever order they
// come, also where clocks and instance numbers do not tell files apart.
func TestOrder(t *testing.T) {
	var want string
	for seed := range uint64(20) {
		var all []*ingest.Instance
		for i := range 4 {
			img := picture("A", "same", 0, ingest.Image{Frames: 1})
			img.SOPInstanceUID, img.Path = fmt.Sprint("1.", i), fmt.Sprint(rand.New(rand.NewPCG(seed, uint64(i))).IntN(1e6))
			img.Device = &ingest.Device{Model: fmt.Sprint("Tern ", i)}
			sr := picture("A", "same", 0, ingest.Image{})
			sr.Image, sr.Report = nil, &report.Document{}
			sr.SOPInstanceUID, sr.Path = fmt.Sprint("2.", i), img.Path
			sr.Content = ingest.Stamp{T: dayOne.Add(time.Duration(3-i/2) * time.Hour)}
			all = append(all, img, sr)
		}
		rand.New(rand.NewPCG(seed, 9)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		s := Studies(all)[0]
		got := s.Device
		for _, img := range s.Images {
			got += " " + img.SOPInstanceUID
		}
		for _, sr := range s.Reports {
			got += " " + sr.SOPInstanceUID
		}
		if want == "" {
			want = got
		}
		if got != want {
			t.Fatalf("seed %d: %s, before %s", seed, got, want)
		}
	}
	if want != "Tern 0 1.0 1.1 1.2 1.3 2.2 2.3 2.0 2.1" {
		t.Errorf("ordered as %s", want)
	}
}
