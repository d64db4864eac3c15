package ingest

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func TestReferences(t *testing.T) {
	const table = "source,id,population,unit,low,high,limits,age_days,weight_kg,gestation_weeks,postmenstrual_weeks\n" +
		"our chart,ventricular-index,ours,mm,,10.7,97th centile,,,,28..29\n" +
		"a paper,tapse,\"term, well\",cm,0.8,1.2,range,..3,1.5..,37..,\n"
	rows, err := readReferences("r.csv", strings.NewReader(table))
	if err != nil || len(rows) != 2 {
		t.Fatal(rows, err)
	}
	want := []ReferenceRow{
		{Table: "r.csv", Line: 2, ID: "ventricular-index", Population: "ours", PostmenstrualWeeks: Span{Some(28.0), Some(29.0)},
			High: Some(10.7), Unit: "mm", Limits: "97th centile", Source: "our chart"},
		{Table: "r.csv", Line: 3, ID: "tapse", Population: "term, well", AgeDays: Span{To: Some(3.0)}, WeightKg: Span{From: Some(1.5)}, GestationWeeks: Span{From: Some(37.0)},
			Low: Some(0.8), High: Some(1.2), Unit: "cm", Limits: "range", Source: "a paper"},
	}
	for i := range want {
		if rows[i] != want[i] {
			t.Errorf("row %d: %+v, want %+v", i, rows[i], want[i])
		}
	}
}

func TestReferenceErrors(t *testing.T) {
	const head = "id,population,age_days,low,high,unit,limits,source\n"
	for name, c := range map[string]struct{ table, want string }{
		"empty file":          {"", "r.csv: expected a header row: id, population, age_days, weight_kg, gestation_weeks, postmenstrual_weeks, low, high, unit, limits, source"},
		"a misspelt column":   {"id,populaton,low,unit,limits,source\n", "r.csv: row 1, column 2: expected one of id population age_days weight_kg gestation_weeks postmenstrual_weeks low high unit limits source, perhaps population\nr.csv: row 1: expected a column population"},
		"no source":           {head + "tapse,p,,1,2,mm,range,\n", "r.csv: row 2, source: expected where the limits were printed"},
		"no limit":            {head + "tapse,p,,,,mm,range,s\n", "r.csv: row 2, low: expected a number here or in the column high"},
		"limits upside down":  {head + "tapse,p,,3,2,mm,range,s\n", "r.csv: row 2, high: expected a number above low"},
		"a decimal comma":     {head + "tapse,p,,\"1,5\",2,mm,range,s\n", "r.csv: row 2, low: expected a number with a decimal point, or nothing"},
		"not a number":        {head + "tapse,p,,NaN,2,mm,range,s\n", "r.csv: row 2, low: expected a number with a decimal point, or nothing"},
		"a date for an age":   {head + "tapse,p,3-May,1,2,mm,range,s\n", "r.csv: row 2, age_days: expected from..to with from below to, such as 28..33; the first belongs to it, the last does not; either may be left out"},
		"an age upside down":  {head + "tapse,p,5..3,1,2,mm,range,s\n", "r.csv: row 2, age_days: expected from..to with from below to, such as 28..33; the first belongs to it, the last does not; either may be left out"},
		"an age without ends": {head + "tapse,p,..,1,2,mm,range,s\n", "r.csv: row 2, age_days: expected from..to with from below to, such as 28..33; the first belongs to it, the last does not; either may be left out"},
	} {
		t.Run(name, func(t *testing.T) {
			rows, err := readReferences("r.csv", strings.NewReader(c.table))
			if err == nil || err.Error() != c.want || rows != nil {
				t.Errorf("got\n%v\nwant\n%s", err, c.want)
			}
		})
	}
}

// FuzzReferences: whatever the bytes, no crash, and rows only without an error,
// each with a limit, a population and a source.
func FuzzReferences(f *testing.F) {
	f.Add(string(referencesCSV))
	f.Add("id,population,low,high,unit,limits,source,age_days\na,b,1,,mm,c,d,..3\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := readReferences("r.csv", strings.NewReader(text))
		if err != nil && rows != nil {
			t.Fatal("rows in spite of an error")
		}
		for _, r := range rows {
			if !r.Low.Set && !r.High.Set || r.Source == "" || r.Population == "" {
				t.Fatalf("%+v", r)
			}
		}
	})
}

