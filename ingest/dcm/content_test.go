package dcm

import (
	"encoding/binary"
	"slices"
	"testing"
)

// TestAppendContentToldApart: a character set whose term is written like the
// beginning of another data set makes no content equal to that one's.
func TestAppendContentToldApart(t *testing.T) {
	number := func(n int) string { return string(binary.LittleEndian.AppendUint32(nil, uint32(n))) }
	id := Element{Tag: PatientID, VR: VR{'L', 'O'}, Value: []byte("1")}
	behind := `\` + number(1) + number(int(PatientID)) + "LO" + number(1) + "1"
	name := Element{Tag: PatientName, VR: VR{'P', 'N'}, Value: []byte("x" + behind)}
	term := number(1) + number(int(PatientName)) + "PN" + number(len(name.Value)) + "x"

	inName := Dataset{Elements: []Element{name}}
	inTerm := Dataset{Elements: []Element{id}, charset: NewCharset([]string{term})}
	two := Dataset{charset: NewCharset([]string{"a", "b"})}
	one := Dataset{charset: NewCharset([]string{`a\b`})}
	for _, pair := range [][2]Dataset{{inName, inTerm}, {one, two}, {{}, {charset: NewCharset(nil)}}} {
		if slices.Equal(pair[0].AppendContent(nil), pair[1].AppendContent(nil)) {
			t.Errorf("one content for two data sets: %q", pair[0].AppendContent(nil))
		}
	}
}
