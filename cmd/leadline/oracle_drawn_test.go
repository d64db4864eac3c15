package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/measures"
)

// TestDrawnTwice draws calipers of every measure of the catalogue at random on the
// pictures of the demo, traced envelopes, discs and intervals between frames among
// them, many with points in common, and wants all values and all indices that follow
// to be those that Python finds.
func TestDrawnTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	python := needPython(t)
	calipers := filepath.Join(t.TempDir(), "drawn.csv")
	drawn := drawCalipers(t, tablesOf(t, demoDir), calipers)
	if drawn < 500 {
		t.Fatalf("only %d calipers were drawn", drawn)
	}
	tables := tablesOf(t, demoDir, "--calipers", calipers)
	runOracle(t, python, "rebuild.py", tables, calipers, demoDir)
	runOracle(t, python, "indices.py", tables, demoDir)
	if n := sharing(t, tables); n < 200 {
		t.Errorf("only %d indices have points in common", n)
	}

	// Once more with a protocol that gives placing errors and a tolerance of 3 %.
	ours := filepath.Join(t.TempDir(), "ours.yaml")
	writeFile(t, ours, "language: 1\nname: ours\nversion: 1\ntitle: Ours\nsources: {u: local}\n"+
		"when: {measures: ["+strings.Join(measures.Builtin().IDs(), ", ")+"], at-least: 1}\n"+
		"uncertainty: {placement-px: {lv-internal-diameter-diastole: 2, lv-outflow-vti: 1.5, duct-diameter: 0.7, lv-two-chamber-volume-diastole: 0.4}, scale-tolerance-percent: 3}\n"+
		"items: [{id: a, title: A, sources: u, kind: report}]\n")
	tables = tablesOf(t, demoDir, "--calipers", calipers, "--protocol", ours)
	given := []string{"--tolerance", "0.03", "--placement", "lv-internal-diameter-diastole=2", "--placement", "lv-outflow-vti=1.5", "--placement", "duct-diameter=0.7",
		"--placement", "lv-two-chamber-volume-diastole=0.4", tables}
	runOracle(t, python, "rebuild.py", append(given, calipers, demoDir)...)
	runOracle(t, python, "indices.py", append(given, demoDir)...)
}

// sharing counts the indices whose calipers or intervals have points or frames in
// common.
func sharing(t *testing.T, tables string) (n int) {
	t.Helper()
	for _, row := range readTable(t, filepath.Join(tables, "indices.csv")) {
		if strings.Contains(row["note"], "calipers share") || strings.Contains(row["note"], "intervals share") {
			n++
		}
	}
	return n
}

