package survive

import (
	"archive/zip"
	"bytes"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// swamp is one hostile file and the row it must have: its outcome, and a reason
// that says what it is. Members are the rows of a container's files, if it is one.
type swamp struct {
	name    string
	build   builder
	outcome string
	reason  string // a regular expression of the whole reason
	members []fileRow
}

// seed is a hostile file of the repository.
func seed(name, outcome, reason string) swamp {
	return swamp{name: name, outcome: outcome, reason: reason, build: func(w io.Writer) error {
		content, err := os.ReadFile(filepath.Join(hostileDir, name))
		if err != nil {
			return err
		}
		_, err = w.Write(content)
		return err
	}}
}

const (
	cannot   = `the header cannot be read: `
	notDICOM = `not a DICOM file: `
	tooDeep  = cannot + `offset \d+: more than 64 levels of nested sequences`
	tooMany  = cannot + `offset \d+: more than 250000 wanted elements and items`
	tooLong  = cannot + `element \([0-9A-F]{4},[0-9A-F]{4}\) at offset \d+: expected a value of at most \d+ bytes \(that is all there is\), and the length says \d+`
	tooLarge = cannot + `offset \d+: more than 16777216 bytes of wanted values`
	noClass  = `no SOP Class UID \(0008,0016\): what the object is cannot be told`
	inflates = cannot + `offset \d+: more than 33554432 bytes of a compressed header`
)

// mustSurvive is the list of the issue, item by item, each with the files that
// stand for it. "Strings of every wrong kind in every numeric field" are held in
// ingest/numbers_test.go, every file of testdata/hostile also in TestHostileSeeds.
var mustSurvive = []struct {
	item  string
	cases []swamp
}{
	{"160 kB of 8,000 nested, cut-off sequences", []swamp{
		{name: "wanted", build: nested(8_000, tagContent), outcome: "unreadable", reason: tooDeep},
		{name: "private", build: nested(8_000, tagPrivate), outcome: "unreadable", reason: tooDeep},
		seed("D3-nested-truncated-0004000.dcm", "unreadable", tooDeep),
	}},
	{"1 million and 5 million nested sequences (100 MB)", []swamp{
		{name: "1-million", build: nested(1_000_000, tagContent), outcome: "unreadable", reason: tooDeep},
		{name: "5-million", build: nested(5_000_000, tagContent), outcome: "unreadable", reason: tooDeep},
		{name: "5-million-private", build: nested(5_000_000, tagPrivate), outcome: "unreadable", reason: tooDeep},
	}},
	{"0.5 MB of deflated backslashes", []swamp{
		{name: "deflated", build: backslashes(deflatedLittle, 120<<20), outcome: "unreadable", reason: cannot + `.*more than \d+ bytes of .*`},
		{name: "within-limits-deflated", build: backslashes(deflatedLittle, 15<<20), outcome: "image", reason: `read; elements that could not be read as the standard wants: 1`},
		{name: "within-limits", build: backslashes(explicitLittle, 15<<20), outcome: "image", reason: `read; elements that could not be read as the standard wants: 1`},
	}},
	{"212 deflated bytes that allocate 16 GiB", []swamp{
		seed("F04-deflate-FD-VL-FFFF.dcm", "unreadable", cannot+`.*`),
	}},
	{"400 bytes of garbage fragments", []swamp{
		seed("G13-encaps-garbage-tags-log-flood-400B.dcm", "unreadable", noClass),
		seed("D10-OB-undefined-length-non-pixel-garbage-400B.dcm", "unreadable", tooLong),
	}},
	{"an empty transfer syntax, an unknown one", []swamp{
		{name: "empty", build: file("", image), outcome: "image", reason: `read; no transfer syntax is declared, the encoding was judged from the bytes`},
		{name: "unknown", build: file("1.2.3.4.5", image), outcome: "image", reason: `read; the transfer syntax is unknown, the encoding was judged from the bytes`},
		seed("A09-TS-VL0.dcm", "unreadable", noClass),
	}},
	{"ISO 2022 IR 166", []swamp{
		{name: "thai", build: file(explicitLittle, thai(5)), outcome: "image", reason: ``},
		{name: "a-megabyte", build: file(explicitLittle, thai(1<<20-3)), outcome: "image", reason: ``},
		{name: "fifteen-megabytes", build: file(explicitLittle, thai(15<<20)), outcome: "image", reason: `read; elements that could not be read as the standard wants: 1`},
	}},
	{"two kilobytes of plain text", []swamp{
		{name: "text", build: plain(bytes.Repeat([]byte("Left ventricle, 18.2 mm\n"), 90)), outcome: "not-dicom", reason: notDICOM + `plain text`},
	}},
	{"2^31 frames of no rows; 65535 x 65535", []swamp{
		seed("G03-frames-2^31-rows0-VL0.dcm", "unreadable", noClass),
		seed("G07-65535x65535-product-wraps-32bit.dcm", "unreadable", noClass),
		{name: "frames", build: file(explicitLittle, manyFrames), outcome: "image", reason: ``},
	}},
	{"187 bytes that claim a value of 4 GiB", claims()},
	{"a deflate bomb, 1 MB of 1 GiB", []swamp{
		{name: "wanted", build: bomb(tagTextValue), outcome: "unreadable", reason: cannot + `.*more than \d+ bytes of .*`},
		{name: "unwanted", build: bomb(tagPrivate), outcome: "unreadable", reason: inflates},
	}},
	{"an empty group length", []swamp{
		{name: "meta", build: emptyGroupLength, outcome: "image", reason: ``},
	}},
	{"a sequence that holds an element that is no item", []swamp{
		seed("D02-undefinedSQ-holds-plain-element.dcm", "unreadable", cannot+`element .* expected an item of sequence .*`),
		{name: "defined", build: file(explicitLittle, noItem(34)), outcome: "image", reason: `read; elements that could not be read as the standard wants: 1`},
		{name: "open", build: file(explicitLittle, noItem(undefined)), outcome: "unreadable", reason: cannot + `element .* expected an item of sequence \(0018,6011\)`},
	}},
	{"items of undefined length that are never closed", []swamp{
		{name: "one", build: unclosed(1), outcome: "unreadable", reason: cannot + `offset \d+: expected an element header, and the bytes end before it is whole`},
		{name: "siblings", build: unclosed(1_000_000), outcome: "unreadable", reason: cannot + `element \(FFFE,E000\) at offset \d+: expected an element inside the item`},
	}},
	{"zero-filled and random files", []swamp{
		{name: "zeros", build: func(w io.Writer) error { _, err := w.Write(make([]byte, 4<<20)); return err }, outcome: "not-dicom", reason: notDICOM + `.*`},
		{name: "zeros-behind-the-mark", build: file(explicitLittle, func(d *dicom) { d.fill(0, 4<<20) }), outcome: "unreadable", reason: noClass},
		{name: "random", build: noise(nil), outcome: "not-dicom", reason: notDICOM + `.*`},
		{name: "random-behind-the-mark", build: file(explicitLittle, func(d *dicom) { _ = noise(nil)(d.w) }), outcome: "unreadable", reason: cannot + `.*`},
		{name: "random-behind-an-image", build: file(explicitLittle, func(d *dicom) { d.identity(ultrasound); _ = noise(nil)(d.w) }), outcome: "unreadable", reason: cannot + `.*`},
	}},
	{"a zip bomb", []swamp{
		{name: "bomb.zip", build: zipBomb, outcome: "not-dicom", reason: `a ZIP archive, read in place; files in it: 2`, members: []fileRow{
			{path: "bomb.zip!/bomb.dcm", outcome: "unreadable", reason: inflates},
			{path: "bomb.zip!/zeros", outcome: "not-dicom", reason: notDICOM + `.*`},
		}},
	}},
	{"100,000 regions in one file", []swamp{
		{name: "one-element-each", build: regions(100_000, 1), outcome: "image", reason: `read; elements that could not be read as the standard wants: 1`},
		{name: "seven-elements-each", build: regions(100_000, 7), outcome: "unreadable", reason: tooMany},
		{name: "empty", build: regions(1_000_000, 0), outcome: "unreadable", reason: tooMany},
	}},
	{"a report tree 10,000 deep", []swamp{
		{name: "closed", build: deepTree, outcome: "unreadable", reason: tooDeep},
	}},
	{"a report that refers to itself by reference", []swamp{
		{name: "itself", build: selfReference(1, 1), outcome: "report", reason: `.*`},
		{name: "root", build: selfReference(1), outcome: "report", reason: `.*`},
		{name: "each-other", build: file(explicitLittle, eachOther), outcome: "report", reason: `.*`},
	}},
	{"a report with a million children", []swamp{
		{name: "a-million", build: children(1_000_000), outcome: "unreadable", reason: tooMany},
		{name: "a-million-empty", build: emptyChildren(1_000_000), outcome: "unreadable", reason: tooMany},
		{name: "within-limits", build: children(60_000), outcome: "report", reason: ``},
	}},
	{"graphic data with 10 million points", []swamp{
		{name: "10-million", build: points(10_000_000), outcome: "unreadable", reason: tooLarge},
		{name: "2-million", build: points(2_000_000), outcome: "report", reason: `.*`},
		{name: "900-thousand", build: points(900_000), outcome: "report", reason: ``},
		{name: "shared-by-20-thousand-numbers", build: sharedPoints(20_000, 900_000), outcome: "report", reason: ``},
	}},
}

// TestMustSurvive runs the program on each file of the list beside a good one.
func TestMustSurvive(t *testing.T) {
	cases := 0
	for _, group := range mustSurvive {
		for _, c := range group.cases {
			cases++
			t.Run(group.item+"/"+c.name, func(t *testing.T) {
				t.Parallel()
				c.run(t)
			})
		}
	}
	if cases < 50 {
		t.Errorf("only %d cases", cases)
	}
}

func (c swamp) run(t *testing.T) {
	dir := t.TempDir()
	beside(t, dir)
	create(t, filepath.Join(dir, c.name), c.build)
	got := audit(t, dir)
	t.Logf("%d MiB at the peak", got.memory>>20)
	want := append([]fileRow{{path: c.name, outcome: c.outcome, reason: c.reason}}, c.members...)
	if len(got.files) != len(want)+1 {
		t.Fatalf("%d rows for %d files", len(got.files), len(want)+1)
	}
	for i, w := range want {
		if g := got.files[i]; g.path != w.path || g.outcome != w.outcome || !regexp.MustCompile(`^(?:`+w.reason+`)$`).MatchString(g.reason) {
			t.Errorf("%s is %s: %s\nwanted %s: %s", g.path, g.outcome, g.reason, w.outcome, w.reason)
		}
	}
	got.goodIsRead(t)
}

// TestHostileSeeds runs the program on every small hostile file beside a good one.
// What each is judged to be stands in a golden table of ingest.
func TestHostileSeeds(t *testing.T) {
	names, err := filepath.Glob(hostileDir + "/*")
	if err != nil || len(names) < 50 {
		t.Fatalf("%d hostile files (%v)", len(names), err)
	}
	for _, path := range names {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			beside(t, dir)
			create(t, filepath.Join(dir, "hostile"), seed(filepath.Base(path), "", "").build)
			got := audit(t, dir)
			if len(got.files) != 2 || got.files[0].outcome == "" || strings.Contains(got.files[0].reason, "unexpected fault") {
				t.Errorf("rows %+v", got.files)
			}
			got.goodIsRead(t)
		})
	}
}

