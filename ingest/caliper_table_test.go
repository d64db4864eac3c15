package ingest

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadline/ingest/internal/allocation"
)

const tableHeader = "sop_uid,frame,label,geometry,points,value,unit,observer\n"

// describeRow writes a row for comparison.
func describeRow(r CaliperRow) string {
	value := ""
	if r.Value.Set {
		value = fmt.Sprintf("%g=%s", r.Value.Value, r.ValueText)
	}
	return fmt.Sprintf("%d|%s|%s|%v|%s|%s|%v|%s|%s|%s", r.Line, r.SOPUID, r.Path, r.Frames, r.Label, r.Geometry, r.Points, value, r.Unit, r.Observer)
}

func TestReadCalipers(t *testing.T) {
	tests := []struct{ name, table, want string }{
		{"a line", tableHeader + `1.2.3,4,LVIDd,line,"10.5,20.5 30.5,20.5",1.820,cm,AH`, "2|1.2.3||[4]|LVIDd|line|[{10.5 20.5} {30.5 20.5}]|1.82=1.820|cm|AH"},
		{"columns in any order, capitals, byte order mark", "\ufeffPoints, Geometry ,LABEL,path\n\"1,2;3,4\",Line,D,a/b.dcm\n", "2||a/b.dcm|[]|D|line|[{1 2} {3 4}]|||"},
		{"line ends of two characters", strings.ReplaceAll(tableHeader+"1.2,,x,point,\"1,2\",,,\n", "\n", "\r\n"), "2|1.2||[]|x|point|[{1 2}]|||"},
		{"blank lines and lines of commas", tableHeader + "\n,,,,,,,\n  \n1.2,,x,point,\"1,2\",,,\n\n", "5|1.2||[]|x|point|[{1 2}]|||"},
		{"commas at all line ends", "sop_uid,label,geometry,points,\n1.2,x,point,\"1,2\",\n", "2|1.2||[]|x|point|[{1 2}]|||"},
		{"a row that ends early", tableHeader + "1.2,,x,point,\"1,2\"\n", "2|1.2||[]|x|point|[{1 2}]|||"},
		{"quoted label of two lines", tableHeader + "1.2,,\"a \"\"b\"\"\nc\",point,\"1,2\",,,\n1.2,,x,point,\"3,4\",,,\n", "2|1.2||[]|a \"b\"\nc|point|[{1 2}]|||\n4|1.2||[]|x|point|[{3 4}]|||"},
		{"frames", tableHeader + "1.2,12;25,ET,frames,,0.24,s,\n1.2,25 12,ET,frames,,,,\n", "2|1.2||[12 25]|ET|frames|[]|0.24=0.24|s|\n3|1.2||[25 12]|ET|frames|[]|||"},
		{"blanks around everything", tableHeader + "1.2, 3 ,x, ellipse ,\" 1 , 2 ; 3,4;5 ,6; 7, 8 ;\", -1.5e0 , cm ,\n", "2|1.2||[3]|x|ellipse|[{1 2} {3 4} {5 6} {7 8}]|-1.5=-1.5e0|cm|"},
		{"all geometries", tableHeader + "1.2,,x,circle,\"1,2 3,4\",,,\n1.2,,x,polygon,\"1,2 3,4 5,6\",,,\n1.2,,x,polyline,\"1,2 3,4 5,6\",,,\n", "2|1.2||[]|x|circle|[{1 2} {3 4}]|||\n3|1.2||[]|x|polygon|[{1 2} {3 4} {5 6}]|||\n4|1.2||[]|x|polyline|[{1 2} {3 4} {5 6}]|||"},
		{"unit without value, value without unit", tableHeader + "1.2,,x,point,\"1,2\",,cm/s,\n1.2,,x,point,\"1,2\",3,,\n", "2|1.2||[]|x|point|[{1 2}]||cm/s|\n3|1.2||[]|x|point|[{1 2}]|3=3||"},
		{"header alone", tableHeader, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, err := readCalipers("t.csv", strings.NewReader(tt.table))
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, r := range rows {
				if r.Table != "t.csv" {
					t.Errorf("table %q", r.Table)
				}
				got = append(got, describeRow(r))
			}
			if strings.Join(got, "\n") != tt.want {
				t.Errorf("got\n%s, want\n%s", strings.Join(got, "\n"), tt.want)
			}
		})
	}
}

