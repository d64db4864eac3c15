package ingest

import (
	"strings"
	"time"
)

// Stamp is a date, perhaps with a time, as a file gives it. Clocks of devices
// seldom say their zone: Zone tells whether T is tied to UTC; where it is not,
// T holds the local reading labelled UTC, and only differences between stamps of
// one clock mean anything.
type Stamp struct {
	T       time.Time
	HasTime bool
	Zone    bool
	// East is how far the clock was ahead of UTC, where Zone is set.
	East time.Duration
}

// Reading is what the clock showed, labelled UTC: the day and hour that people on
// the spot would name, whether the zone is known or not.
func (s Stamp) Reading() time.Time { return s.T.Add(s.East) }

// After is the time from other to s: between moments where both say their zone, and
// between the readings of the clocks where one does not. It means something only if
// both clocks were set alike.
func (s Stamp) After(other Stamp) time.Duration {
	if s.Zone && other.Zone {
		return s.T.Sub(other.T)
	}
	return s.Reading().Sub(other.Reading())
}

// in ties a stamp to the zone that its object states (Timezone Offset From UTC,
// (0008,0201), PS3.3 C.12.1.1), unless it states its own or is a day without a time.
func (s Stamp) in(offset string) Stamp {
	if s.Zone || !s.HasTime {
		return s
	}
	minutes, ok := parseZone(strings.TrimSpace(offset))
	if !ok {
		return s
	}
	return s.east(time.Duration(minutes) * time.Minute)
}

// InZoneOf ties a stamp to the zone of another one of its object, unless it states
// its own or is a day without a time.
func (s Stamp) InZoneOf(other Stamp) Stamp {
	if s.Zone || !s.HasTime || !other.Zone {
		return s
	}
	return s.east(other.East)
}

func (s Stamp) east(d time.Duration) Stamp {
	s.T, s.Zone, s.East = s.T.Add(-d), true, d
	return s
}

// IsZero tells that no date was given or it could not be read.
func (s Stamp) IsZero() bool { return s.T.IsZero() }

// Date writes YYYY-MM-DD as the clock had it, empty where there is none.
func (s Stamp) Date() string {
	if s.IsZero() {
		return ""
	}
	return s.Reading().Format("2006-01-02")
}

// Clock writes HH:MM:SS, empty where no time was given.
func (s Stamp) Clock() string {
	if s.IsZero() || !s.HasTime {
		return ""
	}
	return s.Reading().Format("15:04:05")
}

// String writes date and time as ISO 8601 without a zone, as far as they are known.
func (s Stamp) String() string {
	if s.HasTime && !s.IsZero() {
		return s.Reading().Format("2006-01-02T15:04:05")
	}
	return s.Date()
}

// ParseStamp reads a DA and a TM value (PS3.5 6.2). The forms of before 1993,
// YYYY.MM.DD and HH:MM:SS, are read too, and fractions of any length. A date
// that is no date gives the zero Stamp; a time that is no time is left out.
func ParseStamp(date, clock string) Stamp {
	day, ok := parseDate(date)
	if !ok {
		return Stamp{}
	}
	s := Stamp{T: day}
	if d, ok := parseClock(clock); ok {
		s.T, s.HasTime = day.Add(d), true
	}
	return s
}

// ParseDateTime reads a DT value, which may end early and may carry a zone
// offset as &ZZXX.
func ParseDateTime(value string) Stamp {
	value = strings.TrimSpace(value)
	body, zone := value, ""
	if i := strings.LastIndexAny(value, "+-"); i >= 4 && len(value)-i == 5 {
		if _, ok := parseZone(value[i:]); ok {
			body, zone = value[:i], value[i:]
		}
	}
	if len(body) < 8 {
		return Stamp{}
	}
	return ParseStamp(body[:8], body[8:]).in(zone)
}

// parseZone reads &ZZXX as minutes east of UTC; −1200 to +1400 are allowed.
func parseZone(s string) (minutes int, ok bool) {
	if len(s) != 5 || (s[0] != '+' && s[0] != '-') {
		return 0, false
	}
	h, okH := digits(s[1:3])
	m, okM := digits(s[3:5])
	if !okH || !okM || m > 59 || h > 14 {
		return 0, false
	}
	minutes = h*60 + m
	if s[0] == '-' {
		minutes = -minutes
	}
	return minutes, true
}

func parseDate(s string) (time.Time, bool) {
	s = strings.TrimSpace(s)
	if len(s) == 10 && s[4] == s[7] && (s[4] == '.' || s[4] == '-') {
		s = s[:4] + s[5:7] + s[8:]
	}
	if len(s) != 8 {
		return time.Time{}, false
	}
	year, okY := digits(s[:4])
	month, okM := digits(s[4:6])
	day, okD := digits(s[6:])
	if !okY || !okM || !okD || year < 1900 || month < 1 || month > 12 {
		return time.Time{}, false
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return t, t.Day() == day // else a day that the month does not have
}

func parseClock(s string) (time.Duration, bool) {
	s = strings.ReplaceAll(strings.TrimSpace(s), ":", "")
	whole, fraction, _ := strings.Cut(s, ".")
	if len(whole) < 2 || len(whole) > 6 || len(whole)%2 != 0 {
		return 0, false
	}
	var parts [3]int
	for i := 0; i*2 < len(whole); i++ {
		v, ok := digits(whole[i*2 : i*2+2])
		if !ok {
			return 0, false
		}
		parts[i] = v
	}
	// A leap second is written as 60 (PS3.5 6.2).
	if parts[0] > 23 || parts[1] > 59 || parts[2] > 60 {
		return 0, false
	}
	d := time.Duration(parts[0])*time.Hour + time.Duration(parts[1])*time.Minute + time.Duration(parts[2])*time.Second
	nanos, ok := nanoseconds(fraction)
	return d + nanos, ok
}

// nanoseconds reads the digits after the decimal point, of any number.
func nanoseconds(fraction string) (time.Duration, bool) {
	unit := time.Second
	var d time.Duration
	for i := 0; i < len(fraction); i++ {
		c := fraction[i]
		if c < '0' || c > '9' {
			return 0, false
		}
		unit /= 10
		d += time.Duration(c-'0') * unit
	}
	return d, true
}

func digits(s string) (int, bool) {
	n := 0
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, len(s) > 0
}