func image(d *dicom) {
	d.identity(ultrasound)
	d.picture()
}

func nested(levels int, tag uint32) builder {
	return file(explicitLittle, func(d *dicom) {
		d.identity(ultrasound)
		d.repeat(levels, func(d *dicom) { d.open(tag); d.item() })
	})
}

// backslashes makes as many empty values of Image Type, in a VR whose length allows it.
func backslashes(syntax string, n int) builder {
	return file(syntax, func(d *dicom) {
		d.identity(ultrasound)
		d.head(tagImageType, "UT", uint32(n))
		d.fill('\\', n)
		d.picture()
	})
}

// thai is an image whose Study Description has n letters of TIS 620, reached by an
// escape.
func thai(n int) func(*dicom) {
	return func(d *dicom) {
		d.text(tagCharacterSet, "CS", `\ISO 2022 IR 166`)
		d.identity(ultrasound)
		d.head(0x00081030, "UT", uint32(3+n))
		d.w.WriteString("\x1B-T")
		d.fill(0xCB, n)
		d.picture()
	}
}

func manyFrames(d *dicom) {
	d.identity(ultrasound)
	d.text(0x00280008, "IS", "2147483647")
	d.us(tagRows, 65535)
	d.us(tagColumns, 65535)
	d.head(tagPixels, "OB", 0)
}

