package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"leadline/ingest/dcm"
)

const shared = "../../../shared/data"

// realReports lists the real reports; the test skips where they are absent.
func realReports(t *testing.T) []string {
	t.Helper()
	files, _ := filepath.Glob(shared + "/real/sr/*")
	more, _ := filepath.Glob(shared + "/real/sr-ct/rv11*")
	if files = append(files, more...); len(files) == 0 {
		t.Skip("the real reports are not here: " + shared)
	}
	return files
}

func scan(t *testing.T, path string) *dcm.Dataset {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return &f.Data
}

// TestReportedCoordinates reads the reports whose number and graphic stand in
// containers of their own, and wants the value and the points that
// report-coordinates.csv lists, read there by hand.
func TestReportedCoordinates(t *testing.T) {
	f, err := os.Open(shared + "/report-coordinates.csv")
	if err != nil {
		t.Skip("the real reports are not here: " + shared)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 17 {
		t.Fatalf("%d rows, %v; want a header and 16", len(rows), err)
	}
	for _, row := range rows[1:] {
		t.Run(filepath.Base(row[0]), func(t *testing.T) {
			doc := Read(scan(t, filepath.Join(shared, row[0])))
			if len(doc.Numerics) != 1 || len(doc.Numerics[0].Graphics) != 1 {
				t.Fatalf("numbers %d, problems %q", len(doc.Numerics), doc.Problems)
			}
			n := doc.Numerics[0]
			g := n.Graphics[0]
			var points []string
			for _, p := range g.Points {
				points = append(points, fmt.Sprintf("%.1f, %.1f", p.X, p.Y))
			}
			want, _ := strconv.ParseFloat(row[1], 64)
			if n.Value != dcm.Some(want) || n.Unit.Value != "mm" {
				t.Errorf("value %v %s, want %s mm", n.Value, n.Unit.Value, row[1])
			}
			if got := strings.Join(points, ", "); got != row[2] || g.Link != LinkContainer || g.Type != "POLYLINE" || len(g.Images) != 1 {
				t.Errorf("graphic %s %s %s on %d images, want POLYLINE container %s on one", g.Type, g.Link, got, len(g.Images), row[2])
			}
		})
	}
}

// TestRealReports holds what the reports of real/sr say, as dsrdump and pydicom
// print them: count of numbers with those that qualify, the values of those with
// graphics, their points and links.
func TestRealReports(t *testing.T) {
	realReports(t)
	tests := []struct {
		file                string
		numbers, qualifying int
		graphics            []string
	}{
		{"data__sr-example__sr.dcm", 22, 2, nil},
		{"data__test_files__sr_document.dcm", 1, 0, []string{"1.7 cm2 group:CIRCLE[58,52 58,41]"}},
		{"datasets__sr.dcm", 0, 0, nil},
		{"examples__data__structured_report.dcm", 7, 0, []string{
			"  own:POINT[169.5,360]",
			"4806.42320110457 mm2 own:ELLIPSE[295.5,319.5 388.5,319.5 342,285 342,354]",
			"93.9 mm own:POLYLINE[71.5,329 139.5,397]",
			"47.0 mm own:POLYLINE[88.5,380 122.5,346]",
			"39.3664929116140 mm own:POLYLINE[237.5,392 272.5,372]",
			"133.992062006165 mm own:POLYLINE[167.5,288 262.5,387]",
			"3905.35929103307 mm2 own:ELLIPSE[263.5,286 342.5,286 303,253 303,319]"}},
		{"examples__rsna2018_dataset4__1.dcm", 1, 0, []string{"66.43856134 mm own:POLYLINE[172.83535766601562,270.0640869140625 133.79888916015625,343.0453186035156]"}},
		{"src__pydicom__data__test_files__reportsi.dcm", 0, 0, nil},
		{"src__pydicom__data__test_files__test-SR.dcm", 2, 0, nil},
		{"testImages__deflate__report_dfl", 1, 0, nil},
		{"test__sample-sr.dcm", 2, 0, []string{
			"64.4505437946691 1 own:POLYLINE[580.7191772460938,1090.8358154296875 543.35400390625,988.3921508789062]",
			"42.9670291964462 1 own:POLYLINE[599.4017944335938,1028.2313232421875 524.6713256835938,1050.99658203125]"}},
	}
	for _, tt := range tests {
		t.Run(tt.file, func(t *testing.T) {
			doc := Read(scan(t, filepath.Join(shared, "real/sr", tt.file)))
			if len(doc.Numerics) != tt.numbers || doc.Qualifying != tt.qualifying {
				t.Errorf("%d numbers, %d qualifying, want %d, %d", len(doc.Numerics), doc.Qualifying, tt.numbers, tt.qualifying)
			}
			var got []string
			for _, n := range doc.Numerics {
				if len(n.Graphics) > 0 {
					got = append(got, n.Text+" "+n.Unit.Value+" "+strings.SplitN(graphics(n), "@", 2)[0])
				}
			}
			if strings.Join(got, "\n") != strings.Join(tt.graphics, "\n") {
				t.Errorf("graphics\n got %q\nwant %q", got, tt.graphics)
			}
		})
	}
}

// TestOracle compares every number and every graphic of every real report, by
// path, with what pydicom reads.
func TestOracle(t *testing.T) {
	files := realReports(t)
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import pydicom").Run() != nil {
		t.Skip("python3-pydicom is not installed")
	}
	out, err := exec.Command(python, append([]string{"testdata/content_tree.py"}, files...)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSpace(string(out)), "\n")
	var got []string
	for _, file := range files {
		got = append(got, listed(file, scan(t, file))...)
	}
	sort.Strings(want)
	sort.Strings(got)
	if len(want) < 50 || len(got) != len(want) {
		t.Fatalf("%d items, pydicom reads %d", len(got), len(want))
	}
	for i := range want {
		if strings.TrimRight(got[i], "\t") != strings.TrimRight(want[i], "\t") {
			t.Errorf("item %d\n got %q\nwant %q", i, got[i], want[i])
		}
	}
}

// listed writes the numbers and graphics of a report as content_tree.py does.
func listed(file string, d *dcm.Dataset) []string {
	r := &reader{tree: grow(d), doc: &Document{}, shapes: map[int]*shape{}, images: map[int][]dcm.Reference{}, points: maxPoints, entries: maxEntries}
	var out []string
	for i := range r.nodes {
		switch r.nodes[i].kind {
		case typeNumber:
			v := r.measured(i)
			out = append(out, strings.Join([]string{file, r.path(i), "NUM", v.text, v.unit.Value}, "\t"))
		case typeGraphic:
			var data []string
			s := r.shape(i)
			for _, p := range s.graphic.Points {
				data = append(data, strconv.FormatFloat(p.X, 'g', 9, 64), strconv.FormatFloat(p.Y, 'g', 9, 64))
			}
			out = append(out, strings.Join([]string{file, r.path(i), "SCOORD", s.graphic.Type, strings.Join(data, " ")}, "\t"))
		}
	}
	return out
}
