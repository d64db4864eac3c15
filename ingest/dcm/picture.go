package dcm

import "io"

// What a picture is unpacked with, beside the wanted elements; PS3.3 C.7.6.3 and
// C.7.9. Headers are read without them, since palettes are long.
const (
	PlanarConfiguration    Tag = 0x00280006
	BitsStored             Tag = 0x00280101
	PixelRepresentation    Tag = 0x00280103
	RedPaletteDescriptor   Tag = 0x00281101
	GreenPaletteDescriptor Tag = 0x00281102
	BluePaletteDescriptor  Tag = 0x00281103
	RedPalette             Tag = 0x00281201
	GreenPalette           Tag = 0x00281202
	BluePalette            Tag = 0x00281203
	RedSegments            Tag = 0x00281221
	GreenSegments          Tag = 0x00281222
	BlueSegments           Tag = 0x00281223
	ExtendedOffsetTable    Tag = 0x7FE00001
)

// pictureVR is wantedVR for the elements of a picture. A palette descriptor is US or
// SS by Pixel Representation; its three numbers are read as US, in which the number of
// entries is never negative.
func pictureVR(t Tag) (VR, bool) {
	switch t {
	case PlanarConfiguration, BitsStored, PixelRepresentation,
		RedPaletteDescriptor, GreenPaletteDescriptor, BluePaletteDescriptor:
		return VR{'U', 'S'}, true
	case RedPalette, GreenPalette, BluePalette, RedSegments, GreenSegments, BlueSegments:
		return vrOW, true
	case ExtendedOffsetTable:
		return VR{'O', 'V'}, true
	}
	return VR{}, false
}

// Place is where the pixel data element of a file stands, in bytes from the start of
// the file.
type Place struct {
	// Offset is where the value begins, Length how long it says it is. Open tells an
	// encapsulated value, which has no length of its own.
	Offset, Length int64
	Open           bool
	// Tag is 7FE0,0010, or that of floating-point pixels; VR is OB, OW or, in implicit
	// files, none; Big tells the byte order.
	Tag Tag
	VR  VR
	Big bool
	// Inflated is set where the value lies in a deflated stream, to which Offset
	// belongs: it reads that stream on, forward only, up to the limit of a header.
	Inflated io.ReaderAt
}

// inflated reads a deflated stream in pieces, so that little of it is held.
type inflated struct{ s source }

func (f inflated) ReadAt(b []byte, off int64) (n int, err error) {
	for n < len(b) {
		piece, err := f.s.at(off+int64(n), min(len(b)-n, laterRead))
		if err != nil {
			return n, err
		}
		n += copy(b[n:], piece)
	}
	return n, nil
}

// ScanPicture reads the header as Scan does, and with it the elements that a picture
// is unpacked with. It says where the pixel data stand, of which it reads nothing;
// where there are none, place is nil. Errors are those of Scan.
func (s *Scanner) ScanPicture(r io.ReaderAt, size int64) (f *File, place *Place, err error) {
	s.picture, s.place = true, nil
	defer func() { s.picture = false }()
	f, err = s.Scan(r, size)
	return f, s.place, err
}

// placed notes where the pixel data stand.
func (s *Scanner) placed(h *header, f *frame) {
	s.place = &Place{Offset: h.value, Length: h.length, Open: h.undefined, Tag: h.tag, VR: h.vr, Big: f.enc.big}
	if s.src != source(&s.file) {
		s.place.Inflated = inflated{s.src}
	}
}

// Big tells that the values of d are big endian.
func (d *Dataset) Big() bool { return d.big }
