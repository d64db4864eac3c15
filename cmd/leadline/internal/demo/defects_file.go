package demo

// Files that go wrong on their way.

// pixelsCut ends a file in the middle of its pixels, as a broken transfer does.
func pixelsCut(s *study) {
	o := s.find("diaphragm-excursion")
	o.syntax = explicitLE
	o.mangle = func(file []byte) []byte { return file[:len(file)*3/5] }
	s.expect(o.uid, "pixel-data-cut", "", "", "the file ends in the middle of its pixels")
	s.truth = append(s.truth, truthRow{path: inPicture, finding: "picture-not-decoded", what: "a picture is cut short"})
}

// copyOf is a file beside those of the objects.
type copyOf struct {
	of      *object
	path    string
	finding string
	what    string
	// change is made to the object before it is written again; keep is how many
	// bytes stay.
	change func(*object)
	keep   int
}

// truth is what an audit must say of the file. Of a file that ends in its header
// only the SOP Instance UID is known, which its meta group repeats.
func (c copyOf) truth(s *study) truthRow {
	row := truthRow{study: s.uid, sop: c.of.uid, path: c.path, finding: c.finding, what: c.what}
	if c.keep > 0 {
		row.study, row.sop = "", sentAgain(c.of)
	}
	return row
}

func sentAgain(o *object) string { return hashUID(o.uid, "sent again") }

func duplicate(s *study) {
	s.copies = append(s.copies, copyOf{of: s.images[0], path: "zz-recovered/US0001.dcm", finding: "instance-duplicate", what: "a copy of a file in another folder"})
}

// clash sends an image a second time under the same SOP Instance UID after its
// depth was edited.
func clash(s *study) {
	s.copies = append(s.copies, copyOf{
		of: s.images[1], path: "zz-recovered/US0002.dcm", finding: "instance-conflict", what: "another object under the same SOP Instance UID",
		change: func(o *object) { o.depthMM += 5 },
	})
}

// headerCut leaves the first bytes of a file that was to be sent again.
func headerCut(s *study) {
	s.copies = append(s.copies, copyOf{
		of: s.images[0], path: "zz-recovered/US0003.dcm", finding: "file-unreadable", what: "the file ends in the middle of its header",
		change: func(o *object) { o.uid = sentAgain(o) }, keep: 730,
	})
}
