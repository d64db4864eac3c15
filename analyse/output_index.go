package analyse

import "leadline/ingest"

// Bounds beyond which an output index is no reading of the display standard: twice what
// a device may put out in the market of the United States (MI 1.9; a thermal index above
// 6 needs a reason; FDA 2019, both from memory), in whole numbers. Between the two an
// index may be true, and stands.
const (
	MostMechanicalIndex = 4
	MostThermalIndex    = 12
)

// OutputIndex is one output index as a header gives it; it has no unit.
type OutputIndex struct {
	// Name is that of the index, with the place of its kind where the header names one.
	Name  ingest.AcousticIndex
	Value float64
}

// OutputIndices are those that the header of an image gives, each under its own name.
func (i *Image) OutputIndices() []OutputIndex {
	a := &i.Instance.Image.Acoustic
	var given []OutputIndex
	for _, x := range []struct {
		name  ingest.AcousticIndex
		value ingest.Optional[float64]
	}{
		{ingest.IndexMI, a.Mechanical}, {ingest.IndexTIB, a.Bone}, {ingest.IndexTIC, a.Cranial}, {ingest.IndexTIS, a.SoftTissue},
		{ingest.IndexTIS + " at the focus", a.SoftTissueFocus}, {ingest.IndexTIS + " at the surface", a.SoftTissueSurface},
	} {
		if v, ok := x.value.Get(); ok {
			given = append(given, OutputIndex{x.name, v})
		}
	}
	return given
}

// Absurd tells that a value is no reading of its index.
func (x OutputIndex) Absurd() bool { return x.Value < 0 || x.Value > x.Most() }

// Most is the largest value that may be one.
func (x OutputIndex) Most() float64 {
	if x.Name == ingest.IndexMI {
		return MostMechanicalIndex
	}
	return MostThermalIndex
}
