package analyse

import (
	"slices"

	"leadline/analyse/physical"
	"leadline/ingest"
)

// ChartKind says how the limits of a control chart are made.
type ChartKind string

// The kinds of control chart.
const (
	ChartP           ChartKind = "p"
	ChartIndividuals ChartKind = "individuals"
	ChartMovingRange ChartKind = "moving-range"
	ChartEWMA        ChartKind = "ewma"
)

// Chart is a control chart: values in the order of time, each with the limits it is
// held against. Limits say what a steady process would do, not what is good.
type Chart struct {
	Kind ChartKind
	// Subject is what is charted, a kebab word or the name of a measure, item or
	// target; Title says it in words.
	Subject, Title string
	// Protocol, Item of it, Device and Operator narrow the subject, where they do.
	// Operator is a person.
	Protocol, Item, Operator string
	Device                   *ingest.Device
	// Unit is 1 for a rate.
	Unit   physical.Unit
	Points []ChartPoint
	// Source names where the limits and the rules were published.
	Source string
	// Note says why there are no limits, or what a reader must know; else empty.
	Note string
}

// SignalsLater tells that a point signals from which the limits were not made.
func (c *Chart) SignalsLater() bool {
	return slices.ContainsFunc(c.Points, func(p ChartPoint) bool { return len(p.Signals) > 0 && !p.Baseline })
}

// ChartPoint is one value of a chart.
type ChartPoint struct {
	// Label is the period or day of the point: 2026-09, 2026-W36, 2026-09-02.
	Label string
	// StudyUID is the study of a point that stands for one; else empty.
	StudyUID string
	// Numerator and Denominator are the counts of a rate; Denominator counts the
	// values behind any other point.
	Numerator, Denominator int
	// Value is absent where there is nothing to compute it from.
	Value                ingest.Optional[float64]
	Centre, Lower, Upper ingest.Optional[float64]
	// Baseline tells that the limits were made from this point, among others.
	Baseline bool
	// Signals are the ids of the run rules that end at this point.
	Signals []string
	Note    string
}