func writeFile(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// regionRow is a calibrated region of the demo.
type regionRow struct {
	study, image   string
	x0, y0, x1, y1 float64
	unitX, unitY   string
}

func drawCalipers(t *testing.T, tables, out string) (drawn int) {
	t.Helper()
	byStudy := map[string][]regionRow{}
	clips := map[string][]map[string]string{}
	for _, row := range readTable(t, filepath.Join(tables, "images.csv")) {
		if row["kind"] == "clip" && row["frame_rate_hz"] != "" {
			clips[row["study_uid"]] = append(clips[row["study_uid"]], row)
		}
	}
	var studies []string
	for _, r := range readRegions(t, filepath.Join(tables, "regions.csv")) {
		if byStudy[r.study] == nil {
			studies = append(studies, r.study)
		}
		byStudy[r.study] = append(byStudy[r.study], r)
	}
	f, err := os.Create(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w := csv.NewWriter(f)
	w.Write([]string{"sop_uid", "frame", "label", "geometry", "points", "value", "unit", "observer"})
	rng := rand.New(rand.NewPCG(3, 14))
	pool := pool{rng, map[string][]string{}}
	for i, study := range studies {
		if i%3 != 0 && os.Getenv("DRAWN_ALL") == "" { // a third takes a minute, all of them four
			continue
		}
		for _, m := range measures.Builtin().All() {
			r, geometry, points, value := pool.drawMeasure(byStudy[study], &m)
			frame := "1"
			if list := clips[study]; m.Quantity == analyse.Duration && len(list) > 0 && rng.IntN(2) == 0 {
				clip := list[rng.IntN(len(list))]
				frames, _ := strconv.Atoi(clip["frames"])
				// Few different ones, so that many intervals begin or end together.
				first, last := 1+rng.IntN(3), frames-rng.IntN(3)
				r.image, geometry, points, frame = clip["sop_uid"], "frames", "", fmt.Sprintf("%d;%d", first, last)
			}
			if geometry == "" {
				continue
			}
			label := m.Labels[0]
			if m.Sides {
				label = []string{"left ", "right ", ""}[rng.IntN(3)] + label
			}
			write := func(points string) {
				w.Write([]string{r.image, frame, label, geometry, points, value, map[bool]string{true: "1"}[value != ""], "drawn"})
				drawn++
			}
			write(points)
			if ends := strings.Fields(points); geometry == "line" && rng.IntN(5) == 0 {
				write(ends[1] + " " + ends[0]) // the same caliper from the other end
			}
		}
	}
	if w.Flush(); w.Error() != nil {
		t.Fatal(w.Error())
	}
	return drawn
}

// pool holds what was drawn, to be taken again: points and traces by region.
type pool struct {
	rng   *rand.Rand
	drawn map[string][]string
}

// again is one of those drawn before in half of the cases, else a new one.
func (p *pool) again(r regionRow, kind string, draw func() string) string {
	key := fmt.Sprint(r, kind)
	if list := p.drawn[key]; len(list) > 0 && p.rng.IntN(2) == 0 {
		return list[p.rng.IntN(len(list))]
	}
	v := draw()
	p.drawn[key] = append(p.drawn[key], v)
	return v
}

// drawMeasure draws one caliper in a region that the measure can be taken in.
func (p *pool) drawMeasure(regions []regionRow, m *measures.Measure) (r regionRow, geometry, points, value string) {
	rng := p.rng
	units := map[analyse.QuantityKind][2]string{
		analyse.Distance: {"cm", "cm"}, analyse.DepthDifference: {"s", "cm"}, analyse.Area: {"cm", "cm"}, analyse.Volume: {"cm", "cm"},
		analyse.Duration: {"s", ""}, analyse.Rate: {"s", ""}, analyse.Velocity: {"s", "cm/s"}, analyse.MeanVelocity: {"s", "cm/s"},
		analyse.VelocityTimeIntegral: {"s", "cm/s"}, analyse.MeanGradient: {"s", "cm/s"}, analyse.Ratio: {"", ""},
	}
	want, ok := units[m.Quantity]
	var fitting []regionRow
	for _, r := range regions {
		if ok && (want[0] == "" || r.unitX == want[0]) && (want[1] == "" || r.unitY == want[1]) {
			fitting = append(fitting, r)
		}
	}
	if len(fitting) == 0 || m.Quantity == analyse.Ratio && m.Unit != "1" {
		return r, "", "", ""
	}
	r = fitting[rng.IntN(len(fitting))]
	at := func(x, y float64) string {
		return fmt.Sprintf("%.2f,%.2f ", r.x0+x*(r.x1-r.x0), r.y0+y*(r.y1-r.y0))
	}
	anywhere := func() string {
		return p.again(r, "point", func() string { return at(rng.Float64(), rng.Float64()) })
	}
	traced := func() string {
		return p.again(r, "trace", func() string { return trace(rng, at) })
	}
	switch m.Quantity {
	case analyse.Ratio:
		return r, "point", anywhere(), strconv.Itoa(rng.IntN(4))
	case analyse.Velocity:
		if rng.IntN(2) == 0 {
			return r, "point", anywhere(), ""
		}
		return r, "polyline", traced(), ""
	case analyse.MeanVelocity, analyse.VelocityTimeIntegral, analyse.MeanGradient:
		return r, "polyline", traced(), ""
	case analyse.Area:
		return r, "polygon", outline(rng, at), ""
	case analyse.Volume:
		contour := outline(rng, at)
		vertices := strings.Fields(contour)
		return r, "discs", at(0.25, 0.5) + []string{at(0.75, 0.5), vertices[0] + " "}[rng.IntN(2)] + contour, ""
	}
	a, b := anywhere(), anywhere()
	for b == a {
		b = anywhere()
	}
	return r, "line", a + b, ""
}

// trace runs over the strip from left to right, or back.
func trace(rng *rand.Rand, at func(x, y float64) string) string {
	points, backwards := "", rng.IntN(2) == 0
	for i := range 30 {
		x := (float64(i) + 0.1 + 0.8*rng.Float64()) / 30
		if backwards {
			x = 1 - x
		}
		points += at(x, rng.Float64())
	}
	return points
}

// outline is a rough oval about the middle.
func outline(rng *rand.Rand, at func(x, y float64) string) string {
	points := ""
	for i := range 24 {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / 24)
		size := 0.35 + 0.02*rng.Float64()
		points += at(0.5+size*cos, 0.5+size*sin)
	}
	return points
}

// readTable reads a CSV table, each row by column name.
func readTable(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, name := range records[0] {
			row[name] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func readRegions(t *testing.T, path string) []regionRow {
	t.Helper()
	var list []regionRow
	for _, row := range readTable(t, path) {
		number := func(name string) float64 {
			v, _ := strconv.ParseFloat(row[name], 64)
			return v
		}
		r := regionRow{
			study: row["study_uid"], image: row["sop_uid"],
			x0: number("x0"), y0: number("y0"), x1: number("x1"), y1: number("y1"),
			unitX: row["units_x"], unitY: row["units_y"],
		}
		if r.x1 > r.x0 && r.y1 > r.y0 {
			list = append(list, r)
		}
	}
	return list
}
