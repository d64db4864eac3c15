package analyse

import "leadline/ingest"

// Month is what an audit says of all its studies together: rates, charts in the
// order of time, and what changed since the audit before. It is named after the time
// that quality teams meet; an archive may hold any.
type Month struct {
	Rates       []GroupRate
	Charts      []Chart
	Differences []Difference
	// Earlier are the audits it was compared with, the latest last.
	Earlier []EarlierAudit
	// Undated counts the studies without a date: they are in no period and no chart.
	Undated int
	// MinCell is the least count that is shown, 0 for any. Suppressed counts the
	// rows, points and charts left out for it.
	MinCell, Suppressed int
}

// RateOf is what a rate counts.
type RateOf string

// The rates: studies that meet all that their protocol requires and that could be
// judged; required items of all studies that are met; studies that meet one item.
const (
	CompleteStudies RateOf = "complete-studies"
	ItemsMet        RateOf = "items-met"
	ItemMet         RateOf = "item-met"
)

// RateBy is what the studies of a rate have in common, beside the protocol.
type RateBy string

// The groups of rates.
const (
	ByProtocol RateBy = "protocol"
	ByItem     RateBy = "item"
	ByDevice   RateBy = "device"
	ByUnit     RateBy = "unit"
	ByOperator RateBy = "operator"
	ByMonth    RateBy = "month"
	ByWeek     RateBy = "week"
)

// GroupRate is a rate of one group of studies.
type GroupRate struct {
	Protocol string
	Of       RateOf
	By       RateBy
	// Item and Title are set for one item. Of the next four at most one is: Operator
	// is a person, Unit a hospital's unit, Period a month (2026-09) or an ISO 8601
	// week (2026-W36).
	Item, Title            string
	Device                 *ingest.Device
	Operator, Unit, Period string
	Proportion
	// NotAssessable counts what could not be judged, which is in neither count.
	NotAssessable int
	// Earlier tells that studies of earlier audits are in it.
	Earlier bool
}

// Proportion is a share with its 95 % interval (Wilson), which is absent where
// nothing was counted.
type Proportion struct {
	Numerator, Denominator int
	Value, Low, High       ingest.Optional[float64]
	// DesignEffect is by how many the denominator is divided in the interval, because
	// items of one study go together; absent where it was not used.
	DesignEffect ingest.Optional[float64]
	// Small tells that the denominator is below SmallDenominator.
	Small bool
	// Suppressed tells that it may not be shown; all else is zero then.
	Suppressed bool
}

// SmallDenominator is how many a rate is held to be of before it is told without a
// warning: people are to be reported from 20 to 30 studies on (common practice, no
// source).
const SmallDenominator = 20

// Difference is a rate less the same rate before.
type Difference struct {
	Protocol    string
	Of          RateOf
	Item, Title string
	// NowIs and BeforeIs say what is compared: months, or this audit and the name of
	// an earlier one.
	NowIs, BeforeIs string
	Now, Before     Proportion
	// Value, Low and High are the difference and its 95 % interval (Newcombe).
	Value, Low, High ingest.Optional[float64]
	Note             string
}

// Direction says what a difference shows: better or worse where its interval leaves
// out 0, else unclear; empty where there is none.
func (d *Difference) Direction() string {
	switch {
	case !d.Value.Set:
		return ""
	case d.Low.Value > 0:
		return "better"
	case d.High.Value < 0:
		return "worse"
	}
	return "unclear"
}

// ThisAudit is what a difference calls the audit at hand.
const ThisAudit = "this audit"

// EarlierAudit is an audit that this one was compared with.
type EarlierAudit struct {
	// Name is the folder of its tables, as given.
	Name string
	// Studies counts its studies, Again those of them that are also in this audit or
	// in a later one; they count there only.
	Studies, Again int
	// Previous tells that differences are to this one.
	Previous bool
}

// Suppresses tells that the rate of a protocol as a whole, or of one of its items, is
// left out because cells are small.
func (m *Month) Suppresses(protocol string, of RateOf, item string) bool {
	for i := range m.Rates {
		r := &m.Rates[i]
		if r.Suppressed && r.Protocol == protocol && r.Of == of && r.Item == item && (r.By == ByProtocol || r.By == ByItem) {
			return true
		}
	}
	return false
}

// Below tells a count that may not be shown; none is no cell.
func (m *Month) Below(n int) bool { return n > 0 && n < m.MinCell }