// TestTableErrors: each fault names file, row, column and what was expected, and
// never what was found: every cell of these tables that is wrong holds a name.
func TestTableErrors(t *testing.T) {
	row := func(cells string) string { return tableHeader + "1.2,,x,point,\"1,2\",,,\n" + cells + "\n" }
	words := "sop_uid path frame label geometry points value unit observer"
	tests := []struct{ name, table, want string }{
		{"empty file", "", "t.csv: expected a header row: sop_uid, path, frame, label, geometry, points, value, unit, observer"},
		{"semicolons", "sop_uid;label;geometry;points\n", "t.csv: row 1: expected columns separated by commas"},
		{"unknown column", "sop_uid,label,geometry,points,vlaue\n", "t.csv: row 1, column 5: expected one of " + words + ", perhaps value"},
		{"unknown column, nothing near", "sop_uid,label,geometry,points,Nobody Baby\n", "t.csv: row 1, column 5: expected one of " + words},
		{"column twice", "sop_uid,label,geometry,points,label\n", "t.csv: row 1, column 5: expected label once"},
		{"missing columns", "frame\n", "t.csv: row 1: expected a column sop_uid or path\nt.csv: row 1: expected a column label\nt.csv: row 1: expected a column geometry\nt.csv: row 1: expected a column points"},
		{"no image", row(",,x,point,\"1,2\",,,"), "t.csv: row 3, sop_uid: expected the SOP Instance UID of the image, or its path in the column path"},
		{"no UID", row("nobody,,x,point,\"1,2\",,,"), "t.csv: row 3, sop_uid: expected a UID: at most 64 digits and dots"},
		{"geometry misspelt", row("1.2,,x,elipse,\"1,2\",,,"), "t.csv: row 3, geometry: expected one of point line polyline polygon ellipse circle discs frames, perhaps ellipse"},
		{"no geometry", row("1.2,,x,,\"1,2\",,,"), "t.csv: row 3, geometry: expected one of point line polyline polygon ellipse circle discs frames"},
		{"point of two", row("1.2,,x,point,\"1,2 3,4\",,,"), "t.csv: row 3, points: expected one point"},
		{"line of one", row("1.2,,x,line,\"1,2\",,,"), "t.csv: row 3, points: expected two points, the ends of the line"},
		{"line of three", row("1.2,,x,line,\"1,2 3,4 5,6\",,,"), "t.csv: row 3, points: expected two points, the ends of the line"},
		{"polyline of one", row("1.2,,x,polyline,\"1,2\",,,"), "t.csv: row 3, points: expected two points or more"},
		{"discs without a contour", row("1.2,,x,discs,\"1,2 3,4 5,6 7,8\",,,"), "t.csv: row 3, points: expected five points or more, both ends of the long axis and then the contour"},
		{"polygon of two", row("1.2,,x,polygon,\"1,2 3,4\",,,"), "t.csv: row 3, points: expected three points or more"},
		{"ellipse of two", row("1.2,,x,ellipse,\"1,2 3,4\",,,"), "t.csv: row 3, points: expected four points, both ends of the major and then of the minor axis"},
		{"circle of three", row("1.2,,x,circle,\"1,2 3,4 5,6\",,,"), "t.csv: row 3, points: expected two points, the centre and one on the circle"},
		{"frames with a point", row("1.2,1;2,x,frames,\"1,2\",,,"), "t.csv: row 3, points: expected no points for the interval between two frames"},
		{"frames with one number", row("1.2,1,x,frames,,,,"), "t.csv: row 3, frame: expected two frame numbers, such as 12;25"},
		{"two frames for a point", row("1.2,1;2,x,point,\"1,2\",,,"), "t.csv: row 3, frame: expected one frame number"},
		{"frame 0", row("1.2,0,x,point,\"1,2\",,,"), "t.csv: row 3, frame: expected a frame number, a whole number from 1"},
		{"frame no number", row("1.2,nobody,x,point,\"1,2\",,,"), "t.csv: row 3, frame: expected a frame number, a whole number from 1"},
		{"comma decimals in points", row("1.2,,x,point,\"1,5,2,5\",,,"), "t.csv: row 3, points: expected pairs x,y in quotes, with decimal points, separated by blanks or semicolons; pair 1 is none, or beyond ±1000000 pixels"},
		{"second pair wrong", row("1.2,,x,line,\"1,5 nobody\",,,"), "t.csv: row 3, points: expected pairs x,y in quotes, with decimal points, separated by blanks or semicolons; pair 2 is none, or beyond ±1000000 pixels"},
		{"coordinate not finite", row("1.2,,x,point,\"NaN,2\",,,"), "t.csv: row 3, points: expected pairs x,y in quotes, with decimal points, separated by blanks or semicolons; pair 1 is none, or beyond ±1000000 pixels"},
		{"coordinate beyond reason", row("1.2,,x,point,\"1e300,2\",,,"), "t.csv: row 3, points: expected pairs x,y in quotes, with decimal points, separated by blanks or semicolons; pair 1 is none, or beyond ±1000000 pixels"},
		{"comma decimal in value", row("1.2,,x,point,\"1,2\",\"1,82\",cm,"), "t.csv: row 3, value: expected a number with a decimal point, not a comma"},
		{"value with unit", row("1.2,,x,point,\"1,2\",1.82 cm,,"), "t.csv: row 3, value: expected a number with a decimal point, and the unit in the column unit"},
		{"value infinite", row("1.2,,x,point,\"1,2\",1e999,,"), "t.csv: row 3, value: expected a number with a decimal point, and the unit in the column unit"},
		{"value hexadecimal", row("1.2,,x,point,\"1,2\",0x10,,"), "t.csv: row 3, value: expected a number with a decimal point, and the unit in the column unit"},
		{"points without quotes", row("1.2,,x,line,1,2 3,4,1.8,cm,"), "t.csv: row 3, column 9: expected 8 columns, as the header has (a cell with a comma in it stands in quotes)"},
		{"a cell under no header", "sop_uid,label,geometry,points,\n1.2,x,point,\"1,2\",nobody\n", "t.csv: row 2, column 5: expected nothing, as the header does not name the column"},
		{"not UTF-8", row("1.2,,Gr\xf6\xdfe,point,\"1,2\",,,"), "t.csv: row 3, column 3: expected text in UTF-8"},
		{"quote inside a field", row("1.2,,no\"body,point,\"1,2\",,,") + "1.2,,x,point,\"1\",,,\n", "t.csv: row 3, character 8: expected a field in which quotes are doubled and closed (RFC 4180)\nt.csv: row 4, points: expected pairs x,y in quotes, with decimal points, separated by blanks or semicolons; pair 1 is none, or beyond ±1000000 pixels"},
		{"quote never closed", row("1.2,,x,point,\"1,2,,,"), "t.csv: row 3, character 22: expected a field in which quotes are doubled and closed (RFC 4180)"},
		{"two faults in two rows", row("1.2,,x,point,\"1,2\",a,,\n1.2,,x,point,,,,"), "t.csv: row 3, value: expected a number with a decimal point, and the unit in the column unit\nt.csv: row 4, points: expected one point"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, err := readCalipers("t.csv", strings.NewReader(tt.table))
			if err == nil || rows != nil {
				t.Fatalf("rows %v, error %v", rows, err)
			}
			if first := strings.Split(tt.want, "\n")[0]; !strings.HasPrefix(err.Error(), first) {
				t.Errorf("got\n%v\nwant\n%s", err, tt.want)
			}
			if !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got\n%v\nwant\n%s", err, tt.want)
			}
			if strings.Contains(strings.ToLower(err.Error()), "nobody") {
				t.Errorf("an error repeats what it found: %v", err)
			}
			var table *TableError
			if !errors.As(err, &table) || table.File != "t.csv" {
				t.Errorf("no TableError: %v", err)
			}
		})
	}
}

