package sample

import (
	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// month is what the sample's studies say together, with everything that must not get
// out: an operator, a device's serial number, days, a folder named after a patient.
func month(d *ingest.Device) analyse.Month {
	third := analyse.Proportion{Numerator: 1, Denominator: 3, Value: some(1.0 / 3), Low: some(0.0615), High: some(0.7923), Small: true}
	rate := func(of analyse.RateOf, by analyse.RateBy) analyse.GroupRate {
		return analyse.GroupRate{Protocol: "heart-functional", Of: of, By: by, Proportion: third, NotAssessable: 1}
	}
	whole, byDevice, byPerson := rate(analyse.CompleteStudies, analyse.ByProtocol), rate(analyse.ItemsMet, analyse.ByDevice), rate(analyse.ItemsMet, analyse.ByOperator)
	byDevice.Device, byPerson.Operator = d, "Brook^Lee"
	byWeek, item := rate(analyse.CompleteStudies, analyse.ByWeek), rate(analyse.ItemMet, analyse.ByItem)
	byWeek.Period, byWeek.Earlier = "2026-W10", true
	item.Item, item.Title, item.Proportion, item.NotAssessable = "lvidd", "Left ventricular diameter in diastole, three beats", analyse.Proportion{Suppressed: true}, 0
	return analyse.Month{
		Rates: []analyse.GroupRate{whole, item, byDevice, byPerson, byWeek},
		Charts: []analyse.Chart{
			{Kind: analyse.ChartP, Protocol: "heart-functional", Subject: "complete-studies", Title: "Complete studies by week", Unit: physical.One, Note: "no limits: 1 week", Points: []analyse.ChartPoint{
				{Label: "2026-W10", Numerator: 1, Denominator: 3, Value: some(1.0 / 3), Baseline: true, Note: "small denominator"}}},
			{Kind: analyse.ChartIndividuals, Protocol: "heart-functional", Subject: "study-length", Title: "Study length", Unit: physical.S, Points: []analyse.ChartPoint{
				{Label: "2026-03-02", StudyUID: uid(1, 0), Denominator: 1, Value: some(1058.0), Centre: some(600.0), Lower: some(0.0), Upper: some(1000.0), Baseline: true, Signals: []string{"beyond-limits", "two-of-three"}},
				{Label: "2026-03-03", StudyUID: uid(2, 0), Note: "not known"}}},
		},
		Differences: []analyse.Difference{
			{Protocol: "heart-functional", Of: analyse.CompleteStudies, NowIs: analyse.ThisAudit, BeforeIs: "/archive/Quastenflosser_Mira/february", Now: third, Before: third, Value: some(0.0), Low: some(-0.5), High: some(0.5)},
		},
		Earlier: []analyse.EarlierAudit{{Name: "/archive/Quastenflosser_Mira/february", Studies: 4, Again: 1, Previous: true}},
		MinCell: 2, Suppressed: 1,
	}
}
