package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// TestDrawnTwice draws calipers of every measure of the catalogue at random on the
// pictures of the demo, traced envelopes (open, and closed along the baseline), discs
// and intervals between frames among them, many with points in common, and wants all
// values and all indices that follow to be those that Python finds.
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
	everyShape(t, tables)
	for quantity, n := range closedTraces(t, tables) {
		if n == 0 {
			t.Errorf("%s: of no closed trace", quantity)
		}
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

// closedTraces counts what was rebuilt of traces that are closed along the baseline.
func closedTraces(t *testing.T, tables string) map[string]int {
	t.Helper()
	n := map[string]int{}
	for _, q := range []analyse.QuantityKind{analyse.VelocityTimeIntegral, analyse.Velocity, analyse.MeanVelocity, analyse.MeanGradient} {
		n[string(q)] = 0
	}
	for _, row := range readTable(t, filepath.Join(tables, "measurements.csv")) {
		if _, ok := n[row["quantity"]]; ok && row["geometry"] == "polygon" && row["rebuilt"] != "" {
			n[row["quantity"]]++
		}
	}
	return n
}

// everyShape wants a rebuilt value of each quantity by each geometry that can give it.
func everyShape(t *testing.T, tables string) {
	t.Helper()
	met := map[string]bool{}
	for _, row := range readTable(t, filepath.Join(tables, "measurements.csv")) {
		if row["rebuilt"] != "" {
			met[row["geometry"]+" "+row["quantity"]] = true
		}
	}
	for _, want := range []string{
		"point velocity", "point depth", "line distance", "line duration", "line depth-difference", "line velocity-difference", "line slope", "line rate", "line acceleration",
		"polyline length", "polyline angle", "polygon area", "polygon perimeter", "ellipse area", "ellipse perimeter", "circle area", "circle perimeter", "circle distance",
		"discs volume", "biplane-discs volume", "frames duration",
		"polyline velocity-time-integral", "polyline velocity", "polyline mean-velocity", "polyline mean-gradient",
	} {
		if !met[want] {
			t.Errorf("no %s was drawn and rebuilt", want)
		}
	}
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
	number         string
	x0, y0, x1, y1 float64
	unitX, unitY   string
	// baseline is the row of velocity 0, NaN where it lies outside or is not told.
	baseline float64
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
	baselines := baselinesOf(t, demoDir)
	for _, r := range readRegions(t, filepath.Join(tables, "regions.csv")) {
		r.baseline = math.NaN()
		if row, ok := baselines[r.image+" "+r.number]; ok && row > r.y0+5 && row < r.y1-5 {
			r.baseline = row
		}
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
		pool.slope(byStudy[study], w)
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

// slope draws one in an M-mode strip: no measure of the catalogue is one, so the unit
// tells.
func (p *pool) slope(regions []regionRow, w *csv.Writer) {
	for _, r := range regions {
		if r.unitX == "s" && r.unitY == "cm" {
			at := func() string {
				return fmt.Sprintf("%.2f,%.2f ", r.x0+p.rng.Float64()*(r.x1-r.x0), r.y0+p.rng.Float64()*(r.y1-r.y0))
			}
			w.Write([]string{r.image, "1", "drawn", "line", distinct(at, 2), "5", "cm/s", "drawn"})
			return
		}
	}
}

// drawMeasure draws one caliper in a region that the measure can be taken in.
func (p *pool) drawMeasure(regions []regionRow, m *measures.Measure) (r regionRow, geometry, points, value string) {
	rng := p.rng
	units := map[analyse.QuantityKind][2]string{
		analyse.Distance: {"cm", "cm"}, analyse.DepthDifference: {"s", "cm"}, analyse.Area: {"cm", "cm"}, analyse.Volume: {"cm", "cm"},
		analyse.Duration: {"s", ""}, analyse.Rate: {"s", ""}, analyse.Velocity: {"s", "cm/s"}, analyse.MeanVelocity: {"s", "cm/s"},
		analyse.VelocityTimeIntegral: {"s", "cm/s"}, analyse.MeanGradient: {"s", "cm/s"}, analyse.Ratio: {"", ""},
		analyse.PathLength: {"cm", "cm"}, analyse.Perimeter: {"cm", "cm"}, analyse.Angle: {"cm", "cm"}, analyse.Acceleration: {"s", "cm/s"}, analyse.Depth: {"s", "cm"},
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
	traced := func() (geometry, points, value string) {
		if !math.IsNaN(r.baseline) && rng.IntN(2) == 0 {
			return "polygon", p.again(r, "closed trace", func() string { return closedTrace(rng, r) }), ""
		}
		return "polyline", p.again(r, "trace", func() string { return trace(rng, at) }), ""
	}
	switch m.Quantity {
	case analyse.Ratio:
		return r, "point", anywhere(), strconv.Itoa(rng.IntN(4))
	case analyse.Velocity:
		switch rng.IntN(4) {
		case 0, 1:
			return r, "point", anywhere(), ""
		case 2:
			return r, "line", distinct(anywhere, 2), ""
		}
		geometry, points, value = traced()
		return r, geometry, points, value
	case analyse.MeanVelocity, analyse.VelocityTimeIntegral, analyse.MeanGradient:
		geometry, points, value = traced()
		return r, geometry, points, value
	case analyse.Depth:
		return r, "point", anywhere(), ""
	case analyse.PathLength:
		return r, "polyline", outline(rng, at), ""
	case analyse.Angle:
		return r, "polyline", distinct(anywhere, 3+rng.IntN(2)), ""
	case analyse.Area, analyse.Perimeter:
		switch rng.IntN(3) {
		case 0:
			return r, "ellipse", distinct(anywhere, 4), ""
		case 1:
			return r, "circle", distinct(anywhere, 2), ""
		}
		return r, "polygon", outline(rng, at), ""
	case analyse.Volume:
		contour := outline(rng, at)
		vertices := strings.Fields(contour)
		return r, "discs", at(0.25, 0.5) + []string{at(0.75, 0.5), vertices[0] + " "}[rng.IntN(2)] + contour, ""
	}
	if m.Quantity == analyse.Distance && rng.IntN(10) == 0 {
		return r, "circle", distinct(anywhere, 2), "" // its diameter, where pixels are square
	}
	return r, "line", distinct(anywhere, 2), ""
}

// distinct draws so many points, no two of them equal.
func distinct(draw func() string, n int) string {
	var list []string
	for len(list) < n {
		if p := draw(); !slices.Contains(list, p) {
			list = append(list, p)
		}
	}
	return strings.Join(list, "")
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

// closedTrace goes along the baseline for a little, leaves it, comes back to it, goes
// on for a little and returns on it: above or below, to the right or to the left, and
// begun anywhere.
func closedTrace(rng *rand.Rand, r regionRow) string {
	near := func() float64 { return r.baseline + 1.6*(rng.Float64()-0.5) }
	room, side := r.baseline-r.y0, -1.0
	if rng.IntN(2) == 0 {
		room, side = r.y1-r.baseline, 1.0
	}
	before, away, after := 1+rng.IntN(3), 2+rng.IntN(20), 1+rng.IntN(3)
	var points [][2]float64
	for i := range before + away + after {
		x := r.x0 + (r.x1-r.x0)*(float64(i)+0.1+0.8*rng.Float64())/float64(before+away+after)
		y := near()
		if i >= before && i < before+away {
			y = r.baseline + side*(1.5+(room-2)*rng.Float64())
		}
		points = append(points, [2]float64{x, y})
	}
	first, last := points[0][0], points[len(points)-1][0]
	for back := rng.IntN(4); back > 0; back-- {
		points = append(points, [2]float64{first + (last-first)*float64(back)/4, near()})
	}
	return ringText(rng, points)
}

// ringText writes a ring from anywhere in it, in either direction, its first point
// perhaps once more.
func ringText(rng *rand.Rand, points [][2]float64) string {
	if rng.IntN(2) == 0 {
		slices.Reverse(points)
	}
	from, text, first := rng.IntN(len(points)), "", ""
	for i := range points {
		p := points[(from+i)%len(points)]
		pair := fmt.Sprintf("%.2f,%.2f ", p[0], p[1])
		if text += pair; i == 0 {
			first = pair
		}
	}
	if rng.IntN(2) == 0 {
		text += first
	}
	return text
}

// baselinesOf are the rows of velocity 0 by image and region, as coordinates.
func baselinesOf(t *testing.T, dir string) map[string]float64 {
	t.Helper()
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]float64{}
	for _, in := range archive.Instances {
		if in.Image == nil {
			continue
		}
		for i := range in.Image.Regions {
			r := &in.Image.Regions[i]
			if y := physical.RegionPlane(r).Y; y.Is(physical.CMPerS) && y.Zero.Set {
				rows[fmt.Sprintf("%s %d", in.SOPInstanceUID, r.Ordinal)] = y.Zero.Value.Pixel.Center() - y.Zero.Value.Value/y.Delta
			}
		}
	}
	return rows
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
			study: row["study_uid"], image: row["sop_uid"], number: row["region"],
			x0: number("x0"), y0: number("y0"), x1: number("x1"), y1: number("y1"),
			unitX: row["units_x"], unitY: row["units_y"],
		}
		if r.x1 > r.x0 && r.y1 > r.y0 {
			list = append(list, r)
		}
	}
	return list
}
