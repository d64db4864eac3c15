package workbook

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// byExcelize are the rows as excelize streams them: a cell in each, after one that is
// left out.
func byExcelize(t *testing.T, contents []content, style int, height float64) []byte {
	t.Helper()
	file := excelize.NewFile()
	defer file.Close()
	if _, err := file.NewSheet("rows"); err != nil {
		t.Fatal(err)
	}
	stream, err := file.NewStreamWriter("rows")
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range contents {
		values := []any{nil, excelize.Cell{StyleID: style, Value: c.value()}}
		if err := stream.SetRow(cellName(1, i+1), values, excelize.RowOpts{Height: height}); err != nil {
			t.Fatal(err)
		}
	}
	if err := stream.Flush(); err != nil {
		t.Fatal(err)
	}
	head, _, err := framed(file)
	if err != nil {
		t.Fatal(err)
	}
	_, rows, found := bytes.Cut(head, []byte("<sheetData>"))
	if !found {
		t.Fatal("no rows")
	}
	return rows
}

// contents are values of every kind, common ones, odd ones and drawn ones.
func contents() []content {
	all := []content{{}}
	numbers := []float64{0, 1, -1, 0.1, 1.0 / 3, -2.0 / 3, 15.234567890123, 1e-7, 123456789012345678, 1234567890123456.5, 999999999999999.9, 1e21, 1e-300, math.MaxInt32}
	texts := []string{"", " ", "a", "A4C", " led", "trailed ", "a\nb", "\na", "a\tb", "\r", "<&>", `"quoted"`, "it's", "ü", "𝄞", "a\u007f", "\u0085", "=1+1",
		"_x0041_", "_x005F_x0041_", "a_x00e4_b_xyz_", "_x", "x & 'y' <z>", "\xff", "\x01", "\ufffd"}
	times := []time.Time{firstDay.AddDate(-1, 0, 0), firstDay, firstDay.Add(time.Second), leapDay.Add(-time.Second), leapDay,
		time.Date(2026, 9, 1, 9, 30, 15, 0, time.UTC), time.Date(2187, 12, 31, 23, 59, 59, 0, time.UTC)}
	r := rand.New(rand.NewPCG(5, 0))
	for range 2000 {
		numbers = append(numbers, r.NormFloat64(), math.Exp(60*r.NormFloat64()), math.Round(r.Float64()*1e6)/1e3)
		times = append(times, firstDay.Add(time.Duration(r.Int64N(250*365*secondsOfDay))*time.Second))
		letters := make([]rune, r.IntN(12))
		for i := range letters {
			letters[i] = []rune(" \n<>&'\"abcä_xF09𝄞")[r.IntN(17)]
		}
		texts = append(texts, string(letters))
	}
	for _, v := range numbers {
		all = append(all, content{kind: decimal, number: v}, content{kind: whole, number: math.Round(math.Mod(v, 1e15))})
	}
	for _, s := range texts {
		all = append(all, content{kind: words, text: s})
	}
	for _, v := range times {
		all = append(all, content{kind: day, time: v})
	}
	return all
}

// TestRows: rows are the bytes that excelize writes.
func TestRows(t *testing.T) {
	all := contents()
	for _, look := range []struct {
		style  int
		height float64
	}{{7, 0}, {12, 28.5}} {
		rest := byExcelize(t, all, look.style, look.height)
		for i, c := range all {
			got := rowEnd(place{"B", i + 1, look.style}.cell(rowStart(nil, i+1, look.height), c))
			if !bytes.HasPrefix(rest, got) {
				t.Fatalf("%+v: got\n%s\nwant\n%s", c, got, rest[:min(len(rest), len(got)+20)])
			}
			rest = rest[len(got):]
		}
		if len(rest) > 0 {
			t.Errorf("%d bytes more than the rows", len(rest))
		}
	}
}

// TestEscapesShared: two escapes that share an underscore both stay text. Excelize
// writes only the first as such, so it is asked to read, not to write.
func TestEscapesShared(t *testing.T) {
	if got, want := unescapable("_x0041_x0042_"), "_x005F_x0041_x005F_x0042_"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
