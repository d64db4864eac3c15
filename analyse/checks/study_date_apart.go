package checks

import (
	"fmt"
	"slices"
	"time"

	"leadline/analyse"
)

// StudyDateApart is the finding study-date-apart: a study is a year away from all others.
var StudyDateApart = analyse.Check{
	ID:    "study-date-apart",
	Title: "a study is dated a year away from all others",
	Doc: "Nine tenths of the studies of an archive follow each other without a gap of a year, and this one lies more than a year before or after them (bounds:" +
		" common practice, no source). Clocks that lost their battery begin in a year long past, a mistyped year lies in the future. Asked where at least ten studies" +
		" are read; no clock of the computer that runs the audit is asked. A study that --since or --until leaves out is not judged: look at it without them.",
	Advice:   "See whether the clock of the device shows the right year; correct the date of the study.",
	Severity: analyse.Warning,
	OfDevice: true,
}

const (
	// yearApart is what parts a study from the others.
	yearApart = 366 * 24 * time.Hour
	// fewestStudies and mostOfArchive say when the others are an archive, and not as
	// scattered themselves.
	fewestStudies = 10
	mostOfArchive = 0.9
)

// DatesApart are the findings about studies that are a year away from all others,
// see StudyDateApart.
func DatesApart(studies []*analyse.Study) []analyse.Finding {
	dated := slices.DeleteFunc(slices.Clone(studies), func(s *analyse.Study) bool { return s.Start.IsZero() })
	slices.SortStableFunc(dated, func(a, b *analyse.Study) int { return a.Start.Reading().Compare(b.Start.Reading()) })
	first, end := longestRun(dated)
	if len(dated) < fewestStudies || float64(end-first) < mostOfArchive*float64(len(dated)) {
		return nil
	}
	var findings []analyse.Finding
	for i, s := range dated {
		switch {
		case i < first:
			findings = append(findings, apart(s, dated[first], "before the first"))
		case i >= end:
			findings = append(findings, apart(s, dated[end-1], "after the last"))
		}
	}
	return findings
}

// longestRun is the longest stretch of studies without a gap of a year.
func longestRun(dated []*analyse.Study) (first, end int) {
	start := 0
	for i := range dated {
		if i > 0 && dated[i].Start.Reading().Sub(dated[i-1].Start.Reading()) > yearApart {
			start = i
		}
		if i+1-start > end-first {
			first, end = start, i+1
		}
	}
	return first, end
}

func apart(s, other *analyse.Study, where string) analyse.Finding {
	days := s.Start.Reading().Sub(other.Start.Reading()).Abs().Hours() / 24
	return Stamp(&StudyDateApart, analyse.Finding{StudyUID: s.UID,
		Message: fmt.Sprintf("the study is dated %.0f days %s of the others", days, where)})
}
