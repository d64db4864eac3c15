package demo

import (
	"bytes"
	"math"
	"testing"

	"github.com/suyashkumar/dicom"
	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest"
	"leadline/ingest/coord"
)

func TestPackBits(t *testing.T) {
	long := bytes.Repeat([]byte{9}, 300)
	mixed := append(append([]byte{1, 2, 3, 3, 4}, long...), 5, 5, 5, 6)
	for _, row := range [][]byte{{7}, {7, 7}, {1, 2, 3}, long, mixed, bytes.Repeat([]byte{1, 2}, 200)} {
		if got := unpackBits(packBits(nil, row)); !bytes.Equal(got, row) {
			t.Errorf("packing %d bytes came back as %d", len(row), len(got))
		}
	}
	// PS3.5 G.3.1: three equal bytes are one count of -2 and the byte.
	if got := packBits(nil, []byte{8, 8, 8}); !bytes.Equal(got, []byte{0xFE, 8}) {
		t.Errorf("three equal bytes are packed as % x", got)
	}
}

// unpackBits follows PS3.5 G.3.2.
func unpackBits(packed []byte) []byte {
	var row []byte
	for i := 0; i < len(packed); {
		n := int8(packed[i])
		switch {
		case n >= 0:
			row = append(row, packed[i+1:i+2+int(n)]...)
			i += 2 + int(n)
		case n > -128:
			row = append(row, bytes.Repeat(packed[i+1:i+2], 1-int(n))...)
			i += 2
		default:
			i++
		}
	}
	return row
}

func TestRegionMapsBothWays(t *testing.T) {
	picture := region2D(2, 14, 317, 237, 7, 1.1, dataTissue)
	spectrum := regionSpectral(2, 100, 300, 230, 2, -60, 200, dataPW)
	for _, r := range []region{picture, spectrum} {
		p := r.at(1.25, 3.5)
		x, y := r.physical(p)
		if math.Abs(x-1.25) > 1e-12 || math.Abs(y-3.5) > 1e-12 {
			t.Errorf("(1.25, 3.5) came back as (%v, %v)", x, y)
		}
	}
	// The reference pixel's centre holds the reference value, here 0 (C.8.5.5.1.16).
	if x, y := picture.physical(centre(2+157, 14)); x != 0 || y != 0 {
		t.Errorf("the reference pixel lies at (%v, %v)", x, y)
	}
	if spectrum.deltaY >= 0 {
		t.Error("velocity must grow upwards")
	}
}

// TestValues has the arithmetic of the device worked by hand. The region has
// 0.06 mm/px across and 0.09 mm/px down (the anisotropic example of the check
// values): 108 px and 81 px make √(6.48² + 7.29²) = 9.7536 mm.
func TestValues(t *testing.T) {
	r := region{format: ingest.Format2D, deltaX: 0.006, deltaY: 0.009, ref: &[2]int{0, 0}}
	line := mark{geometry: ingest.GeometryLine, points: []coord.Point{{X: 210, Y: 140}, {X: 318, Y: 221}}}
	square := mark{geometry: ingest.GeometryPolygon, points: []coord.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 50}, {X: 0, Y: 50}}}
	ellipse := mark{geometry: ingest.GeometryEllipse, points: []coord.Point{{X: 0, Y: 50}, {X: 100, Y: 50}, {X: 50, Y: 20}, {X: 50, Y: 80}}}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"distance", r.lengthMM(line), math.Sqrt(6.48*6.48 + 7.29*7.29)},
		{"polygon: 6 mm x 4.5 mm", r.areaOf(square), 27},
		{"ellipse: pi/4 x 6 mm x 5.4 mm", r.areaOf(ellipse), math.Pi / 4 * 6 * 5.4},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
}

// TestRulerStandsOnCentimetres reads the ruler off the drawn pixels.
func TestRulerStandsOnCentimetres(t *testing.T) {
	l := lens{columns: 320, rows: 240, depthCM: 6, aspect: 1, probe: phased, frames: 1, rate: 2, seed: 1}
	p := picture2D(l, scene{}, nil)
	r := p.regions[0]
	var rows []int
	for y := r.y0; y <= r.y1; y++ {
		if p.frames[0].samples(false)[y*p.columns+r.x1] > 200 {
			rows = append(rows, y)
		}
	}
	if len(rows) != 7 {
		t.Fatalf("ticks on the rows %v, want 7 from 0 to 6 cm", rows)
	}
	for cm, row := range rows {
		if _, y := r.physical(centre(r.x1, row)); math.Abs(y-float64(cm)) > 1e-9 {
			t.Errorf("the tick of %d cm stands at %v cm", cm, y)
		}
	}
}

// TestDeflateKeepsTheDataSet reads a deflated file back with the library, which can
// read what it does not write.
func TestDeflateKeepsTheDataSet(t *testing.T) {
	d := &dataSet{}
	d.text(tag.SOPClassUID, enhancedSR)
	d.text(tag.StudyDescription, "squeezed")
	content, err := encode(d, enhancedSR, hashUID("x"), deflatedLE)
	if err != nil {
		t.Fatal(err)
	}
	back, err := dicom.Parse(bytes.NewReader(content), int64(len(content)), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := back.FindElementByTag(tag.StudyDescription)
	if err != nil || dicom.MustGetStrings(e.Value)[0] != "squeezed" {
		t.Errorf("the description came back as %v (%v)", e, err)
	}
}

func TestHashUID(t *testing.T) {
	a, b := hashUID("a"), hashUID("b")
	if a == b || a != hashUID("a") || len(a) > 64 || a[:5] != "2.25." {
		t.Errorf("%s and %s", a, b)
	}
}

func TestDecimalString(t *testing.T) {
	for v, want := range map[float64]string{0.4: "0.4", 66.667: "66.667", 1.0 / 3: "0.333333333333", 3210: "3210"} {
		if got := decimalString(v); got != want {
			t.Errorf("%v is written %q, want %q", v, got, want)
		}
	}
}
