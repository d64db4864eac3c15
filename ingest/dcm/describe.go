package dcm

// describe names the kinds of file that turn up among DICOM files, by their
// first bytes, so that the ledger can say what was met.
func describe(b []byte) string {
	for _, k := range magics {
		if len(b) >= k.at+len(k.magic) && string(b[k.at:k.at+len(k.magic)]) == k.magic {
			return k.name
		}
	}
	if looksLikeText(b) {
		return "plain text"
	}
	return "no DICM mark at offset 128 and no plausible first element"
}

var magics = []struct {
	at          int
	magic, name string
}{
	{0, "PK\x03\x04", "a ZIP archive"}, {0, "\x89PNG", "a PNG picture"},
	{0, "\xFF\xD8\xFF", "a JPEG picture"}, {0, "%PDF", "a PDF document"},
	{0, "\x1F\x8B", "gzip-compressed data"}, {0, "GIF8", "a GIF picture"},
	{0, "BM", "a BMP picture"}, {4, "ftyp", "an MPEG-4 video"},
	{0, "RIFF", "a RIFF file (AVI or WAV)"}, {257, "ustar", "a tar archive"},
	{0, "<?xml", "an XML document"}, {0, "SQLite format 3\x00", "a database file"},
	{0, "7z\xBC\xAF", "a 7z archive"}, {0, "\x7FELF", "a program"}, {0, "MZ", "a program"},
}

func looksLikeText(b []byte) bool {
	for _, c := range b {
		if c < 0x09 || (c > 0x0D && c < 0x20 && c != 0x1B) || c == 0x7F {
			return false
		}
	}
	return len(b) > 0
}