// claims are files of 187 bytes whose one element claims nearly 4 GiB.
func claims() []swamp {
	var list []swamp
	for _, syntax := range []string{explicitLittle, implicitLittle} {
		for vr, tag := range map[string]uint32{"UT": tagTextValue, "UN": tagPrivate, "OB": 0x00420011, "OW": 0x00281201, "SQ": tagContent} {
			list = append(list, swamp{
				name: vr + "-" + syntax, outcome: "unreadable", reason: tooLong,
				build: func(w io.Writer) error {
					var b bytes.Buffer
					err := file(syntax, func(d *dicom) {
						d.text(0x00080000+tagSOPClass&0xFF, "UI", "1")
						d.head(tag, vr, 0xFFFFFFFE)
					})(&b)
					if err != nil {
						return err
					}
					b.Write(make([]byte, 187-b.Len()))
					_, err = w.Write(b.Bytes())
					return err
				},
			})
		}
	}
	return list
}

// bomb is a gigabyte of zeros in one element.
func bomb(tag uint32) builder {
	return func(w io.Writer) error {
		head := piece(false, func(d *dicom) { d.meta(deflatedLittle) })
		before := piece(false, func(d *dicom) { d.identity(ultrasound); d.head(tag, "UT", 1<<30) })
		_, err := w.Write(slices.Concat(head, squeezed(before), mebibytes(1<<10), squeezed(piece(false, (*dicom).picture)), endOfDeflate))
		return err
	}
}

