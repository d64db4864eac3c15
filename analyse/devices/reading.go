package devices

import (
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// reading is the scale that one picture states: that of its tallest 2D region, or of
// Pixel Spacing where it has no region with a scale.
type reading struct {
	img   *analyse.Image
	route int
	// at is the day, zero where the picture tells none.
	at                                   time.Time
	transducer, software, exam, dataType string
	rows, columns                        int
	// box are x0, y0, x1 and y1 of the region, width and height its size in pixels.
	box           [4]int64
	width, height int
	// x and y are mm per pixel; unit is the last place, in mm, that y by itself seems to
	// be printed to, slack the relative error of y that digits and whole pixels explain.
	x, y, unit, slack float64
	// depth is the stated depth in mm, 0 where none is stated or the picture is an
	// enlarged part, which does not show all of it.
	depth float64
	// zeroKnown tells that the region says where depth 0 is, so that an enlarged part
	// would be known.
	zeroKnown bool
	// stated and enlarged say why depth is 0: nothing stated, or an enlarged part.
	stated, enlarged bool
}

// readingOf reads the scale of a picture; nil where it states none.
func readingOf(img *analyse.Image) *reading {
	r := &reading{
		img: img, transducer: img.Device.Transducer, software: img.Device.Software, exam: examOf(img),
		rows: img.Image.Rows, columns: img.Image.Columns, at: dayOf(img).T,
	}
	if region := tallest(img); region != nil {
		r.fill(region)
		return r
	}
	if spacing, ok := img.Image.Spacing.Pixel.Get(); ok && spacing[0] > 0 && spacing[1] > 0 && len(img.Regions) == 0 {
		r.y, r.x, r.dataType = spacing[0], spacing[1], "Pixel Spacing"
		r.width, r.height = r.columns, r.rows
		r.enlarged = true // whether it is cannot be told
		r.box = [4]int64{0, 0, int64(r.columns) - 1, int64(r.rows) - 1}
		r.unit = printedUnit(r.y)
		return r
	}
	return nil
}

func (r *reading) fill(region *analyse.Region) {
	raw := region.Raw
	r.box = [4]int64{int64(raw.MinX0.Value), int64(raw.MinY0.Value), int64(raw.MaxX1.Value), int64(raw.MaxY1.Value)}
	r.width, r.height = int(r.box[2]-r.box[0])+1, int(r.box[3]-r.box[1])+1
	r.x, r.y, r.dataType = region.MMPerPixelX.Value, region.MMPerPixelY.Value, region.DataType
	r.unit = 10 * printedUnit(raw.DeltaY.Value)
	r.zeroKnown = raw.RefY0.Set
	r.stated, r.enlarged = r.img.DepthMM.Value > 0, enlarged(raw)
	if r.stated && !r.enlarged {
		r.depth = r.img.DepthMM.Value
	}
}

// shown is the depth that the region shows, in mm.
func (r *reading) shown() float64 { return float64(r.height) * r.y }

// tallest is the 2D region with a finite scale both ways that shows most depth.
func tallest(img *analyse.Image) *analyse.Region {
	var best *analyse.Region
	most := 0.0
	for i := range img.Regions {
		r := &img.Regions[i]
		if r.Raw.SpatialFormat.Value != ingest.Format2D || !r.MMPerPixelX.Set || !r.MMPerPixelY.Set || !bounded(r.Raw) {
			continue
		}
		span := float64(r.Raw.MaxY1.Value-r.Raw.MinY0.Value+1) * r.MMPerPixelY.Value
		if span > most && usable(r.MMPerPixelX.Value) && usable(r.MMPerPixelY.Value) {
			best, most = r, span
		}
	}
	return best
}

// bounded tells that a region has bounds with room between them.
func bounded(r *ingest.Region) bool {
	return r.MinX0.Set && r.MinY0.Set && r.MaxX1.Set && r.MaxY1.Set &&
		r.MaxX1.Value > r.MinX0.Value && r.MaxY1.Value > r.MinY0.Value
}

// usable keeps absurd scales out of products and logarithms; the checks on one file
// speak of them.
func usable(mm float64) bool { return mm > 1e-9 && mm < 1e9 }

// enlarged tells a region that begins deeper than its skin line, counted in rows.
func enlarged(r *ingest.Region) bool {
	if !r.RefY0.Set {
		return false
	}
	// Rows from depth 0 down to the upper edge, over those of the region.
	above := -float64(r.RefY0.Value) + r.RefValueY.Value/r.DeltaY.Value
	return analyse.Enlarged(above, float64(r.MaxY1.Value-r.MinY0.Value+1))
}

// examOf is the exam as a label, else the header, names it; no element of the standard
// is meant for it alone.
func examOf(img *analyse.Image) string {
	switch s := img.Series; {
	case img.Exam != "":
		return img.Exam
	case s.ProtocolName != "":
		return s.ProtocolName
	case s.PerformedProtocol.Meaning != "":
		return s.PerformedProtocol.Meaning
	default:
		return s.BodyPart
	}
}

// dayOf is when a picture was taken, else when its study began.
func dayOf(img *analyse.Image) ingest.Stamp {
	s := img.Acquired
	if s.IsZero() {
		s = img.Study.Start
	}
	return ingest.Stamp{T: s.Reading().Truncate(24 * time.Hour)}
}
