package deid

import (
	"math/big"
	"strings"
	"testing"
	"time"
)

func TestUIDPseudonym(t *testing.T) {
	r := New(None, []byte("key"))
	got := r.Text(UID, nil, "1.2.3.4.5")
	digits, ok := strings.CutPrefix(got, "2.25.")
	n, isNumber := new(big.Int).SetString(digits, 10)
	if !ok || !isNumber {
		t.Fatalf("got %q, want 2.25.<decimal>", got)
	}
	// RFC 9562 4.1 and 4.2: version in bits 76-79, variant in bits 62-63.
	b := n.FillBytes(make([]byte, 16))
	if b[6]>>4 != 8 || b[8]>>6 != 2 {
		t.Errorf("not a UUID of version 8: % x", b)
	}
	if len(got) > 64 {
		t.Errorf("a UID has at most 64 characters (PS3.5 9.1), got %d", len(got))
	}
	if again := New(None, []byte("key")).Text(UID, nil, "1.2.3.4.5"); again != got {
		t.Error("same key, other pseudonym")
	}
	if other := New(None, []byte("other")).Text(UID, nil, "1.2.3.4.5"); other == got {
		t.Error("other key, same pseudonym")
	}
	if a, b := New(None, nil).Text(UID, nil, "1.2.3.4.5"), New(None, nil).Text(UID, nil, "1.2.3.4.5"); a == b {
		t.Error("two random keys gave the same pseudonym")
	}
}

func TestText(t *testing.T) {
	patient := Identifiers{Name: "Quastenflosser^Mira^Jo", ID: "NX-4711", BirthDate: "20260301"}
	cases := []struct {
		identity  Identity
		rule      Rule
		in, want  string
		different bool
	}{
		{identity: Study, rule: UID, in: "1.2.3.4.5", want: "1.2.3.4.5"},
		{identity: Study, rule: Words, in: "LV diastole", want: "LV diastole"},
		{identity: Study, rule: Words, in: "quastenflosser LV", want: Withheld},
		{identity: Study, rule: Words, in: "LV nx-4711", want: Withheld},
		{identity: Study, rule: Words, in: "born 2026-03-01", want: Withheld},
		{identity: Study, rule: Words, in: "born 01.03.2026", want: Withheld},
		{identity: Study, rule: Words, in: "born 20260301", want: Withheld},
		{identity: Study, rule: Words, in: "seen 2026-03-02", want: "seen 2026-03-02"},
		{identity: Study, rule: Words, in: "MirabilisLV", want: Withheld},
		{identity: Study, rule: Path, in: "out/Quastenflosser_Mira/1.dcm", want: "out/(withheld)/1.dcm"},
		{identity: Study, rule: Path, in: "out/QUASTENFLOSSER_MIRA/2", want: "out/(withheld)/2"},
		{identity: Study, rule: Path, in: "out/20260301/1.dcm", want: "out/20260301/1.dcm"},
		{identity: Study, rule: Person, in: "Tidewater^Ann; Brook^Lee", want: "person 1; person 2"},
		{identity: Study, rule: Person, in: "BROOK^LEE^", want: "person 2"},
		{identity: Study, rule: Person, in: "Nobody^Met", want: "person"},
		{identity: None, rule: UID, in: "1.2.840.10008.5.1.4.1.1.6.1", want: "1.2.840.10008.5.1.4.1.1.6.1"},
		{identity: None, rule: Words, in: "LV diastole", want: ""},
		{identity: None, rule: Keep, in: "line", want: "line"},
		{identity: None, rule: Code, in: "4711", different: true},
		{identity: None, rule: Path, in: "out/a.dcm", different: true},
		{identity: None, rule: Person, in: "Brook^Lee", different: true},
		{identity: None, rule: Message, in: "image 1.2.3.4.5.6 is 5.25 mm wide", different: true},
		{identity: Full, rule: Person, in: "Brook^Lee", want: "Brook^Lee"},
		{identity: Full, rule: Path, in: "out/Quastenflosser_Mira/1.dcm", want: "out/Quastenflosser_Mira/1.dcm"},
	}
	for _, c := range cases {
		r := New(c.identity, []byte("k"))
		s := r.Subject("1.2.3", patient)
		r.Meet("Tidewater^Ann; Brook^Lee")
		r.MeetPath(s, "out/Quastenflosser_Mira/1.dcm")
		r.MeetPath(s, "out/20260301/1.dcm")
		got := r.Text(c.rule, s, c.in)
		if !c.different && got != c.want || c.different && (got == c.in || got == "") {
			t.Errorf("%s, rule %d, %q: got %q, want %q", c.identity, c.rule, c.in, got, c.want)
		}
	}
}

// A word in a patient's name that names nobody must not blank whole archives.
func TestNobodyIsWithheld(t *testing.T) {
	r := New(Study, nil)
	s := r.Subject("1", Identifiers{Name: "Baby Girl^of", ID: "12"})
	if got := r.Text(Words, s, "baby girl of 12"); got == Withheld {
		t.Error("withheld a text that names nobody")
	}
}

func TestShiftIsFixedPerPatient(t *testing.T) {
	r := New(None, []byte("k"))
	day := time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)
	a := r.Subject("1.1", Identifiers{ID: "A"})
	again := r.Subject("1.2", Identifiers{ID: "A"})
	first, second := r.Time(Stamp, a, day), r.Time(Stamp, again, day.AddDate(0, 0, 3))
	if d := second.Sub(first); d != 72*time.Hour {
		t.Errorf("an interval of 3 days became %v", d)
	}
	if first.Equal(day) || first.After(day) || first.Weekday() != day.Weekday() || first.Hour() != 9 {
		t.Errorf("%v shifted to %v", day, first)
	}
	different := false
	for _, id := range []string{"B", "C", "D", "E"} {
		different = different || !r.Time(Stamp, r.Subject("1", Identifiers{ID: id}), day).Equal(first)
	}
	if !different {
		t.Error("every patient is shifted alike")
	}
	if got := New(Study, nil).Time(Stamp, a, day); !got.Equal(day) {
		t.Error("identity study shifted a date")
	}
}
