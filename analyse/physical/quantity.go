// Package physical is arithmetic: from pixels of a calibrated region to physical
// values, with their uncertainty by JCGM 100. It reads no file and judges nothing.
package physical

// Unit is a UCUM code. Inside the program a quantity has one unit only, one of
// the constants here.
type Unit string

// The units used inside.
const (
	MM      Unit = "mm"
	MM2     Unit = "mm2"
	ML      Unit = "mL"
	S       Unit = "s"
	CMPerS  Unit = "cm/s"
	CMPerS2 Unit = "cm/s2"
	MMHg    Unit = "mm[Hg]"
	PerMin  Unit = "/min"
	Deg     Unit = "deg"
	Percent Unit = "%"
	One     Unit = "1"
	Hz      Unit = "Hz"
	Gram    Unit = "g"
	PerS    Unit = "/s"
	// Hour is for how long people take; no measurement is in it.
	Hour Unit = "h"
	// Flows and sizes, whole or per body weight.
	MLPerMin      Unit = "mL/min"
	MLPerMinPerKg Unit = "mL/min/kg"
	MLPerKg       Unit = "mL/kg"
	MMPerKg       Unit = "mm/kg"
	GramPerKg     Unit = "g/kg"
)

// Quantity is a value with its standard uncertainty (JCGM 100:2008 2.3.1), both
// in Unit.
type Quantity struct {
	Value, StdU float64
	Unit        Unit
}

// CoverageFactor is k of the expanded uncertainty that is printed (JCGM 100:2008
// 2.3.6): about 95 % coverage for a normal distribution.
const CoverageFactor = 2

// ExpandedU is U = k·u.
func (q Quantity) ExpandedU() float64 { return CoverageFactor * q.StdU }
