package workbook

import (
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"leadline/export/deid"
)

// caution stands at the foot of every printed page.
const caution = "Quality and research tool. Not a medical device, not for diagnosis: local policy and the licensed clinician decide."

// bannerText stands above every table that holds patient data.
const bannerText = "Contains patient names, ids and birth dates, and names of staff (identity full)."

const paperA4 = 9

// Landscape A4 and its margins, in points.
const (
	paperLong, paperShort = 841.9, 595.3
	marginSide, marginTop = 0.4 * pointsPerInch, 0.7 * pointsPerInch
	pointsPerInch         = 72
)

// pageSetup prints a sheet on landscape pages as wide as it is, with the caution
// on each. It must come before the sheet is streamed.
func (w *writer) pageSetup(file *excelize.File, name string) error {
	yes, size, landscape, wide, tall, row := true, paperA4, "landscape", 1, 0, rowHeight(1)
	if err := file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &yes, DefaultRowHeight: &row, CustomHeight: &yes}); err != nil {
		return err
	}
	if err := file.SetPageLayout(name, &excelize.PageLayoutOptions{Size: &size, Orientation: &landscape, FitToWidth: &wide, FitToHeight: &tall}); err != nil {
		return err
	}
	side, top := marginSide/pointsPerInch, marginTop/pointsPerInch
	if err := file.SetPageMargins(name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &top}); err != nil {
		return err
	}
	identity := "Identity " + string(w.book.Identity)
	if w.book.Identity == deid.Full {
		identity = "CONTAINS PATIENT DATA"
	}
	return file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{
		OddHeader: "&L&9Leadline: " + strings.ReplaceAll(name, "&", "&&") + "&R&9" + identity,
		OddFooter: "&L&8" + caution + "&R&8Page &P of &N",
	})
}

// lineHeight is the height of one line of text, in points.
const lineHeight = 13.5

// mostHeight is the greatest height of a row in the format, in points.
const mostHeight = excelize.MaxRowHeight

// rowHeight is the height of a row of so many lines, in points.
func rowHeight(lines int) float64 { return min(lineHeight*float64(lines)+1.5, mostHeight) }

// narrower is how much narrower a letter of running text is, in the size we use,
// than the digits that a width counts; found by looking at pages in a wide font.
const narrower = 1.2

// linesOf estimates how many lines a text takes in so many characters' width.
// Neither format nor stream tell: row heights must be written with the row.
func linesOf(s string, width float64) int {
	fits, lines := max(1, int(width*narrower)), 0
	for _, paragraph := range strings.Split(s, "\n") {
		lines += wrapped(paragraph, fits)
	}
	return lines
}

// wrapped is how many lines of so many letters hold the words of a paragraph. A word
// that is longer than a line is cut.
func wrapped(paragraph string, fits int) int {
	lines, used := 1, 0
	for _, word := range strings.Fields(paragraph) {
		n := utf8.RuneCountInString(word)
		if used > 0 && used+1+n > fits {
			lines, used = lines+1, 0
		}
		if used > 0 {
			used++
		}
		used += n
		lines, used = lines+(used-1)/fits, (used-1)%fits+1
	}
	return lines
}
