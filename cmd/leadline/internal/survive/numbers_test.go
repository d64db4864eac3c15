package survive

import (
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const (
	grayscaleState = "1.2.840.10008.5.1.4.1.1.11.1"
	tagsSource     = "../../../../ingest/dcm/tags.go"
)

// numericTags lists the elements of numbers that the program reads, from the source
// that lists them.
func numericTags(t *testing.T) []uint32 {
	t.Helper()
	source, err := os.ReadFile(tagsSource)
	must(t, err)
	byName := map[string]uint32{}
	for _, m := range regexp.MustCompile(`(?m)^\t(\w+) +Tag = 0x([0-9A-F]{8})$`).FindAllStringSubmatch(string(source), -1) {
		tag, err := strconv.ParseUint(m[2], 16, 32)
		must(t, err)
		byName[m[1]] = uint32(tag)
	}
	var tags []uint32
	for _, m := range regexp.MustCompile(`(?m)^\t(\w+): +vr(DS|IS|US|SS|UL|SL|FL|FD),$`).FindAllStringSubmatch(string(source), -1) {
		tags = append(tags, byName[m[1]])
	}
	if slices.Sort(tags); len(tags) < 90 || tags[0] == 0 {
		t.Fatalf("%d numeric elements in %s", len(tags), tagsSource)
	}
	return tags
}

// odd is a value of a numeric element that is wrong, or at the edge of what a number
// can be, so that what is computed from it may overflow.
type odd struct{ vr, value string }

func double(v float64) odd {
	return odd{"FD", string(binary.LittleEndian.AppendUint64(nil, math.Float64bits(v)))}
}

var oddNumbers = []odd{
	{"DS", "abc "}, {"IS", "1 2 "}, {"DS", "NaN "}, {"DS", "Inf "}, {"DS", "1e400 "}, {"DS", "1,5 "}, {"DS", `\\`}, {"DS", ""},
	{"DS", "0 "}, {"DS", "-0"}, {"IS", "-1"}, {"IS", "2147483647"}, {"IS", "9007199254740992"},
	{"DS", "1.7976931348623157e308"}, {"DS", "-1.7976931348623157e308 "}, {"DS", "5e-324"}, {"DS", "1e-300"},
	{"DS", `1e308\1e308\1e308\1e308\1e308\1e308`}, {"US", "\x01\x00\x02"},
	double(math.NaN()), double(math.Inf(1)), double(math.Inf(-1)), double(math.MaxFloat64), double(-math.MaxFloat64), double(math.SmallestNonzeroFloat64),
}

// specimen is a study of an image, a report and a presentation state that measure on
// it, with one element put before the others of every data set and item.
type specimen struct {
	number int
	tag    uint32
	odd    odd
}

func (s specimen) uid(object int) string { return fmt.Sprintf("2.25.%d%d", 8000+object, s.number) }

func (s specimen) begin(d *dicom, class string, object int) {
	d.text(tagSOPClass, "UI", class)
	d.text(tagSOPInstance, "UI", s.uid(object))
	d.text(tagStudy, "UI", s.uid(0))
	s.put(d)
}

func (s specimen) put(d *dicom) {
	d.head(s.tag, s.odd.vr, uint32(len(s.odd.value)))
	d.w.WriteString(s.odd.value)
}

func (s specimen) item(d *dicom) { d.item(); s.put(d) }

func (s specimen) image(d *dicom) {
	s.begin(d, ultrasound, 1)
	d.text(0x00181063, "DS", "20") // Frame Time
	d.open(tagRegions)
	for _, r := range []struct{ format, left, unit uint16 }{{1, 0, 3}, {3, 320, 7}} {
		s.item(d)
		d.us(tagRegionFormat, r.format)
		for i, bound := range []uint16{r.left, 0, r.left + 319, 479} {
			d.head(0x00186018+2*uint32(i), "UL", 4)
			d.u32(uint32(bound))
		}
		d.head(0x00186020, "SL", 4) // Reference Pixel X0 and Y0
		d.u32(10)
		d.head(0x00186022, "SL", 4)
		d.u32(240)
		d.us(0x00186024, map[uint16]uint16{3: 3, 7: 4}[r.unit]) // Physical Units X and Y Direction
		d.us(0x00186026, r.unit)
		for i, v := range []float64{0, 0, 0.01, -0.5} {
			d.head(0x00186028+2*uint32(i), "FD", 8)
			d.w.WriteString(double(v).value)
		}
		d.endItem()
	}
	d.endSequence()
	d.text(0x00280008, "IS", "10") // Number of Frames
	d.us(tagRows, 480)
	d.us(tagColumns, 640)
	d.head(tagPixels, "OB", 0)
}

// report holds a length, an area and a point in the spectrum.
func (s specimen) report(d *dicom) {
	s.begin(d, textReport, 2)
	d.text(tagValueType, "CS", "CONTAINER")
	d.open(tagContent)
	for _, m := range []struct {
		value, unit, graphic string
		points               []float32
	}{
		{"10", "mm", "POLYLINE", []float32{100, 100, 200, 100}},
		{"2500", "mm2", "POLYLINE", []float32{100, 100, 200, 100, 200, 200, 100, 100}},
		{"70.25", "cm/s", "POINT", []float32{400, 100}},
		{"1571", "mm2", "ELLIPSE", []float32{100, 100, 200, 100, 150, 80, 150, 120}},
	} {
		s.item(d)
		d.text(tagRelationship, "CS", "CONTAINS")
		d.text(tagValueType, "CS", "NUM")
		d.open(tagMeasuredValue)
		s.item(d)
		d.text(tagNumericValue, "DS", m.value)
		d.open(0x004008EA) // Measurement Units Code Sequence
		d.item()
		d.text(0x00080100, "SH", m.unit)
		d.text(0x00080102, "SH", "UCUM")
		d.endItem()
		d.endSequence()
		d.endItem()
		d.endSequence()
		d.open(tagContent)
		s.item(d)
		d.text(tagRelationship, "CS", "INFERRED FROM")
		d.text(tagValueType, "CS", "SCOORD")
		d.text(tagGraphicType, "CS", m.graphic)
		d.head(tagGraphicData, "FL", uint32(4*len(m.points)))
		d.floats(m.points...)
		d.open(tagContent)
		s.item(d)
		d.text(tagRelationship, "CS", "SELECTED FROM")
		d.text(tagValueType, "CS", "IMAGE")
		s.reference(d, tagReferencedSOPs)
		for range 2 {
			d.endItem()
			d.endSequence()
		}
		d.endItem()
	}
	d.endSequence()
}

func (s specimen) reference(d *dicom, tag uint32) {
	d.open(tag)
	s.item(d)
	d.text(tagReferencedClass, "UI", ultrasound)
	d.text(tagReferencedUID, "UI", s.uid(1))
	d.endItem()
	d.endSequence()
}

// state draws a line with its length beside it.
func (s specimen) state(d *dicom) {
	s.begin(d, grayscaleState, 3)
	d.open(0x00081115) // Referenced Series Sequence
	s.item(d)
	s.reference(d, 0x00081140)
	d.endItem()
	d.endSequence()
	d.open(0x00700001) // Graphic Annotation Sequence
	s.item(d)
	s.reference(d, 0x00081140)
	d.open(0x00700008) // Text Object Sequence
	s.item(d)
	d.text(0x00700004, "CS", "PIXEL")
	d.text(0x00700006, "ST", "L 1.00 cm")
	d.head(0x00700014, "FL", 8) // Anchor Point
	d.floats(210, 100)
	d.endItem()
	d.endSequence()
	d.open(0x00700009) // Graphic Object Sequence
	s.item(d)
	d.text(0x00700005, "CS", "PIXEL")
	d.us(0x00700021, 2)
	d.head(tagGraphicData, "FL", 16)
	d.floats(100, 100, 200, 100)
	d.text(tagGraphicType, "CS", "POLYLINE")
	d.endItem()
	d.endSequence()
	d.endItem()
	d.endSequence()
}

// notFinite finds what prints when a number is not finite.
var notFinite = regexp.MustCompile(`(?i)(^|[^\pL])[-+]?(nan|inf|infinity)($|[^\pL])|∞`)

// TestNoNumberThatIsNone puts every odd number into every numeric element of images,
// reports and presentation states that measure, and wants each of the files read and
// no table to hold what is no number.
func TestNoNumberThatIsNone(t *testing.T) {
	dir := t.TempDir()
	beside(t, dir)
	studies := 0
	for _, tag := range numericTags(t) {
		for _, v := range oddNumbers {
			s := specimen{number: studies, tag: tag, odd: v}
			studies++
			for name, write := range map[string]func(*dicom){"image": s.image, "report": s.report, "presentation": s.state} {
				create(t, filepath.Join(dir, fmt.Sprintf("%08X-%04d-%s", tag, s.number, name)), file(explicitLittle, write))
			}
		}
	}
	got := audit(t, dir)
	if len(got.files) != 3*studies+1 {
		t.Errorf("%d rows for %d files", len(got.files), 3*studies+1)
	}
	for _, f := range got.files[:len(got.files)-1] {
		if !strings.HasSuffix(f.path, f.outcome) {
			t.Errorf("%s is %s: %s", f.path, f.outcome, f.reason)
		}
	}
	got.goodIsRead(t)
	tables, err := filepath.Glob(got.tables + "/*.csv")
	must(t, err)
	rebuilt := 0
	for _, table := range tables {
		for _, row := range tableRows(t, table) {
			for _, cell := range row {
				if notFinite.MatchString(cell) {
					t.Errorf("%s: %q", filepath.Base(table), row)
				}
			}
			if filepath.Base(table) == "measurements.csv" && slices.Contains(row, "agrees") {
				rebuilt++
			}
		}
	}
	// Five values are rebuilt of an untouched study.
	if len(tables) < 8 || rebuilt < 4*studies {
		t.Errorf("%d tables, %d values rebuilt in %d studies: too few to show anything", len(tables), rebuilt, studies)
	}
}

func tableRows(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	must(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	must(t, err)
	return rows
}
