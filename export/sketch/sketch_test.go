package sketch

import (
	"strings"
	"testing"
)

func TestDraw(t *testing.T) {
	for name, c := range map[string]struct {
		columns, rows int
		boxes         []Box
		want          string
	}{
		"two regions, one in the other": {80, 40, []Box{{1, 0, 8, 79, 39}, {2, 20, 12, 59, 27}}, `
........................................
:                                      :
+-1------------------------------------+
|         +-2----------------+         |
|         |                  |         |
|         |                  |         |
|         +------------------+         |
|                                      |
|                                      |
+--------------------------------------+`},
		"one on the other": {80, 40, []Box{{1, 0, 0, 79, 39}, {12, 0, 0, 79, 39}}, `
+-1-12---------------------------------+
|                                      |
|                                      |
|                                      |
|                                      |
|                                      |
|                                      |
|                                      |
|                                      |
+--------------------------------------+`},
		"beyond the picture": {40, 20, []Box{{1, 10, 4, 79, 39}}, `
....................
:    +-1-------------------------------+
:    |             :                   |
:    |             :                   |
.....|..............                   |
     |                                 |
     |                                 |
     |                                 |
     |                                 |
     +---------------------------------+`},
		"nothing to draw":            {0, 0, []Box{{1, 0, 0, 9, 9}}, ""},
		"bounds that are no place":   {80, 40, []Box{{1, 0, 0, 1 << 30, 39}}, ""},
		"bounds the wrong way round": {80, 40, []Box{{1, 9, 0, 0, 9}}, ""},
		"no region":                  {80, 40, nil, ""},
	} {
		got := Draw(c.columns, c.rows, c.boxes, 40)
		if len(got) > most {
			t.Errorf("%s: %d lines", name, len(got))
		}
		for _, line := range got {
			if len(line) > 40 {
				t.Errorf("%s: %d columns", name, len(line))
			}
		}
		text := strings.Join(got, "\n")
		if text != strings.TrimPrefix(c.want, "\n") {
			t.Errorf("%s:%s", name, text)
		}
	}
}

// A picture far higher than wide stays on one page.
func TestDrawTall(t *testing.T) {
	got := Draw(10, 4000, []Box{{1, 0, 0, 9, 3999}}, 40)
	if len(got) == 0 || len(got) > most {
		t.Errorf("%d lines", len(got))
	}
}
