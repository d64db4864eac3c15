package views

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// Settle completes the view and the modes of the images of a study. labels are the
// rows of study tables about its images, by SOPUID, in the order they were given.
//
// What annotations and reports say serves only where the header names no view that
// the vocabulary knows, or a wider one. Where two of them say different views of one
// image, neither serves.
//
// A label is the word of a person who looked at the picture, so it wins over the
// header, and Picture.LabelConflict says that they differ; of two labels of one image
// the first stands. A label of a wider view than the header's, and one that names
// some of the modes that the header tells, are no contradiction: the header says the
// same more exactly, and stands.
//
// Pictures are shared between images, so those that change are copied.
func Settle(s *analyse.Study, labels []ingest.LabelRow) {
	said := sayings(s)
	if len(said) == 0 && len(labels) == 0 {
		return
	}
	images := make(map[string]*analyse.Image, len(s.Images))
	for _, img := range s.Images {
		images[img.SOPInstanceUID] = img
	}
	for uid, what := range said {
		if img := images[uid]; img != nil && !what.contradictory {
			what.complete(img)
		}
	}
	labelled := map[string]*labelling{}
	for i := range labels {
		row := &labels[i]
		if images[row.SOPUID] == nil {
			continue
		}
		l := labelled[row.SOPUID]
		if l == nil {
			l = &labelling{image: images[row.SOPUID], header: images[row.SOPUID].Picture}
			labelled[row.SOPUID] = l
		}
		l.take(row)
	}
}

// own gives an image a picture of its own.
func own(img *analyse.Image) *analyse.Picture {
	p := *img.Picture
	img.Picture = &p
	return &p
}

// words writes a view with its side.
func words(view, side string) string {
	if side == "" {
		return view
	}
	return view + ", " + side
}

// placeOf names the place of a label.
func placeOf(row *ingest.LabelRow) string {
	return fmt.Sprintf("labels %s, row %d", row.Table, row.Line)
}
