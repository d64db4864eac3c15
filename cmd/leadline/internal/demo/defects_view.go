package demo

import "leadline/ingest/coord"

// Views that headers do not tell, and who tells them instead.

// viewsUnsaid takes all views and modes out of the headers of a study, as handheld
// exports come. The study table tells them, and has a row of a picture that was not
// exported.
func viewsUnsaid(s *study) {
	for _, o := range s.images {
		s.label(o, o.view.name, "")
		o.view = view{}
	}
	lost := hashUID(s.uid, "labelled image that was not exported")
	s.labels = append(s.labels, labelRow{sop: lost, view: "SMA"})
	s.truth = append(s.truth, truthRow{sop: lost, path: labelTable, finding: "label-image-not-found", what: "the labelled picture was not exported"})
	s.becomes(notAssessable, met, "sma-strip", "sma-velocities", "sma-end-diastolic", "sma-resistance")
	s.becomes(notAssessable, missing, "celiac-strip", "renal-strip-right", "renal-strip-left")
	s.becomes(notAssessable, notApplicable, "celiac-velocities", "celiac-end-diastolic", "celiac-resistance", "renal-resistance-right", "renal-resistance-left")
}

// labelSlip labels the coronal clip as a sagittal one: the table stands, and the
// contradiction is told.
func labelSlip(s *study) {
	o := s.byView("Coronal", bits2D)
	s.label(o, "head-sagittal", "2d")
	s.truth = append(s.truth, truthRow{study: s.uid, sop: o.uid, path: labelTable, finding: "label-contradicts", what: "the coronal clip is labelled as sagittal"})
	s.becomes(met, missing, "coronal-sweep")
	s.becomes(missing, met, "sagittal-sweep")
}

// viewInReport leaves the view of the apical clip to the report, whose number of it
// states the view (PS3.16 TID 5203).
func viewInReport(s *study) {
	s.byView(viewFourChamber.name, bits2D).view = view{}
	s.num("rv-basal-diameter").imageView = viewFourChamber.code
}

// viewInAnnotation leaves the view of the sagittal still to a text in a presentation
// state.
func viewInAnnotation(s *study) {
	o := s.byView("Sagittal midline", bits2D)
	s.caption(o, o.view.name, coord.Point{X: 8, Y: 8})
	o.view = view{}
}