func emptyGroupLength(w io.Writer) error {
	var b bytes.Buffer
	if err := file(explicitLittle, image)(&b); err != nil {
		return err
	}
	empty := piece(false, func(d *dicom) { d.head(0x00020000, "UL", 0) })
	_, err := w.Write(bytes.Join([][]byte{b.Bytes()[:132], b.Bytes()[132:]}, empty))
	return err
}

// noItem writes a sequence of regions whose first element is none of its items.
func noItem(length uint32) func(*dicom) {
	return func(d *dicom) {
		d.identity(ultrasound)
		d.head(tagRegions, "SQ", length)
		d.us(tagRegionFormat, 1)
		d.us(tagRegionFormat, 1)
		d.text(tagPrivate, "LO", "some text.")
		if length != undefined {
			d.picture()
		}
	}
}

func unclosed(n int) builder {
	return file(explicitLittle, func(d *dicom) {
		d.identity(ultrasound)
		d.open(tagRegions)
		d.repeat(n, func(d *dicom) { d.item(); d.us(tagRegionFormat, 1) })
	})
}

func noise(prefix []byte) builder {
	return func(w io.Writer) error {
		source := rand.NewChaCha8([32]byte{1})
		if _, err := w.Write(prefix); err != nil {
			return err
		}
		_, err := io.CopyN(w, source, 4<<20)
		return err
	}
}

// zipBomb holds an image with a gigabyte of private zeros before its size, and a
// gigabyte of zeros alone.
func zipBomb(w io.Writer) error {
	z := zip.NewWriter(w)
	before := piece(false, func(d *dicom) {
		d.meta(explicitLittle)
		d.identity(ultrasound)
		d.head(tagPrivate, "UN", 1<<30)
	})
	for _, m := range []struct {
		name          string
		before, after []byte
	}{{"bomb.dcm", before, piece(false, (*dicom).picture)}, {"zeros", nil, nil}} {
		squashed := slices.Concat(squeezed(m.before), mebibytes(1<<10), squeezed(m.after), endOfDeflate)
		f, err := z.CreateRaw(&zip.FileHeader{
			Name: m.name, Method: zip.Deflate, CompressedSize64: uint64(len(squashed)),
			UncompressedSize64: uint64(len(m.before) + 1<<30 + len(m.after)),
		})
		if err != nil {
			return err
		}
		if _, err := f.Write(squashed); err != nil {
			return err
		}
	}
	return z.Close()
}