func TestManyTableErrors(t *testing.T) {
	_, err := readCalipers("t.csv", strings.NewReader(tableHeader+strings.Repeat("1.2,,x,point,,,,\n", 57)))
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 21 || lines[19] != "t.csv: row 21, points: expected one point" || lines[20] != "t.csv: and 37 more" {
		t.Errorf("%d lines, last %q", len(lines), lines[len(lines)-2:])
	}
}

func TestReadCalipersFile(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{filepath.Join(dir, "absent.csv"), dir} {
		_, err := ReadCalipers(path)
		var table *TableError
		if !errors.As(err, &table) || table.File != path || table.Line != 0 {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := ReadCalipers(filepath.Join(dir, "absent.csv")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the cause is lost: %v", err)
	}
	path := filepath.Join(dir, "t.csv")
	if err := os.WriteFile(path, []byte(tableHeader+"1.2,,x,point,\"1,2\",,,\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if rows, err := ReadCalipers(path); err != nil || len(rows) != 1 || rows[0].Table != path {
		t.Errorf("%v, %v", rows, err)
	}
}

// FuzzCalipers: any bytes give an error that is a TableError, or rows that are
// well-formed; never both, never more than the limit of errors, and no more
// allocated than in proportion to the table.
func FuzzCalipers(f *testing.F) {
	for _, seed := range []string{
		tableHeader + "1.2.3,4,LVIDd,line,\"10.5,20.5 30.5,20.5\",1.820,cm,AH\n",
		"\ufeffpath,geometry,points,label\r\na.dcm,ellipse,\"1,2;3,4;5,6;7,8\",\"a\"\"b\"\r\n",
		tableHeader + "1.2,12;25,ET,frames,,0.24,s,\n",
	} {
		if rows, err := readCalipers("seed", strings.NewReader(seed)); err != nil || len(rows) != 1 {
			f.Fatalf("a seed is not read: %v", err)
		}
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		var rows []CaliperRow
		var err error
		const perByte = 500 // a row of some bytes becomes a CaliperRow and its parts
		if n := allocation.Of(func() { rows, err = readCalipers("t.csv", bytes.NewReader(content)) }); n > allocation.Linear(len(content), perByte) {
			t.Errorf("%d bytes allocated for a table of %d bytes", n, len(content))
		}
		if err != nil {
			var table *TableError
			if rows != nil || !errors.As(err, &table) || strings.Count(err.Error(), "\n") > maxTableErrors {
				t.Errorf("%d rows beside %v", len(rows), err)
			}
			return
		}
		for _, r := range rows {
			checkRow(t, r)
		}
	})
}

func checkRow(t *testing.T, r CaliperRow) {
	known := false
	for _, g := range geometries {
		if g.name != r.Geometry {
			continue
		}
		known = true
		if len(r.Points) < g.least || g.most > 0 && len(r.Points) > g.most || g.most < 0 && len(r.Points) > 0 {
			t.Errorf("row %d: %s of %d points", r.Line, r.Geometry, len(r.Points))
		}
	}
	if !known || r.Line < 2 || r.SOPUID == "" && r.Path == "" || r.Value.Set != (r.ValueText != "") {
		t.Errorf("row %+v is not well-formed", r)
	}
	if (r.Geometry == GeometryFrames) != (len(r.Frames) == 2) || len(r.Frames) > 2 {
		t.Errorf("row %d: %s with %d frames", r.Line, r.Geometry, len(r.Frames))
	}
	for _, p := range r.Points {
		if !(math.Abs(p.X) <= maxCoordinate && math.Abs(p.Y) <= maxCoordinate) {
			t.Errorf("row %d: a coordinate beyond the limit", r.Line)
		}
	}
}
