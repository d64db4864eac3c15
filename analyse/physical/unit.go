package physical

import "strings"

// Conversion turns a number in another unit into one in Unit: multiply by Factor.
type Conversion struct {
	Unit   Unit
	Factor float64
}

// mmHgPerKPa: 1 mmHg is 133.322387 Pa (BIPM, SI Brochure 8th edition, table 8;
// from memory).
const mmHgPerKPa = 1 / 0.133322387415

// unitSpellings maps unit codes onto the units used inside. First of each line the UCUM
// code (PS3.16 names UCUM, case sensitive), then spellings that are none but occur
// in files, as codes of other schemes, as code meanings and in typed tables
// (from memory, and reports of shared/data).
var unitSpellings = map[Conversion][]string{
	{MM, 1}:    {"mm", "MM", "millimeter", "millimetre", "millimeters", "millimetres"},
	{MM, 10}:   {"cm", "CM", "centimeter", "centimetre", "centimeters", "centimetres"},
	{MM, 1000}: {"m", "meter", "metre"},
	{MM, 1e-3}: {"um", "µm", "μm", "micrometer", "micrometre"},

	{MM2, 1}:   {"mm2", "mm^2", "mm²", "MM2", "square millimeter"},
	{MM2, 100}: {"cm2", "cm^2", "cm²", "CM2", "square centimeter"},
	{MM2, 1e6}: {"m2", "m^2", "m²", "square meter"},

	{ML, 1}:    {"mL", "ml", "cm3", "cm^3", "cm³", "ML", "CM3", "cc", "milliliter", "millilitre", "cubic centimeter"},
	{ML, 1e-3}: {"mm3", "mm^3", "mm³", "ul", "uL"},
	{ML, 1000}: {"l", "L", "liter", "litre"},

	{S, 1}:    {"s", "sec", "SEC", "second", "seconds"},
	{S, 1e-3}: {"ms", "msec", "MSEC", "millisecond", "milliseconds"},
	{S, 60}:   {"min", "minute", "minutes"},

	{CMPerS, 1}:   {"cm/s", "cm/sec", "CM/S", "cm.s-1", "centimeter per second"},
	{CMPerS, 100}: {"m/s", "m/sec", "M/S", "m.s-1", "meter per second"},
	{CMPerS, 0.1}: {"mm/s", "mm/sec", "MM/S", "mm.s-1", "millimeter per second"},

	{CMPerS2, 1}:   {"cm/s2", "cm/s^2", "cm/s²", "cm/sec2", "CM/S2", "centimeter per second squared"},
	{CMPerS2, 100}: {"m/s2", "m/s^2", "m/s²", "m/sec2", "M/S2"},
	{CMPerS2, 0.1}: {"mm/s2", "mm/s^2", "mm/s²"},

	{MMHg, 1}:          {"mm[Hg]", "mmHg", "mm Hg", "MMHG"},
	{MMHg, mmHgPerKPa}: {"kPa"},

	{PerMin, 1}:             {"/min", "1/min", "min-1", "bpm", "BPM", "beats/min", "BEATS/MIN"},
	{Hz, 1}:                 {"Hz", "HZ", "/s", "1/s"},
	{Hz, 1000}:              {"kHz"},
	{Hz, 1e6}:               {"MHz"},
	{Deg, 1}:                {"deg", "°", "degree", "degrees"},
	{Deg, degreesPerRadian}: {"rad", "radian"},
	{Percent, 1}:            {"%", "percent"},
	{One, 1}:                {"1", "no units", "ratio", "unity"},
}

var units = spelled(unitSpellings)

func spelled(table map[Conversion][]string) map[string]Conversion {
	out := map[string]Conversion{}
	for conversion, spellings := range table {
		for _, s := range spellings {
			out[s] = conversion
		}
	}
	return out
}

// ParseUnit reads a unit as files spell it. Blanks around it and UCUM annotations
// in braces carry no value and are left out: {H.B.}/min is /min, {ratio} is 1. It
// is false for an unknown or empty unit.
func ParseUnit(code string) (Conversion, bool) {
	code = strings.TrimSpace(code)
	if c, ok := units[code]; ok {
		return c, true
	}
	bare, annotated := withoutAnnotations(code)
	if !annotated {
		return Conversion{}, false
	}
	if bare == "" {
		bare = string(One)
	}
	c, ok := units[bare]
	return c, ok
}

// withoutAnnotations leaves out every {…} (UCUM §12).
func withoutAnnotations(code string) (bare string, annotated bool) {
	for {
		open := strings.IndexByte(code, '{')
		if open < 0 {
			return strings.TrimSpace(code), annotated
		}
		length := strings.IndexByte(code[open:], '}')
		if length < 0 {
			return "", false
		}
		code, annotated = code[:open]+code[open+length+1:], true
	}
}

// printed are the codes that people write otherwise. 1 is no unit at all.
var printed = map[string]string{
	string(MM2): "mm²", "cm2": "cm²", "m2": "m²", "cm3": "cm³", "mm3": "mm³",
	string(CMPerS2): "cm/s²", "m/s2": "m/s²", "mm/s2": "mm/s²",
	string(MMHg): "mmHg", "1/min": "/min", string(Deg): "°", string(One): "",
	"s/d": "s/day",
}

// Printed writes a unit code as people write the unit: mm² for mm2, mmHg for mm[Hg],
// nothing for 1; annotations of known units ({H.B.}/min) are left out. Any other text
// stays as it is. CSV keeps the code.
func Printed[U ~string](unit U) string {
	code := string(unit)
	bare, annotated := withoutAnnotations(code)
	if _, known := ParseUnit(code); annotated && known {
		code = bare
	}
	if sign, ok := printed[code]; ok {
		return sign
	}
	return code
}
