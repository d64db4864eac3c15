package demo

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// A demo of several months is about its heart studies: how many are complete, week by
// week. They begin at one rate, one week is bad, and from one month on they are better;
// what is planted stands in truth-month.csv.
const (
	completeBefore = 0.70
	completeLater  = 0.97
)

const monthTruth = "truth-month.csv"

// lacks are what an incomplete heart study lacks, by turns.
var lacks = []string{"missing-view", "missing-measure", "clip-short"}

// ofYear are the kinds of study by how often they come, in ten.
var ofYear = []kind{heart, heart, lung, heart, heart, head, heart, heart, vessels, heart}

// yearPlans lists the studies of several months that end with that of the archive.
func yearPlans(o Options) []plan {
	list := make([]plan, o.Studies)
	first := archiveMonth.AddDate(0, 1-o.Months, 0)
	days := int(archiveMonth.AddDate(0, 1, 0).Sub(first).Hours()/24 + 0.5)
	for i := range list {
		p := plan{ordinal: i, kind: ofYear[i%len(ofYear)]}
		suitable := probes[p.kind]
		p.device = suitable[i/len(ofYear)%len(suitable)]
		rng := rand.New(rand.NewPCG(uint64(o.Seed), uint64(i)))
		p.patient = newPatient(rng, i)
		p.day = first.AddDate(0, 0, i*days/o.Studies)
		// Births are drawn for the month before the archive's; they fall before the study.
		p.patient.birth = p.day.AddDate(0, 0, -1-rng.IntN(30)).Add(p.patient.birth.Sub(p.patient.birth.Truncate(24 * time.Hour)))
		if p.kind == heart && rng.Float64() >= completeRate(p.day, o.Months) {
			p.defects = []string{lacks[i%len(lacks)]}
		}
		list[i] = p
	}
	return list
}

// completeRate is how probable it is that a heart study of a day is complete.
func completeRate(day time.Time, months int) float64 {
	switch {
	case isoWeek(day) == isoWeek(badWeek(months)):
		return 0
	case !day.Before(betterFrom(months)):
		return completeLater
	}
	return completeBefore
}

// badWeek is a day of the week in which nothing is complete, a third into the months;
// betterFrom the first day of the later half.
func badWeek(months int) time.Time {
	return archiveMonth.AddDate(0, 1-months+months/3, 14)
}

func betterFrom(months int) time.Time { return archiveMonth.AddDate(0, 1-months+(months+1)/2, 0) }

func isoWeek(t time.Time) string {
	year, week := t.ISOWeek()
	return fmt.Sprintf("%d-W%02d", year, week)
}

// monthCSV says what charts and rates of the months must show.
func monthCSV(months int) ([]byte, error) {
	return csvBytes([][]string{
		{"period", "what"},
		{isoWeek(badWeek(months)), "no heart study of this week is complete"},
		{betterFrom(months).Format("2006-01"), "from this month on more heart studies are complete"},
	})
}
