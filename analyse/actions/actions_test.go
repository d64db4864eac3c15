package actions

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

var known = []analyse.Check{
	{ID: "differs", Title: "a value differs", Severity: analyse.Error},
	{ID: "no-scale", Title: "a picture has no scale", OfDevice: true},
	{ID: "grams", Title: "the weight is in grams"},
	{ID: "zone", Title: "a device states no zone", OfDevice: true},
	{ID: "unreadable", Title: "a file cannot be read"},
}

var probe = &ingest.Device{Model: "Probe", Serial: "1"}

// study has ten images, numbered from 1.
func study(n int) *analyse.Study {
	s := &analyse.Study{UID: fmt.Sprint(n), Device: analyse.DeviceName(probe), Devices: []*ingest.Device{probe}}
	for i := 1; i <= 10; i++ {
		s.Images = append(s.Images, &analyse.Image{Instance: &ingest.Instance{SOPInstanceUID: fmt.Sprintf("%d.%d", n, i), InstanceNumber: ingest.Some(int64(i)), Device: probe}})
	}
	return s
}

func item(title string, status analyse.ItemStatus, note string) *analyse.ItemResult {
	return &analyse.ItemResult{Protocol: "p", Item: title, Title: title, Kind: "image", Required: true, Status: status, Note: note}
}

// month holds every kind of thing to do: 40 images of one device without a scale are
// one row, and what one study lacks is one.
func month() *analyse.Result {
	r := &analyse.Result{}
	for n := range 4 {
		r.Studies = append(r.Studies, study(n))
	}
	finding := func(severity analyse.Severity, id string, study, image int) {
		f := analyse.Finding{Severity: severity, ID: id, Advice: "Do " + id + ".", StudyUID: fmt.Sprint(study)}
		if image > 0 {
			f.SOPUID = fmt.Sprintf("%d.%d", study, image)
		}
		r.Findings = append(r.Findings, f)
	}
	finding(analyse.Error, "differs", 2, 3)
	finding(analyse.Error, "differs", 2, 7)
	finding(analyse.Error, "differs", 1, 1)
	for n := range 4 {
		for i := range 10 {
			finding(analyse.Warning, "no-scale", n, i+1)
		}
	}
	finding(analyse.Warning, "grams", 0, 0)
	finding(analyse.Warning, "lonely", 0, 5)
	r.Findings = append(r.Findings,
		analyse.Finding{Severity: analyse.Note, ID: "zone", Device: probe, Advice: "Set it."}, analyse.Finding{Severity: analyse.Note, ID: "zone", Device: &ingest.Device{Model: "Other"}, Advice: "Set it."},
		analyse.Finding{Severity: analyse.Error, ID: "unreadable", Path: "a/b", Advice: "Send it again."},
		analyse.Finding{Severity: analyse.Note, ID: "copy", Path: "a/c", Advice: "Nothing needs doing; remove it."},
		analyse.Finding{Severity: analyse.Warning, ID: "item-missing", StudyUID: "3"})
	r.Studies[3].Items = []*analyse.ItemResult{
		item("Long axis", analyse.Missing, "none"), item("Duct", analyse.Missing, "none"), item("Apex", analyse.Partial, "1 of 2 clips"), item("Arch", analyse.Met, ""),
		{Protocol: "p", Item: "optional", Title: "Optional", Status: analyse.Missing},
	}
	for n := range 3 {
		r.Studies[n].Items = []*analyse.ItemResult{item("Long axis", analyse.NotAssessable, "no view name")}
	}
	return r
}

