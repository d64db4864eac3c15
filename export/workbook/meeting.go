package workbook

import (
	"fmt"
	"math"
	"sort"

	"github.com/xuri/excelize/v2"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/export"
	"leadline/ingest"
)

// mostPoints are drawn of a chart, the last ones: as many as are told apart on a page.
// The sheet Charts holds all.
const mostPoints = 100

// The grid of the meeting sheet: charts in two columns, each so many cells wide and
// high, and beside them, off the page, the values that they draw.
const (
	chartColumns = 10
	chartRows    = 17
	cellWidth    = 9.0
	dataColumn   = 2*chartColumns + 3
	dataWidth    = 8
)

// A page holds two rows of charts below the text. It is printed at a fixed scale, in
// percent, at which the two columns of charts are as wide as the page: a page that is
// fitted to its width has no breaks of its own in every program, and would cut charts.
const (
	pageRows  = 2
	pageScale = 72
)

// slanted labels, in degrees, stand in one line each however narrow their place.
const slanted = 45

// mostLabels is how many points of a chart have their label below the axis: what has
// room in one line. Not every spreadsheet knows how to leave out labels by itself.
const mostLabels = 10

// meeting writes the sheet that is shown at a meeting.
func (w *writer) meeting() error {
	if w.book.Meeting == nil {
		return nil
	}
	name := w.book.Meeting.Title
	if _, err := w.file.NewSheet(name); err != nil {
		return err
	}
	if err := w.pageSetup(w.file, name); err != nil {
		return err
	}
	hidden, scale := false, uint(pageScale)
	if err := w.file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &hidden}); err != nil {
		return err
	}
	if err := w.file.SetPageLayout(name, &excelize.PageLayoutOptions{AdjustTo: &scale}); err != nil {
		return err
	}
	if err := w.file.SetSheetView(name, 0, &excelize.ViewOptions{ShowGridLines: &hidden}); err != nil {
		return err
	}
	if err := w.file.SetColWidth(name, "A", columnName(2*chartColumns), cellWidth); err != nil {
		return err
	}
	m := &meeting{writer: w, Meeting: w.book.Meeting}
	m.text()
	for i := range m.Charts[:min(len(m.Charts), m.Most)] {
		m.breakPage(i)
		m.chart(i, &m.Charts[i])
	}
	w.sortExtensions()
	last := fmt.Sprintf("$A$1:$%s$%d", columnName(2*chartColumns), m.lastRow())
	m.keep(w.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: "'" + name + "'!" + last, Scope: name}))
	return m.err
}

// sortExtensions puts in order what excelize lists by the order of a map when it adds
// a chart, so that the same book gives the same bytes.
func (w *writer) sortExtensions() {
	if w.file.ContentTypes == nil {
		return
	}
	list := w.file.ContentTypes.Defaults
	sort.Slice(list, func(i, j int) bool { return list[i].Extension < list[j].Extension })
}

// meeting is the sheet while it is written; the first error stays.
type meeting struct {
	*writer
	*export.Meeting
	// top is the row above the first chart, from 0.
	top, drawn int
	err        error
}

func (m *meeting) keep(err error) {
	if m.err == nil {
		m.err = err
	}
}

// text writes the title, the sentences, and how to read the charts.
func (m *meeting) text() {
	m.spanning(m.Title, look{role: title}, 26)
	if m.full() {
		m.spanning(bannerText, look{role: banner}, rowHeight(1))
	}
	width := 2 * chartColumns * cellWidth
	for _, line := range m.Lines {
		m.spanning(line, look{role: prose}, rowHeight(linesOf(line, width)))
	}
	if len(m.Charts) > 0 {
		said := m.legend()
		m.spanning(said, look{role: prose}, rowHeight(linesOf(said, width)))
	}
	m.top++
}

// legend says how to read the charts.
func (m *meeting) legend() string {
	said := "Dots: the values. Grey line: the centre. Dashed: the limits that a steady process keeps to. Diamond: a signal, which asks what was special then. Limits say nothing of what is good."
	if more := len(m.Charts) - m.Most; more > 0 {
		said += " " + analyse.Counted(more, "more chart is", "more charts are") + " in the sheet Charts."
	}
	return said
}

func (m *meeting) spanning(text string, l look, height float64) {
	m.top++
	style, err := m.styles.id(l)
	m.keep(err)
	from, to := cellName(1, m.top), cellName(2*chartColumns, m.top)
	m.keep(m.file.SetCellStr(m.Title, from, text))
	m.keep(m.file.SetCellStyle(m.Title, from, to, style))
	m.keep(m.file.MergeCell(m.Title, from, to))
	m.keep(m.file.SetRowHeight(m.Title, m.top, height))
}

// place is the corner of chart i; lastRow the row below all.
func (m *meeting) place(i int) (column, row int) {
	return 1 + i%2*chartColumns, m.top + 1 + i/2*chartRows
}

// breakPage begins a new page before the chart that would not be whole on this one.
func (m *meeting) breakPage(i int) {
	if _, row := m.place(i); i > 0 && i%(2*pageRows) == 0 {
		m.keep(m.file.InsertPageBreak(m.Title, cellName(1, row)))
	}
}

func (m *meeting) lastRow() int { return m.top + (m.drawn+1)/2*chartRows }

// The columns of the values of a chart.
var dataHeads = []string{"label", "value", "centre", "lower limit", "upper limit", "signal", "point"}

