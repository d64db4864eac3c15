package ingest

import (
	"io"
	"os"
	"strings"
	"testing"
)

// endless gives one byte for ever, and counts how many were read.
type endless struct {
	b byte
	n int
}

func (e *endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = e.b
	}
	e.n += len(b)
	return len(b), nil
}

// TestLongRecord: a table that is one row, without a line end or within a quote, is
// given up after the length of a row, whatever the limit of the whole file.
func TestLongRecord(t *testing.T) {
	for name, start := range map[string]string{"no line end": "study_uid,study_date", "an open quote": "study_uid\n\""} {
		rest := &endless{b: 'x'}
		if name == "an open quote" {
			rest.b = '\n'
		}
		err := readAudit("t.csv", io.MultiReader(strings.NewReader(start), rest), earlierItemColumns[:1], func(cells) {})
		if err == nil || !strings.Contains(err.Error(), "rows of at most") {
			t.Errorf("%s: %v", name, err)
		}
		if rest.n > 2*maxRecordBytes {
			t.Errorf("%s: %d bytes were read", name, rest.n)
		}
	}
}

// TestEarlierTimes: numbers with which a chart would leave the numbers are refused.
func TestEarlierTimes(t *testing.T) {
	const header = "study_uid,study_date,study_time,duration_s,report_state,report_delay_h\n"
	for _, c := range []struct {
		row string
		ok  bool
	}{{"1,2026-09-01,,300,,1", true}, {"1,2026-09-01,,-300,,-1", true}, {"1,2026-09-01,,1e308,,1", false}, {"1,2026-09-01,,3,,-1e308", false},
		{"1,2026-09-01,,NaN,,", false}, {"1,2026-09-01,,,,Inf", false}} {
		dir := t.TempDir()
		for name, content := range map[string]string{earlierStudies: header + c.row + "\n", earlierCompleteness: "study_uid,protocol,item,required,status\n"} {
			if err := os.WriteFile(dir+"/"+name, []byte(content), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := ReadEarlier(dir); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.row, err)
		}
	}
}
