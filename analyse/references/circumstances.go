package references

import (
	"math"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/ingest"
)

// circumstances are what the header tells of the child at the time of the study:
// each a stretch in which the true value lies, or absent.
type circumstances struct {
	ageDays, weightKg stretch
}

// stretch is known to hold a value: low ≤ x < high, or x = low where both are equal.
type stretch struct {
	low, high float64
	known     bool
}

// circumstancesOf reads weight and age. Gestation has no attribute in a DICOM
// header (PS3.6 has none), so weeks at birth and postmenstrual weeks are never told.
func circumstancesOf(s *analyse.Study) circumstances {
	var c circumstances
	if s.Patient == nil {
		return c
	}
	if kg := s.Patient.WeightKg; kg.Set && checks.PlausibleWeight(kg.Value) {
		c.weightKg = stretch{kg.Value, kg.Value, true}
	}
	if c.ageDays = ageByBirth(s); !c.ageDays.known {
		c.ageDays = ageAsWritten(s.Patient.Age)
	}
	return c
}

// AgeDays is the age at the study in days, as a stretch from low to high in which
// it surely lies; known is false where the header does not tell it.
func AgeDays(s *analyse.Study) (low, high float64, known bool) {
	age := circumstancesOf(s).ageDays
	return age.low, age.high, age.known
}

// ageByBirth is the time from birth to the study in days. Where a clock time is
// missing, the day it belongs to is the stretch. A birth after the study tells
// nothing.
func ageByBirth(s *analyse.Study) stretch {
	birth := ingest.ParseStamp(s.Patient.BirthDate, s.Patient.BirthTime)
	if birth.IsZero() || s.Start.IsZero() {
		return stretch{}
	}
	age := s.Start.Reading().Sub(birth.T).Hours() / 24
	a := stretch{age, age, true}
	if !birth.HasTime {
		a.low--
	}
	if !s.Start.HasTime {
		a.high++
	}
	if a.high < 0 {
		return stretch{}
	}
	a.low = max(a.low, 0)
	return a
}

// ageAsWritten reads Patient's Age (PS3.5 6.2, AS): completed days, weeks, months
// or years.
func ageAsWritten(text string) stretch {
	days := map[byte]float64{'D': 1, 'W': 7, 'M': 365.25 / 12, 'Y': 365.25}
	text = strings.TrimSpace(text)
	if len(text) != 4 {
		return stretch{}
	}
	n, err := strconv.Atoi(text[:3])
	unit, ok := days[text[3]]
	if err != nil || !ok || n < 0 {
		return stretch{}
	}
	return stretch{float64(n) * unit, float64(n+1) * unit, true}
}

// answer is whether a condition is met.
type answer int

const (
	no answer = iota
	untold
	yes
)

// in tells whether the value lies in a span.
func (a stretch) in(s ingest.Span) answer {
	from, to := math.Inf(-1), math.Inf(1)
	if s.From.Set {
		from = s.From.Value
	}
	if s.To.Set {
		to = s.To.Value
	}
	switch {
	case s.Any():
		return yes
	case !a.known:
		return untold
	case a.low == a.high && (a.low < from || a.low >= to), a.low != a.high && (a.high <= from || a.low >= to):
		return no
	case a.low >= from && (a.high < to || a.high == to && a.low != a.high):
		return yes
	}
	return untold
}

// fits holds a row's conditions against the study: untold says in words what
// cannot be told, applies is false where the header contradicts the row.
func (c circumstances) fits(r *row) (untoldOf []string, applies bool) {
	for _, condition := range []struct {
		words string
		known stretch
		span  ingest.Span
	}{
		{"age", c.ageDays, r.AgeDays}, {"weight", c.weightKg, r.WeightKg},
		{gestation, stretch{}, r.GestationWeeks}, {postmenstrual, stretch{}, r.PostmenstrualWeeks},
	} {
		switch condition.known.in(condition.span) {
		case no:
			return nil, false
		case untold:
			untoldOf = append(untoldOf, condition.words)
		}
	}
	return untoldOf, true
}

const (
	gestation     = "weeks of gestation"
	postmenstrual = "postmenstrual weeks"
)