func TestReadReferences(t *testing.T) {
	rows, err := ReadReferences(BuiltinReferences)
	if err != nil || len(rows) < 40 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	if _, err := ReadReferences(filepath.Join(t.TempDir(), "none.csv")); err == nil || !strings.Contains(err.Error(), "expected a file that can be read") {
		t.Error(err)
	}
	own := filepath.Join(t.TempDir(), "own.csv")
	if err := os.WriteFile(own, []byte("\ufeffid,population,low,unit,limits,source\ntapse,p,1,mm,range,s\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if rows, err := ReadReferences(own); err != nil || len(rows) != 1 {
		t.Error(rows, err)
	}
}

// Every number of the table that comes with the program stands in the notes of
// what was seen in print, on a line about its source; limits of mean ± 2 SD are
// computed again.
func TestBuiltinReferencesWereRead(t *testing.T) {
	var lines []string
	for _, name := range []string{"measurements.md", "check-values.md"} {
		text, err := os.ReadFile("../../shared/reference/" + name)
		if err != nil {
			t.Skip("the notes of what was read are not here: " + name)
		}
		for _, line := range strings.Split(string(text), "\n") {
			if strings.Contains(line, "found") || strings.Contains(line, "§0 C15") {
				lines = append(lines, strings.ToLower(line))
			}
		}
	}
	rows, err := ReadReferences(BuiltinReferences)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		about := aboutSource(lines, r.Source)
		for _, n := range printedNumbers(t, r) {
			if !mentions(about, n) {
				t.Errorf("row %d, %s: %v was not read on a line about %s", r.Line, r.ID, n, r.Source)
			}
		}
	}
}

var sourceWord = regexp.MustCompile(`[A-Za-z0-9]{5,}`)

// aboutSource joins the lines that hold a telling word of the source: a name, a
// number of a data base, a word of the title.
func aboutSource(lines []string, source string) string {
	var out strings.Builder
	for _, line := range lines {
		for _, word := range sourceWord.FindAllString(source, -1) {
			common := slices.Contains([]string{"abstract", "pediatr", "child", "neonatal", "fetal", "memory", "authors", "author", "pubmed", "newborns", "output", "doppler", "study", "neonates", "first", "hours", "normal", "premature", "infants"}, strings.ToLower(word))
			if !common && strings.Contains(line, strings.ToLower(word)) {
				out.WriteString(line + "\n")
				break
			}
		}
	}
	return out.String()
}

var meanAndSD = regexp.MustCompile(`^mean ([0-9.]+) ± 2 SD of ([0-9.]+)$`)

// printedNumbers are the numbers that a row took from print: mean and standard
// deviation, whose limits are checked, or the limits themselves.
func printedNumbers(t *testing.T, r ReferenceRow) []float64 {
	var printed []float64
	if m := meanAndSD.FindStringSubmatch(r.Limits); m != nil {
		mean, _ := strconv.ParseFloat(m[1], 64)
		sd, _ := strconv.ParseFloat(m[2], 64)
		if math.Abs(r.Low.Value-(mean-2*sd)) > 1e-9 || math.Abs(r.High.Value-(mean+2*sd)) > 1e-9 {
			t.Errorf("row %d, %s: limits %v to %v are not %s", r.Line, r.ID, r.Low.Value, r.High.Value, r.Limits)
		}
		return []float64{mean, sd}
	}
	for _, limit := range []Optional[float64]{r.Low, r.High} {
		if limit.Set {
			printed = append(printed, limit.Value)
		}
	}
	return printed
}

// mentions tells that a number stands in the text, in its own unit or as cm for mm,
// with or without the zero before the point.
func mentions(text string, v float64) bool {
	for _, value := range []float64{v, v / 10} {
		for places := 0; places <= 3; places++ {
			word := strconv.FormatFloat(value, 'f', places, 64)
			if back, _ := strconv.ParseFloat(word, 64); math.Abs(back-value) > 1e-9 {
				continue
			}
			short := strings.TrimPrefix(word, "0")
			if regexp.MustCompile(`(^|[^0-9.])(` + regexp.QuoteMeta(word) + `|` + regexp.QuoteMeta(short) + `)([^0-9]|$)`).MatchString(text) {
				return true
			}
		}
	}
	return false
}

// The example of the README is a table that can be read.
func TestReadmeExample(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, example, found := strings.Cut(string(readme), "\n    id,population,")
	example, _, _ = strings.Cut(example, "\n\n")
	example = strings.ReplaceAll("id,population,"+example, "\n    ", "\n")
	rows, err := readReferences("README.md", strings.NewReader(example))
	if !found || err != nil || len(rows) != 4 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}
