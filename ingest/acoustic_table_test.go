package ingest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The ladder of recommended times of BMUS 2009, obstetric figure 1: TI ≤ 0.7 no limit,
// to 1.0 less than 60 minutes, to 1.5 30, to 2.0 15, to 2.5 4, to 3.0 1, above not
// recommended; lung in the beam of a newborn MI 0.3 (shared/reference/measurements.md
// and check-values.md 5).
func TestBuiltinLimits(t *testing.T) {
	rows, err := ReadAcousticLimits(BuiltinLimits)
	if err != nil {
		t.Fatal(err)
	}
	ladder := []struct{ above, minutes float64 }{{0.7, 60}, {1, 30}, {1.5, 15}, {2, 4}, {2.5, 1}, {3, 0}}
	for index, exam := range map[AcousticIndex]string{IndexTIC: "head", IndexTIB: "spine"} {
		step := 0
		for _, r := range rows {
			if r.Index != index {
				continue
			}
			if r.Exam != exam || step == len(ladder) || r.Above != ladder[step].above || r.Minutes != Some(ladder[step].minutes) || r.Seen != "from memory" {
				t.Errorf("step %d: %+v", step+1, r)
			}
			step++
		}
		if step != len(ladder) {
			t.Errorf("%s: %d steps", exam, step)
		}
	}
	lung := 0
	for _, r := range rows {
		if r.Index == IndexMI {
			lung++
			if r.Above != 0.3 || r.Seen != "seen" || !strings.Contains(r.Source, "BMUS 2009") || r.Exam != "lung" && r.Exam != "heart" {
				t.Errorf("%+v", r)
			}
		}
	}
	if lung != 2 {
		t.Errorf("%d limits of MI", lung)
	}
}

// TestBuiltinLimitsNotConfirmed: the notes of what was read say which ladders could
// not be confirmed and must not be shipped; none of their steps is here.
func TestBuiltinLimitsNotConfirmed(t *testing.T) {
	notes, err := os.ReadFile(filepath.Join("..", "..", "shared", "reference", "measurements.md"))
	if err != nil {
		t.Skip("the notes of what was read lie beside the repository: " + err.Error())
	}
	if !strings.Contains(string(notes), "BMUS non-obstetric / neonatal TI time tables") {
		t.Fatal("the notes no longer name what is not to be shipped")
	}
	rows, _ := ReadAcousticLimits(BuiltinLimits)
	for _, r := range rows {
		if ladder := r.Exam == "head" || r.Exam == "spine"; !ladder && r.Minutes.Set {
			t.Errorf("a time for newborns other than head and spine: %+v", r)
		}
	}
}

func TestLimits(t *testing.T) {
	const table = "exam,index,words,above,minutes,source\n" +
		"hip,TIS,hip; hips; dyspla*,1,15,our physicist\n" +
		"hip,TI,,0.5,,ours\n"
	rows, err := readAcousticLimits("l.csv", strings.NewReader(table))
	if err != nil || len(rows) != 2 {
		t.Fatal(rows, err)
	}
	if r := rows[0]; r.Index != IndexTIS || r.Exam != "hip" || len(r.Words) != 3 || r.Above != 1 || r.Minutes != Some(15.0) || r.Seen != "local" || r.Source != "our physicist" {
		t.Errorf("%+v", r)
	}
	if r := rows[1]; r.Minutes.Set || len(r.Words) != 3 {
		t.Errorf("%+v", r)
	}
}

func TestLimitErrors(t *testing.T) {
	const head = "index,exam,words,above,minutes,seen,source\n"
	for name, c := range map[string]struct{ table, want string }{
		"empty file":         {"", "l.csv: expected a header row: index, exam, words, above, minutes, seen, source"},
		"a misspelt column":  {"index,exam,word,above,source\n", "l.csv: row 1, column 3: expected one of index exam words above minutes seen source, perhaps words\nl.csv: row 1: expected a column words"},
		"an unknown index":   {head + "MU,lung,lung,0.3,,local,s\n", "l.csv: row 2, index: expected one of MI TIS TIB TIC TI, perhaps MI"},
		"no words":           {head + "MI,lung,,0.3,,local,s\n", "l.csv: row 2, words: expected words of headers that tell the exam, such as: lung; chest; thora*, in the first row of each exam"},
		"words again":        {head + "MI,lung,lung,0.3,,local,s\nTI,lung,chest,1,,local,s\n", "l.csv: row 3, words: expected nothing, as an earlier row of the exam gives them"},
		"no source":          {head + "MI,lung,lung,0.3,,local,\n", "l.csv: row 2, source: expected where the limit was printed, or whose it is"},
		"a limit of nothing": {head + "MI,lung,lung,0,,local,s\n", "l.csv: row 2, above: expected a number above 0 with a decimal point"},
		"a negative time":    {head + "MI,lung,lung,0.3,-5,local,s\n", "l.csv: row 2, minutes: expected a number from 0, or nothing"},
		"seen by nobody":     {head + "MI,lung,lung,0.3,,maybe,s\n", "l.csv: row 2, seen: expected one of seen from memory local"},
		"a capital exam":     {head + "MI,Lung,lung,0.3,,local,s\n", "l.csv: row 2, exam: expected a word of lower-case letters, digits and hyphens"},
	} {
		t.Run(name, func(t *testing.T) {
			rows, err := readAcousticLimits("l.csv", strings.NewReader(c.table))
			if err == nil || err.Error() != c.want || rows != nil {
				t.Errorf("got  %v\nwant %s", err, c.want)
			}
		})
	}
}
