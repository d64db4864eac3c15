package workbook

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"leadline/export/deid"
)

// The sheet of a meeting draws every chart of the book over the values beside it, with
// what is absent left empty, and none with identity none.
func TestMeeting(t *testing.T) {
	for _, identity := range deid.Identities {
		b := book(identity)
		f, raw := opened(t, b, sheetRows)
		charts := parts(t, raw, "xl/charts/chart")
		if len(charts) != len(b.Meeting.Charts) || (len(charts) == 0) != (identity == deid.None) {
			t.Fatalf("identity %s: %d charts drawn of %d", identity, len(charts), len(b.Meeting.Charts))
		}
		if len(charts) == 0 {
			continue
		}
		drawn := charts[0]
		head := 0
		rows, err := f.GetRows("The month")
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range rows {
			if len(r) >= dataColumn && r[dataColumn-1] == dataHeads[0] {
				head = i + 1
			}
		}
		first := &b.Meeting.Charts[0]
		if want := "!$" + columnName(dataColumn+1) + "$"; head == 0 || !strings.Contains(drawn, want) {
			t.Fatalf("identity %s: no series over %s", identity, want)
		}
		for i := range first.Points {
			p := &first.Points[i]
			got, _ := f.GetCellValue("The month", cellName(dataColumn+1, head+1+i))
			signal, _ := f.GetCellValue("The month", cellName(dataColumn+5, head+1+i))
			if (got != "") != p.Value.Set || (signal != "") != (len(p.Signals) > 0) {
				t.Errorf("point %d: value %q, signal %q of %+v", i, got, signal, p)
			}
		}
	}
}

// parts are the parts of a workbook whose names begin so.
func parts(t *testing.T, raw []byte, name string) []string {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, part := range archive.File {
		if !strings.HasPrefix(part.Name, name) {
			continue
		}
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, string(content))
	}
	return all
}
