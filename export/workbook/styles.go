package workbook

import (
	"strings"

	"github.com/xuri/excelize/v2"

	"leadline/export"
)

// look is all that the style of a cell depends on.
type look struct {
	role   role
	format string
	level  export.Level
	wrap   bool
	// tall is for rows of several lines, which begin at the top.
	tall bool
	// right aligns at the right, as numbers are; indent keeps text off a number
	// that ends where it begins.
	right, indent bool
	// ruled draws a line under the cell.
	ruled bool
}

// role is what a cell is for.
type role int

const (
	body role = iota
	header
	banner
	prose
	title
	section
	subheader
	link
	pen
)

// fills are mild tints, told apart in all common kinds of colour blindness and in
// grey: orange and yellow after Okabe and Ito's palette (from memory), grey.
var fills = map[export.Level]string{
	export.Muted:   "E7E7E7",
	export.Caution: "FBF2B4",
	export.Alarm:   "F7CDB1",
}

// styles makes each style once.
type styles struct {
	file *excelize.File
	ids  map[look]int
}

func newStyles(file *excelize.File) *styles { return &styles{file: file, ids: map[look]int{}} }

func (s *styles) id(l look) (int, error) {
	if id, ok := s.ids[l]; ok {
		return id, nil
	}
	id, err := s.file.NewStyle(l.style())
	if err == nil {
		s.ids[l] = id
	}
	return id, err
}

// fontName is common on all systems, or is substituted with the same widths.
const fontName = "Calibri"

func (l look) style() *excelize.Style {
	style := &excelize.Style{
		Font:      &excelize.Font{Family: fontName, Size: 10},
		Alignment: &excelize.Alignment{Vertical: "center", WrapText: l.wrap},
	}
	if l.tall {
		style.Alignment.Vertical = "top"
	}
	if l.right {
		style.Alignment.Horizontal = "right"
	}
	if l.indent {
		style.Alignment.Horizontal, style.Alignment.Indent = "left", 1
	}
	if l.format != "" {
		format := l.format
		style.CustomNumFmt = &format
	}
	if l.ruled {
		style.Border = []excelize.Border{{Type: "bottom", Color: "B8C2CA", Style: 1}}
	}
	if fill := fills[l.level]; fill != "" {
		style.Fill = solid(fill)
		style.Font.Bold = l.level == export.Alarm
	}
	switch l.role {
	case header, subheader:
		style.Font.Bold = true
		style.Fill = solid("DCE4EA")
		style.Alignment.WrapText = l.role == header
		style.Border = []excelize.Border{{Type: "bottom", Color: "5B6B78", Style: 1}}
	case banner:
		style.Font.Bold = true
		style.Fill = solid(fills[export.Alarm])
	case prose:
		style.Alignment.WrapText = true
	case title:
		style.Font = &excelize.Font{Family: fontName, Size: 18, Bold: true}
	case section:
		style.Font = &excelize.Font{Family: fontName, Size: 13, Bold: true}
		style.Border = []excelize.Border{{Type: "bottom", Color: "5B6B78", Style: 1}}
	case pen:
		for _, side := range []string{"left", "right", "top", "bottom"} {
			style.Border = append(style.Border, excelize.Border{Type: side, Color: "5B6B78", Style: 1})
		}
	case link:
		style.Font.Color = "0B5394"
		style.Font.Underline = "single"
	}
	return style
}

func solid(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

// format is the number format of a cell; the cell holds the whole value.
func format(c export.Column, cell export.Cell) string {
	switch {
	case cell.Kind == export.Date:
		return "yyyy-mm-dd"
	case cell.Kind == export.Moment:
		return "yyyy-mm-dd hh:mm:ss"
	case cell.Kind == export.Clock:
		return "hh:mm:ss"
	case cell.Kind == export.Share, c.Kind == export.Share && cell.Kind == export.Number:
		return "0%"
	case cell.Kind == export.Integer:
		return "0"
	case cell.Kind == export.Number && cell.Rounded:
		return decimals(cell.Places)
	case cell.Kind == export.Number && c.Places > 0:
		return decimals(c.Places)
	}
	return ""
}

func decimals(places int) string {
	if places == 0 {
		return "0"
	}
	return "0." + strings.Repeat("0", places)
}
