package ingest

import "testing"

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
		value, want string
		zone        bool
	}{
		{"20260914101530.5", "2026-09-14T10:15:30", false},
		{"20260914101530+0200", "2026-09-14T08:15:30", true},
		{"20260914101530-0330", "2026-09-14T13:45:30", true},
		{"20260914", "2026-09-14", false},
		{"202609", "", false},
		{"20260914101530+9900", "2026-09-14", false},
	} {
		got := ParseDateTime(c.value)
		if got.String() != c.want || got.Zone != c.zone {
			t.Errorf("%q: %q zone %v, want %q %v", c.value, got, got.Zone, c.want, c.zone)
		}
	}
}
