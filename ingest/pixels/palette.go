package pixels

import "leadline/ingest/dcm"

// palette is three tables of one length: what is below first takes the first entry,
// what is beyond the last one the last (PS3.3 C.7.6.3.1.5).
type palette struct {
	first  int
	tables [3][]byte
}

// maxEntries is as many as a descriptor can say (PS3.3 C.7.6.3.1.5): 0 stands for it.
const maxEntries = 1 << 16

// readPalette reads the palettes of a picture, cut to 8 bits.
func readPalette(d *dcm.Dataset) (*palette, error) {
	p := &palette{}
	for i, tags := range [3]channel{
		{dcm.RedPaletteDescriptor, dcm.RedPalette, dcm.RedSegments},
		{dcm.GreenPaletteDescriptor, dcm.GreenPalette, dcm.GreenSegments},
		{dcm.BluePaletteDescriptor, dcm.BluePalette, dcm.BlueSegments},
	} {
		numbers := d.Ints(tags.descriptor)
		if len(numbers) != 3 {
			return nil, notDecoded("a palette without its descriptor")
		}
		entries, bits := numbers[0], numbers[2]
		if entries == 0 {
			entries = maxEntries
		}
		if entries < 1 || entries > maxEntries {
			return nil, notDecoded("a palette of %d entries", entries)
		}
		table, ok := tags.read(d, entries, bits)
		if !ok {
			return nil, notDecoded("a palette of %d entries of %d bits that does not hold them", entries, bits)
		}
		p.first, p.tables[i] = int(int16(numbers[1])), table
	}
	if len(p.tables[0]) != len(p.tables[1]) || len(p.tables[0]) != len(p.tables[2]) {
		return nil, notDecoded("palettes of different lengths")
	}
	return p, nil
}

// channel is where one colour of a palette stands: as a table, or in segments.
type channel struct{ descriptor, table, segments dcm.Tag }

func (c channel) read(d *dcm.Dataset, entries, bits int) ([]byte, bool) {
	if e := d.Find(c.table); e != nil {
		return tableOf(e.Value, entries, bits, d.Big())
	}
	if e := d.Find(c.segments); e != nil && bits == 16 {
		return expand(wordsOf(e.Value, d.Big()), entries)
	}
	return nil, false
}

// tableOf reads entries of one byte or of one word. Entries of 8 bits in words of 16
// are met and lie in the lower half; of 16 bits the upper half is taken.
func tableOf(b []byte, entries, bits int, big bool) ([]byte, bool) {
	table := make([]byte, entries)
	switch {
	case bits != 8 && bits != 16:
		return nil, false
	case len(b) >= 2*entries:
		half := 0 // of a little endian word
		if (bits == 16) != big {
			half = 1
		}
		for i := range table {
			table[i] = b[2*i+half]
		}
		return table, true
	case bits == 8 && len(b) >= entries:
		for i := range table {
			at := i
			if big && i^1 < len(b) {
				at = i ^ 1
			}
			table[i] = b[at]
		}
		return table, true
	}
	return nil, false
}

// colours looks up red, green and blue of every index.
func (p *palette) colours(indices []uint16) []byte {
	out := make([]byte, 3*len(indices))
	last := len(p.tables[0]) - 1
	for i, v := range indices {
		at := min(max(int(v)-p.first, 0), last)
		for c := range p.tables {
			out[3*i+c] = p.tables[c][at]
		}
	}
	return out
}
