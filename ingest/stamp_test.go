package ingest

import (
	"testing"
	"time"
)

// TestParseStamp takes the forms of PS3.5 6.2 and those that real files hold.
func TestParseStamp(t *testing.T) {
	for _, c := range []struct{ date, clock, want string }{
		{"20260914", "101530", "2026-09-14T10:15:30"},
		{"20260914", "101530.123456", "2026-09-14T10:15:30"},
		{"20260914", "1015", "2026-09-14T10:15:00"},
		{"20260914", "", "2026-09-14"},
		{"1994.11.05", "11:20:00", "1994-11-05T11:20:00"},
		{"20240229", "235960", "2024-03-01T00:00:00"},
		{"00000000", "101530", ""},
		{"20261301", "", ""},
		{"20260230", "", ""},
		{"", "101530", ""},
		{"20260914", "250000", "2026-09-14"},
		{"20260914", "10153a", "2026-09-14"},
		{"2026-09-14", "101530.000000000", "2026-09-14T10:15:30"},
	} {
		if got := ParseStamp(c.date, c.clock).String(); got != c.want {
			t.Errorf("%q %q: %q, want %q", c.date, c.clock, got, c.want)
		}
	}
}

func TestParseDateTime(t *testing.T) {
	for _, c := range []struct {
		value, want, utc string
		zone             bool
	}{
		{"20260914101530.5", "2026-09-14T10:15:30", "10:15", false},
		{"20260914101530+0200", "2026-09-14T10:15:30", "08:15", true},
		{"20260914101530-0330", "2026-09-14T10:15:30", "13:45", true},
		{"20260914", "2026-09-14", "00:00", false},
		{"202609", "", "00:00", false},
		{"20260914101530+9900", "2026-09-14", "00:00", false},
	} {
		got := ParseDateTime(c.value)
		if got.String() != c.want || got.Zone != c.zone || got.T.Format("15:04") != c.utc {
			t.Errorf("%q: %q zone %v, T at %s, want %q %v %s", c.value, got, got.Zone, got.T.Format("15:04"), c.want, c.zone, c.utc)
		}
	}
}

// TestZoneOfObject: Timezone Offset From UTC ties date and time to UTC (PS3.3
// C.12.1.1), and not what states an offset of its own or has no time.
func TestZoneOfObject(t *testing.T) {
	summer, own := ParseStamp("20260914", "101530").in("+0200"), ParseDateTime("20260914101530+0530").in("+0200")
	if summer.T.Hour() != 8 || !summer.Zone || summer.Clock() != "10:15:30" {
		t.Errorf("%v at %v", summer, summer.T)
	}
	if own.T.Format("15:04") != "04:45" || own.Clock() != "10:15:30" {
		t.Errorf("%v at %v", own, own.T)
	}
	if d := summer.After(own); d != 3*time.Hour+30*time.Minute {
		t.Errorf("the same reading 3 h 30 min further west is %v later", d)
	}
	if s := ParseStamp("20260914", "").in("+0200"); s.Zone || s.Date() != "2026-09-14" {
		t.Errorf("a day has the zone %v and is %v", s.Zone, s)
	}
	if local := ParseStamp("20260914", "111530"); local.in("CEST").Zone || local.After(summer) != time.Hour {
		t.Errorf("readings of one zone: %v", local.After(summer))
	}
}
