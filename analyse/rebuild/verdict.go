package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// judge compares the reported value with the rebuilt one:
//
//	agrees where |reported − rebuilt| ≤ half a unit of the last place + U (k = 2)
//
// both in the unit of the rebuilt value. There is no other tolerance. A value of a
// suspect calibration is not compared.
func judge(m *analyse.Measurement, w want, o outcome, remarks *notes) {
	m.Verdict = analyse.VerdictRebuiltOnly
	if m.Reported == nil && m.Source == analyse.SourceReport && !w.unreported {
		m.Reason = ReasonValueMissing
		remarks.add("the report holds no number here")
	}
	if o.suspect != "" {
		m.Verdict = analyse.VerdictSuspect
		return
	}
	if m.Reported == nil {
		return
	}
	if w.unit != m.Rebuilt.Unit {
		m.Reason = ReasonUnit
		remarks.add(unitWords(w))
		return
	}
	reported, rebuilt := m.Reported.Value*w.factor, m.Rebuilt.Value
	if !o.signs {
		reported, rebuilt = math.Abs(reported), math.Abs(rebuilt)
	}
	difference := reported - rebuilt
	half := halfPlace(m.Reported, w, remarks)
	tolerance := half + m.Rebuilt.ExpandedU()
	if math.IsInf(difference, 0) || math.IsNaN(difference) {
		m.Reason = ReasonUnit
		remarks.add("the reported number is out of range: not compared")
		return
	}
	m.Difference, m.Tolerance = ingest.Some(difference), ingest.Some(tolerance)
	explainComparison(o.work, m, w, comparison{reported, rebuilt, difference, half, tolerance})
	m.Verdict = analyse.VerdictDiffers
	if math.Abs(difference) <= tolerance {
		m.Verdict = analyse.VerdictAgrees
	}
	signWords(m, o, reported, remarks)
}

// halfPlace is half a unit of the last place of the reported number as written.
func halfPlace(r *analyse.Reported, w want, remarks *notes) float64 {
	place, ok := physical.LastPlace(r.Text)
	if !ok {
		remarks.add("how many places the reported number was written with is not known: no allowance for rounding")
		return 0
	}
	return place / 2 * w.factor
}

// signWords tells of signs that differ while sizes agree.
func signWords(m *analyse.Measurement, o outcome, reported float64, remarks *notes) {
	if m.Reported.Value*m.Rebuilt.Value >= 0 {
		return
	}
	switch {
	case !o.signs:
		remarks.add("sizes compared, without sign")
	case math.Abs(math.Abs(reported)-math.Abs(m.Rebuilt.Value)) <= m.Tolerance.Value:
		remarks.add(fmt.Sprintf("the same size with the other sign: the %s is on the other side of zero", m.Quantity))
	}
}

func unitWords(w want) string {
	if w.written {
		return "the reported unit is not known: not compared"
	}
	return "the number is reported without a unit: not compared"
}
