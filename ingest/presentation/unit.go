package presentation

import "strings"

// units maps units as devices print them, by unitKey, to UCUM codes. The spellings
// are common practice on the pictures of real devices, no source; the codes are
// those of UCUM. A unit that is not listed is not guessed.
var units = map[string]string{
	"mm": "mm", "cm": "cm", "m": "m",
	"mm2": "mm2", "cm2": "cm2", "sqcm": "cm2", "sqmm": "mm2", "m2": "m2",
	"mm3": "mm3", "cm3": "cm3", "cc": "cm3", "ml": "mL", "l": "L",
	"mm/s": "mm/s", "cm/s": "cm/s", "m/s": "m/s", "mm/sec": "mm/s", "cm/sec": "cm/s", "m/sec": "m/s",
	"cm/s2": "cm/s2", "m/s2": "m/s2", "cm/sec2": "cm/s2", "m/sec2": "m/s2", "mm/s2": "mm/s2",
	"ms": "ms", "msec": "ms", "s": "s", "sec": "s", "secs": "s",
	"mmhg": "mm[Hg]", "mmhg/s": "mm[Hg]/s",
	"bpm": "/min", "/min": "/min", "1/min": "/min", "beats/min": "/min",
	"hz": "Hz", "khz": "kHz", "mhz": "MHz",
	"deg": "deg", "°": "deg", "%": "%",
	"ml/min": "mL/min", "l/min": "L/min", "ml/kg": "mL/kg", "ml/m2": "mL/m2", "g": "g", "kg": "kg", "g/m2": "g/m2",
	"ml/kg/min": "mL/kg/min", "l/min/m2": "L/min/m2",
}

// unitKey brings the spellings of one unit together: raised digits and carets
// become digits, capitals small. A capital alone (M, S, L, G) is no unit: it is as
// well a name of something.
func unitKey(unit string) string {
	if len(unit) == 1 && unit != strings.ToLower(unit) {
		return "capital alone"
	}
	return strings.ToLower(strings.NewReplacer("\u00b2", "2", "\u00b3", "3", "^", "").Replace(strings.TrimRight(unit, ".")))
}