// chart writes the values of a chart and draws them.
func (m *meeting) chart(i int, c *analyse.Chart) {
	m.drawn++
	points := c.Points[max(0, len(c.Points)-mostPoints):]
	column, head := dataColumn+i*dataWidth, m.top+1
	style, err := m.styles.id(look{role: body})
	m.keep(err)
	for k, name := range dataHeads {
		m.keep(m.file.SetCellStr(m.Title, cellName(column+k, head), name))
	}
	for r := range points {
		p := &points[r]
		m.keep(m.file.SetCellStr(m.Title, cellName(column+len(dataHeads)-1, head+1+r), p.Label))
		if step := (len(points) + mostLabels - 1) / mostLabels; r%step == 0 {
			m.keep(m.file.SetCellStr(m.Title, cellName(column, head+1+r), p.Label))
		}
		values := []struct {
			v   float64
			set bool
		}{
			{p.Value.Value, p.Value.Set}, {p.Centre.Value, p.Centre.Set}, {p.Lower.Value, p.Lower.Set},
			{p.Upper.Value, p.Upper.Set}, {p.Value.Value, p.Value.Set && len(p.Signals) > 0},
		}
		for k, v := range values {
			if v.set {
				m.keep(m.file.SetCellFloat(m.Title, cellName(column+1+k, head+1+r), v.v, -1, 64))
			}
		}
	}
	m.keep(m.file.SetCellStyle(m.Title, cellName(column, head), cellName(column+len(dataHeads)-1, head+len(points)), style))
	at, row := m.place(i)
	m.keep(m.file.AddChart(m.Title, cellName(at, row), m.drawing(c, column, head, len(points))))
}

// Colours of lines, after Okabe and Ito's palette (from memory) and grey; what they mean
// is told apart by form too.
const (
	valueColour  = "0072B2"
	limitColour  = "5B6B78"
	signalColour = "D55E00"
)

// drawing is the picture of a chart.
func (m *meeting) drawing(c *analyse.Chart, column, head, points int) *excelize.Chart {
	at := func(k int) string {
		return fmt.Sprintf("'%s'!$%s$%d:$%s$%d", m.Title, columnName(column+k), head+1, columnName(column+k), head+points)
	}
	series := func(k int, colour string, line excelize.LineOptions, marker excelize.ChartMarker) excelize.ChartSeries {
		marker.Fill = solid(colour)
		return excelize.ChartSeries{Name: fmt.Sprintf("'%s'!$%s$%d", m.Title, columnName(column+k), head),
			Categories: at(0), Values: at(k), Fill: solid(colour), Line: line, Marker: marker}
	}
	// Labels stand below the chart, also where values go below zero.
	axis := excelize.Font{Family: fontName, Size: 9, Color: "404040"}
	none := excelize.ChartMarker{Symbol: "none"}
	plain := excelize.LineOptions{Type: excelize.LineSolid, Width: 1}
	dashed := plain
	dashed.Dash = excelize.LineDashDash
	drawing := &excelize.Chart{
		Type: excelize.Line,
		Series: []excelize.ChartSeries{
			series(1, valueColour, plain, excelize.ChartMarker{Symbol: "circle", Size: 4}),
			series(2, limitColour, plain, none), series(3, limitColour, dashed, none), series(4, limitColour, dashed, none),
			series(5, signalColour, excelize.LineOptions{Type: excelize.LineNone}, excelize.ChartMarker{Symbol: "diamond", Size: 10}),
		},
		Title:        excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: chartTitle(c, points), Font: &excelize.Font{Family: fontName, Size: 11, Bold: true}}}},
		Legend:       excelize.ChartLegend{Position: "none"},
		ShowBlanksAs: "gap",
		Dimension:    excelize.ChartDimension{Width: 660, Height: 296},
		Format:       excelize.GraphicOptions{OffsetY: 4}, // off the edge of a printed page
		XAxis:        excelize.ChartAxis{TickLabelSkip: 1, TickLabelPosition: excelize.ChartTickLabelLow, Font: axis, Alignment: excelize.Alignment{TextRotation: slanted}},
		YAxis:        excelize.ChartAxis{Font: axis},
	}
	if c.Kind == analyse.ChartP {
		least, most := lowest(c.Points[len(c.Points)-points:]), 1.0
		drawing.YAxis.Minimum, drawing.YAxis.Maximum = &least, &most
		drawing.YAxis.NumFmt = excelize.ChartNumFmt{CustomNumFmt: "0%"}
	}
	return drawing
}

// lowest is the tenth at or below everything that a chart of shares shows: shares
// between 95 and 100 % could not be told apart on an axis from 0.
func lowest(points []analyse.ChartPoint) float64 {
	least := 0.9
	for i := range points {
		for _, v := range []ingest.Optional[float64]{points[i].Value, points[i].Lower} {
			if v.Set {
				least = min(least, math.Floor(10*v.Value)/10)
			}
		}
	}
	return least
}

// chartTitle says what a chart shows, of what, in which unit, and where limits lack why.
func chartTitle(c *analyse.Chart, points int) string {
	said := c.Title
	if c.Kind != analyse.ChartP {
		said += fmt.Sprintf(" (%s)", physical.Printed(c.Unit))
	}
	if points < len(c.Points) {
		said += fmt.Sprintf(", the last %d of %d", points, len(c.Points))
	}
	if !export.HasLimits(c) {
		said += " – no limits yet"
	}
	return said
}

// columnName is the letter of a column.
func columnName(column int) string {
	name, _ := excelize.ColumnNumberToName(column) // columns of ours are within the format's limits
	return name
}
