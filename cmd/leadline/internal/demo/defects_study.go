package demo

import (
	"slices"
	"time"
)

// What is wrong with a study as a whole, or missing from it.

func missingView(s *study) {
	gone := s.byView(viewDuct.name, bits2D)
	s.images = slices.DeleteFunc(s.images, func(o *object) bool { return o == gone })
	s.becomes(missing, missing, "duct-clip")
	s.shortfall("item-missing", "duct-clip", "the greyscale clip of the duct was not taken")
}

func (s *study) shortfall(finding, item, what string) { s.expect("", finding, "", item, what) }

func clipShort(s *study) {
	s.byView(viewFourChamber.name, bits2D).frames = 6
	s.becomes(partial, partial, "apical-four-chamber-clip")
	s.shortfall("item-partial", "apical-four-chamber-clip", "the clip lasts less than a second")
}

func missingMeasure(s *study) {
	gone := s.num("tapse")
	for _, sec := range s.reports[0].sections {
		sec.numbers = slices.DeleteFunc(sec.numbers, func(n *number) bool { return n == gone })
	}
	s.becomes(missing, missing, "tapse")
	s.shortfall("item-missing", "tapse", "the excursion was not measured")
}

func reportPartial(s *study) {
	s.reports[0].state, s.reports[0].verified = "PARTIAL", false
	s.becomes(partial, partial, "report-complete", "report-in-time")
	s.shortfall("item-partial", "report-complete", "the report is only partial")
	s.shortfall("item-partial", "report-in-time", "no complete report stands within a day")
}

func reportLate(s *study) {
	s.reports[0].at = s.last().Add(31 * time.Hour)
	s.becomes(partial, partial, "report-in-time")
	s.shortfall("item-partial", "report-in-time", "the report came after 31 hours")
}

func weightGrams(s *study) {
	s.patient.weightKg *= 1000
	s.expect("", "weight-implausible", "", "", "the weight is in grams")
}

// weightGramsHeart has the protocol see it too.
func weightGramsHeart(s *study) {
	weightGrams(s)
	s.becomes(partial, partial, "patient-weight")
	s.shortfall("item-partial", "patient-weight", "the weight is filled in and not plausible")
}

// untimedHeart leaves out how fast the long axis clip is, so nobody can tell
// whether it is long enough.
func untimedHeart(s *study) {
	o := s.byView(viewLongAxis.name, bits2D)
	o.noTiming = true
	s.expect(o.uid, "frame-timing-missing", "", "", "the clip says nothing of its frame rate")
	s.becomes(notAssessable, notAssessable, "parasternal-long-axis-clip")
	s.shortfall("item-not-assessable", "parasternal-long-axis-clip", "the length of the clip is unknown")
}

// burnedInOnly leaves no measurement but the one in the picture.
func burnedInOnly(s *study) {
	s.reports = nil
	s.becomes(missing, missing, "report-complete")
	o := s.find("diaphragm-excursion")
	k := o.pic.marks["diaphragm-excursion"]
	text := measures["diaphragm-excursion"].text(o.pic.regions[k.region], k)
	for _, c := range o.pic.frames {
		for i := range k.points {
			c.bar(int(k.points[i].X)-3, int(k.points[i].Y), int(k.points[i].X)+3, int(k.points[i].Y), 1)
		}
		c.caption(o.pic.columns-60, o.pic.rows-18, "D "+text+"mm")
	}
	o.burnedIn = "YES"
	s.expect("", "burned-in-measurements", "", "", "the excursion stands only in the picture")
}

func twoPatients(s *study) {
	other := s.patient
	other.surname, other.id = surnames[(s.ordinal+11)%len(surnames)], s.patient.id+"X"
	s.images[len(s.images)-1].patient = &other
	s.expect("", "study-mixed-patients", "", "", "one picture belongs to another patient")
}
