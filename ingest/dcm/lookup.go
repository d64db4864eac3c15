package dcm

// A header has some two hundred elements and an archive a hundred thousand
// headers: what is asked of every element is answered from small tables.

// slots is the size of the table of wanted tags: a power of two some eight times
// their number, so that a search seldom takes a second step.
const slots = 1 << 11

type slot struct {
	tag Tag
	vr  VR
}

// wantedSlots holds wanted by open addressing; a zero tag is an empty slot.
var wantedSlots = func() (table [slots]slot) {
	for tag, vr := range wanted {
		at := slotOf(tag)
		for table[at].tag != 0 {
			at = (at + 1) % slots
		}
		table[at] = slot{tag, vr}
	}
	return table
}()

// slotOf spreads tags by the multiplicative method (Knuth, The Art of Computer
// Programming 3, 6.4; the multiplier from memory).
func slotOf(t Tag) uint32 { return uint32(t) * 2654435761 >> 21 % slots }

// wantedVR returns the value representation that the dictionary gives a wanted
// element; ok is false for all others.
func wantedVR(t Tag) (vr VR, ok bool) {
	for at := slotOf(t); ; at = (at + 1) % slots {
		switch wantedSlots[at].tag {
		case t:
			return wantedSlots[at].vr, t != 0
		case 0:
			return VR{}, false
		}
	}
}

// form is how wide the length field of a VR is.
type form uint8

const (
	unknownForm form = iota
	short            // 16 bits
	long             // 32 bits behind two reserved bytes
)

const letters = 'Z' - 'A' + 1

// forms holds the VRs of PS3.5 6.2 by the form of their length (PS3.5 7.1.2).
var forms = func() (table [letters * letters]form) {
	for _, v := range []string{"AE", "AS", "AT", "CS", "DA", "DS", "DT", "FD", "FL", "IS", "LO", "LT", "PN", "SH", "SL", "SS", "ST", "TM", "UI", "UL", "US"} {
		table[formAt(v[0], v[1])] = short
	}
	for _, v := range []string{"OB", "OD", "OF", "OL", "OV", "OW", "SQ", "SV", "UC", "UN", "UR", "UT", "UV"} {
		table[formAt(v[0], v[1])] = long
	}
	return table
}()

func formAt(a, b byte) int { return int(a-'A')*letters + int(b-'A') }

// formOf is the form of the length of a VR, unknownForm where it is none.
func formOf(a, b byte) form {
	if !isLetter(a) || !isLetter(b) {
		return unknownForm
	}
	return forms[formAt(a, b)]
}

func isLetter(b byte) bool { return b >= 'A' && b <= 'Z' }