func regions(n, elements int) builder {
	return file(explicitLittle, func(d *dicom) {
		d.identity(ultrasound)
		d.open(tagRegions)
		d.repeat(n, func(d *dicom) {
			d.item()
			for i := range elements {
				d.us(tagRegionFormat+2*uint32(i), 1)
			}
			d.endItem()
		})
		d.endSequence()
		d.picture()
	})
}

// content begins a content item: its relationship and value type.
func (d *dicom) content(kind string) {
	d.item()
	d.text(tagRelationship, "CS", "CONTAINS")
	d.text(tagValueType, "CS", kind)
}

func deepTree(w io.Writer) error {
	return file(explicitLittle, func(d *dicom) {
		d.identity(textReport)
		d.text(tagValueType, "CS", "CONTAINER")
		d.repeat(10_000, func(d *dicom) { d.open(tagContent); d.content("CONTAINER") })
		d.repeat(10_000, func(d *dicom) { d.endItem(); d.endSequence() })
	})(w)
}

// selfReference is a report whose one item refers to a path of the tree.
func selfReference(path ...uint32) builder {
	return file(explicitLittle, func(d *dicom) {
		d.identity(textReport)
		d.text(tagValueType, "CS", "CONTAINER")
		d.open(tagContent)
		d.reference(path...)
		d.endSequence()
	})
}

// eachOther is a report of two items that refer to one another.
func eachOther(d *dicom) {
	d.identity(textReport)
	d.text(tagValueType, "CS", "CONTAINER")
	d.open(tagContent)
	d.reference(1, 2)
	d.reference(1, 1)
	d.endSequence()
}

func (d *dicom) reference(path ...uint32) {
	d.item()
	d.text(tagRelationship, "CS", "INFERRED FROM")
	d.head(tagReferencedItem, "UL", uint32(4*len(path)))
	for _, ordinal := range path {
		d.u32(ordinal)
	}
	d.endItem()
}

func children(n int) builder {
	return file(explicitLittle, func(d *dicom) {
		d.identity(textReport)
		d.text(tagValueType, "CS", "CONTAINER")
		d.open(tagContent)
		d.repeat(n, func(d *dicom) { d.content("CONTAINER"); d.endItem() })
		d.endSequence()
	})
}

func emptyChildren(n int) builder {
	return file(explicitLittle, func(d *dicom) {
		d.identity(textReport)
		d.text(tagValueType, "CS", "CONTAINER")
		d.open(tagContent)
		d.repeat(n, func(d *dicom) { d.head(tagItem, "", 0) })
		d.endSequence()
	})
}

// points is a report with one length whose polyline has n points on an image that
// is not there. In implicit little endian, since FL has a short length otherwise.
func points(n int) builder { return sharedPoints(0, n) }

// sharedPoints is such a report with more lengths, which refer to the same polyline.
func sharedPoints(more, n int) builder {
	return file(implicitLittle, func(d *dicom) {
		d.identity(textReport)
		d.text(tagValueType, "CS", "CONTAINER")
		d.open(tagContent)
		d.length(func() { d.polyline(n) })
		d.repeat(more, func(d *dicom) {
			d.length(func() { d.reference(1, 1, 1) })
		})
		d.endSequence()
	})
}

// length is a NUM item with what hangs under it.
func (d *dicom) length(under func()) {
	d.content("NUM")
	d.open(tagMeasuredValue)
	d.item()
	d.text(tagNumericValue, "DS", "12.5")
	d.endItem()
	d.endSequence()
	d.open(tagContent)
	under()
	d.endSequence()
	d.endItem()
}

func (d *dicom) polyline(n int) {
	const block = 640
	d.content("SCOORD")
	d.text(tagGraphicType, "CS", "POLYLINE")
	d.head(tagGraphicData, "FL", uint32(8*(n/block*block)))
	d.repeat(n/block, func(d *dicom) {
		for i := range block {
			d.floats(float32(i), float32(i%480))
		}
	})
	d.open(tagContent)
	d.content("IMAGE")
	d.open(tagReferencedSOPs)
	d.item()
	d.text(tagReferencedClass, "UI", ultrasound)
	d.text(tagReferencedUID, "UI", "2.25.7002")
	d.endItem()
	d.endSequence()
	d.endItem()
	d.endSequence()
	d.endItem()
}
