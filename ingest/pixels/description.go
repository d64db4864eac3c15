package pixels

import (
	"strings"

	"leadline/ingest/dcm"
)

// The compressed transfer syntaxes that are unpacked (PS3.5 A.4.1 and A.4.2).
const (
	jpegBaseline = "1.2.840.10008.1.2.4.50"
	rleLossless  = "1.2.840.10008.1.2.5"
)

// syntaxNames are other transfer syntaxes in words (PS3.6 Table A-1).
var syntaxNames = map[string]string{
	"1.2.840.10008.1.2.4.51": "JPEG extended", "1.2.840.10008.1.2.4.57": "JPEG lossless", "1.2.840.10008.1.2.4.70": "JPEG lossless",
	"1.2.840.10008.1.2.4.80": "JPEG-LS lossless", "1.2.840.10008.1.2.4.81": "JPEG-LS near-lossless",
	"1.2.840.10008.1.2.4.90": "JPEG 2000 lossless", "1.2.840.10008.1.2.4.91": "JPEG 2000",
	"1.2.840.10008.1.2.4.100": "MPEG-2", "1.2.840.10008.1.2.4.101": "MPEG-2", "1.2.840.10008.1.2.4.102": "MPEG-4",
	"1.2.840.10008.1.2.4.103": "MPEG-4", "1.2.840.10008.1.2.4.107": "HEVC", "1.2.840.10008.1.2.4.108": "HEVC",
	"1.2.840.10008.1.2.4.110": "JPEG XL lossless", "1.2.840.10008.1.2.4.111": "JPEG XL", "1.2.840.10008.1.2.4.112": "JPEG XL",
}

// description is what the image pixel module says of the frame (PS3.3 C.7.6.3).
type description struct {
	columns, rows, samples int
	// allocated is 8 or 16, stored at most that.
	allocated, stored int
	photometric       string
	planar            bool
	frames            int
	// alone tells that a fragment is a whole frame, as an extended offset table wants.
	alone   bool
	syntax  string
	place   *dcm.Place
	palette *palette
}

// describe reads the description and refuses what is not unpacked, before any of the
// pixels is read.
func describe(h *dcm.File, place *dcm.Place) (*description, error) {
	data := &h.Data
	number := func(tag dcm.Tag, absent int64) int64 {
		if v, ok := data.Int(tag).Get(); ok {
			return v
		}
		return absent
	}
	rows, columns, samples := number(dcm.Rows, 0), number(dcm.Columns, 0), number(dcm.SamplesPerPixel, 1)
	allocated := number(dcm.BitsAllocated, 0)
	stored := number(dcm.BitsStored, allocated)
	switch {
	case place == nil:
		return nil, notDecoded("no pixel data")
	case place.Tag != 0x7FE00010:
		return nil, notDecoded("floating-point pixels")
	case rows < 1 || columns < 1 || rows > maxPixels/columns:
		return nil, notDecoded("%d rows of %d columns, at most %d pixels are unpacked", rows, columns, maxPixels)
	case samples != 1 && samples != 3:
		return nil, notDecoded("samples per pixel: %d", samples)
	case allocated != 8 && allocated != 16:
		return nil, notDecoded("bits allocated: %d", allocated)
	case stored < 1 || stored > allocated:
		return nil, notDecoded("bits stored: %d of %d", stored, allocated)
	case number(dcm.PixelRepresentation, 0) != 0:
		return nil, notDecoded("signed samples")
	}
	d := &description{
		rows: int(rows), columns: int(columns), samples: int(samples), allocated: int(allocated), stored: int(stored),
		photometric: data.String(dcm.PhotometricInterpretation), planar: number(dcm.PlanarConfiguration, 0) == 1,
		frames: int(max(number(dcm.NumberOfFrames, 1), 1)), alone: data.Has(dcm.ExtendedOffsetTable),
		syntax: h.TransferSyntaxUID, place: place,
	}
	if d.photometric == "PALETTE COLOR" {
		var err error
		if d.palette, err = readPalette(data); err != nil {
			return nil, err
		}
	}
	return d, d.check()
}

// check refuses forms that do not go together or are not unpacked.
func (d *description) check() error {
	if d.place.Open {
		switch {
		case d.syntax == rleLossless:
		case d.syntax == jpegBaseline && d.allocated == 8:
		default:
			return notDecoded("%s", d.syntaxName())
		}
	} else if strings.HasPrefix(d.syntax, "1.2.840.10008.1.2.4.") || d.syntax == rleLossless {
		return notDecoded("%s without fragments", d.syntaxName())
	}
	one := d.samples == 1
	switch d.photometric {
	case "MONOCHROME1", "MONOCHROME2", "PALETTE COLOR":
		if one {
			return nil
		}
	case "RGB", "YBR_FULL":
		if !one {
			return nil
		}
	case "YBR_FULL_422":
		if !one && d.allocated == 8 && d.syntax != rleLossless {
			return nil
		}
	}
	return notDecoded("samples per pixel: %d, and not grey, RGB, YBR_FULL or palette", d.samples)
}

// syntaxName is the transfer syntax in words, by its UID where it has none here. What
// is no UID is text of the file and is not repeated.
func (d *description) syntaxName() string {
	if name := syntaxNames[d.syntax]; name != "" {
		return name
	}
	if dcm.KnownSyntax(d.syntax) && strings.Trim(d.syntax, "0123456789.") == "" && len(d.syntax) <= 64 {
		return "transfer syntax " + d.syntax
	}
	return "unknown transfer syntax"
}

// plane is the number of pixels, nativeBytes how many bytes an uncompressed frame has.
// In YBR_FULL_422 two pixels share Cb and Cr (PS3.3 C.7.6.3.1.2).
func (d *description) plane() int { return d.rows * d.columns }

func (d *description) nativeBytes() int64 {
	n := int64(d.plane()) * int64(d.samples) * int64(d.allocated/8)
	if d.photometric == "YBR_FULL_422" {
		n = 2 * int64(d.plane())
	}
	return n
}
