package ruler

import (
	"strings"
	"testing"
)

// TestCrowded: a picture made of dots, each of which may be a tick, is given up. Before
// there was a bound, one of 3840 by 2160 took more than a minute.
func TestCrowded(t *testing.T) {
	const columns, rows = 640, 480
	p := &Picture{Columns: columns, Rows: rows, Grey: make([]byte, columns*rows)}
	for y := 0; y < rows; y += 9 {
		for x := 0; x < columns; x += 3 {
			p.Grey[y*columns+x] = 255
		}
	}
	if r := Find(p); r.Status != None || !strings.Contains(r.Note, "too many") {
		t.Errorf("%+v", r)
	}
}