// TestList wants the rows of the month, in order and in words.
func TestList(t *testing.T) {
	var got []string
	for _, a := range Of(month(), known) {
		where := "all"
		if a.Study != nil {
			where = "study " + a.Study.UID
		} else if a.Device != nil {
			where = a.Device.Model
		}
		got = append(got, fmt.Sprintf("%d %s, %s, %d in %d: %s / %s %v", a.Order, a.Class.Why(), where, a.Times, a.Studies, a.Problem, a.Todo, a.Files))
	}
	want := []string{
		"1 Misleads a reader, study 2, 2 in 1: A value differs (images 3, 7). / Do differs. []",
		"2 Misleads a reader, study 1, 1 in 1: A value differs (image 1). / Do differs. []",
		"3 Required, missing, study 3, 2 in 1: Long axis. Duct. / " + todoOf["image"] + " []",
		"4 Required, in part, study 3, 1 in 1: Apex: 1 of 2 clips. / " + todoOf["image"] + " []",
		"5 Look before use, study 0, 2 in 1: The weight is in grams. Lonely (image 5). / Do grams. Do lonely. []",
		"6 Cannot be judged, Probe, 3 in 3: Long axis cannot be judged: 3 times, in 3 studies. / " + notSaid + " []",
		"7 Of the device: mend once, Probe, 40 in 4: A picture has no scale: 40 times, in 4 studies. / Do no-scale. []",
		"8 Of the device: mend once, all, 2 in 0: A device states no zone (2 devices). / Set it. []",
		"9 Of files, all, 1 in 0: A file cannot be read. / Send it again. [a/b]",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestUnsaid tells what could not be judged, and why, once.
func TestUnsaid(t *testing.T) {
	s := study(0)
	s.Items = []*analyse.ItemResult{item("Apex", analyse.NotAssessable, "could not be judged: image 7 tells no view")}
	list := Of(&analyse.Result{Studies: []*analyse.Study{s}}, known)
	if len(list) != 1 || list[0].Problem != "Apex cannot be judged: image 7 tells no view." {
		t.Errorf("%+v", list)
	}
}

// TestDetailed tells which number differs, where it is one, and its image.
func TestDetailed(t *testing.T) {
	r := &analyse.Result{Studies: []*analyse.Study{study(0)}}
	f := analyse.Finding{Severity: analyse.Error, ID: "measurement-differs", StudyUID: "0", SOPUID: "0.3", Message: "measurement 5: reported 34.0 cm, rebuilt 33.96 mm", Advice: "Look."}
	r.Findings = []analyse.Finding{f}
	if list := Of(r, known); len(list) != 1 || list[0].Problem != "Measurement differs (image 3): measurement 5: reported 34.0 cm, rebuilt 33.96 mm." {
		t.Errorf("%+v", list)
	}
	f.SOPUID = "0.4"
	r.Findings = append(r.Findings, f)
	if list := Of(r, known); len(list) != 1 || list[0].Problem != "Measurement differs (images 3, 4)." {
		t.Errorf("%+v", list)
	}
}

// TestFewLines: whatever is wrong with one study, it has five rows at most, each of
// three sentences and their rest.
func TestFewLines(t *testing.T) {
	for seed := range 30 {
		rng := rand.New(rand.NewPCG(uint64(seed), 1))
		s := study(0)
		r := &analyse.Result{Studies: []*analyse.Study{s}}
		for i := range 60 {
			severity := []analyse.Severity{analyse.Error, analyse.Warning, analyse.Note}[rng.IntN(3)]
			r.Findings = append(r.Findings, analyse.Finding{Severity: severity, ID: fmt.Sprintf("check-%c", 'a'+rng.IntN(20)), StudyUID: "0", SOPUID: fmt.Sprintf("0.%d", rng.IntN(12)), Advice: "Look."})
			status := []analyse.ItemStatus{analyse.Met, analyse.Partial, analyse.Missing, analyse.NotAssessable, analyse.NotApplicable}[rng.IntN(5)]
			s.Items = append(s.Items, item(fmt.Sprint("Item ", i), status, ""))
		}
		list := Of(r, known)
		if len(list) == 0 || len(list) > 5 {
			t.Errorf("seed %d: %d rows for one study", seed, len(list))
		}
		for _, a := range list {
			if n := strings.Count(a.Problem, ". ") + 1; n > mostFaults+1 {
				t.Errorf("seed %d: %d sentences: %s", seed, n, a.Problem)
			}
		}
		if again := Of(r, known); !reflect.DeepEqual(list, again) {
			t.Errorf("seed %d: the list differs from run to run", seed)
		}
	}
}

// TestClock tells what is off a clock once, not what is steady.
func TestClock(t *testing.T) {
	r := &analyse.Result{Clocks: []analyse.DeviceClock{{Device: probe, Facts: []analyse.ClockFact{
		{Aspect: analyse.AspectOffset, Against: "file", Verdict: analyse.ClockLook, Evidence: "24 min behind"},
		{Aspect: analyse.AspectOffset, Against: "study", Verdict: analyse.ClockLook, Evidence: "23 min behind"},
		{Aspect: analyse.AspectDrift, Verdict: analyse.ClockSteady, Evidence: "none"},
	}}}}
	list := Of(r, known)
	if len(list) != 1 || list[0].Problem != "The clock seems to be off: 24 min behind." || list[0].Device != probe {
		t.Errorf("%+v", list)
	}
}
