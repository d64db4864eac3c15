package dcm

import (
	"bufio"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// decoded is one text as scripts/oracle/charsets.py reads it.
type decoded struct {
	Terms []string `json:"terms"`
	Bytes string   `json:"bytes"`
	Text  string   `json:"text"`
	OK    bool     `json:"ok"`
}

// TestCharsetsByPython wants every character of every set of PS3.3 Tables C.12-2 to
// C.12-5 to be the one that pydicom, or Python's codec, reads.
func TestCharsetsByPython(t *testing.T) {
	python := needPython(t)
	path := filepath.Join(t.TempDir(), "decoded.jsonl")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	buffered := bufio.NewWriter(file)
	out := json.NewEncoder(buffered)
	for _, c := range everyCharacter() {
		text, ok := NewCharset(c.terms).Decode([]byte(c.bytes))
		if err := out.Encode(decoded{c.terms, hex.EncodeToString([]byte(c.bytes)), text, ok}); err != nil {
			t.Fatal(err)
		}
	}
	if err := buffered.Flush(); err != nil {
		t.Fatal(err)
	}
	runOracle(t, python, "charsets.py", path)
}

// coded is text in a declared set.
type coded struct {
	terms []string
	bytes string
}

// everyCharacter lists each character of each set, by itself and escaped as it must be.
func everyCharacter() []coded {
	var all []coded
	for _, n := range []string{"100", "101", "109", "110", "144", "127", "126", "138", "148", "166", "13"} {
		for b := 0xA0; b <= 0xFF; b++ {
			all = append(all, coded{[]string{"ISO_IR " + n}, "A" + string([]byte{byte(b)})})
		}
	}
	// The escapes of single-byte sets, PS3.3 Table C.12-3, by final character.
	for n, final := range map[string]string{
		"100": "-A", "101": "-B", "109": "-C", "110": "-D", "144": "-L", "127": "-G",
		"126": "-F", "138": "-H", "148": "-M", "166": "-T", "13": ")I",
	} {
		for b := 0xA0; b <= 0xFF; b++ {
			all = append(all, coded{[]string{"", "ISO 2022 IR " + n}, "A\x1b" + final + string([]byte{byte(b)})})
		}
	}
	// Those of two-byte sets, Table C.12-4; the left half ends with ASCII again.
	for row := byte(0x21); row <= 0x7E; row++ {
		for cell := byte(0x21); cell <= 0x7E; cell++ {
			low, high := string([]byte{row, cell}), string([]byte{row | 0x80, cell | 0x80})
			all = append(all,
				coded{[]string{"", "ISO 2022 IR 87"}, "\x1b$B" + low + "\x1b(B"},
				coded{[]string{"", "ISO 2022 IR 159"}, "\x1b$(D" + low + "\x1b(B"},
				coded{[]string{"", "ISO 2022 IR 149"}, "\x1b$)C" + high},
				coded{[]string{"", "ISO 2022 IR 58"}, "\x1b$)A" + high})
		}
	}
	for first := 0x81; first <= 0xFE; first++ {
		for second := 0x40; second <= 0xFE; second++ {
			pair := string([]byte{byte(first), byte(second)})
			all = append(all, coded{[]string{"GBK"}, pair}, coded{[]string{"GB18030"}, pair})
		}
	}
	for r := rune(0x80); r <= 0x10FFFF; r += 97 {
		if r < 0xD800 || r > 0xDFFF {
			all = append(all, coded{[]string{"ISO_IR 192"}, fmt.Sprintf("A%c", r)})
		}
	}
	return all
}
