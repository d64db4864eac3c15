package demo

import (
	"fmt"
	"time"

	"github.com/suyashkumar/dicom/pkg/tag"
)

// Templates of the reports (PS3.16 TID 5220, TID 1500).
const (
	templateEcho         = "5220"
	templateMeasurements = "1500"
)

var (
	titleEcho         = code{"125195", "DCM", "Pediatric Cardiac Ultrasound Report"}
	titleMeasurements = code{"126000", "DCM", "Imaging Measurement Report"}
)

// report starts a report that is made so long after the last picture.
func (s *study) report(after time.Duration, template string) *report {
	r := &report{
		study: s, sopClass: enhancedSR, title: titleMeasurements, template: template,
		at: s.last().Add(after), state: "COMPLETE",
	}
	if template == templateEcho {
		r.title, r.sopClass = titleEcho, comprehensiveSR
	}
	r.uid = hashUID(s.uid, "report", fmt.Sprint(len(s.reports)+1))
	r.syntax = s.device.reports[s.ordinal%len(s.device.reports)]
	s.reports = append(s.reports, r)
	return r
}

// section starts a group of numbers about a site.
func (r *report) section(at code) *section {
	sec := &section{site: at}
	r.sections = append(r.sections, sec)
	return sec
}

// dataSet makes the document (PS3.3 C.17.1, C.17.2, C.17.3).
func (r *report) dataSet() (*dataSet, error) {
	s := r.study
	d := s.header(s.patient, r.sopClass, r.uid, "SR", seriesReports)
	d.items(tag.ReferencedPerformedProcedureStepSequence)
	d.items(tag.PerformedProcedureCodeSequence)
	d.text(tag.InstanceNumber, "1")
	stamp(d, tag.ContentDate, tag.ContentTime, r.at)
	d.text(tag.CompletionFlag, r.state)
	d.text(tag.VerificationFlag, "UNVERIFIED")
	if r.verified {
		d.text(tag.VerificationFlag, "VERIFIED")
		d.items(tag.VerifyingObserverSequence, r.verifier())
	}
	r.evidence(d)
	content := r.tree().close()
	if content.err != nil {
		return nil, content.err
	}
	d.elems = append(d.elems, content.elems...)
	return d, nil
}

func (r *report) verifier() *dataSet {
	v := &dataSet{}
	v.text(tag.VerifyingObserverName, reader)
	v.text(tag.VerifyingOrganization, hospital)
	v.text(tag.VerificationDateTime, r.at.Add(20*time.Minute).Format("20060102150405"))
	v.items(tag.VerifyingObserverIdentificationCodeSequence)
	return v
}

// evidence lists every image that the report refers to.
func (r *report) evidence(d *dataSet) {
	seen := map[string]bool{}
	var refs []*dataSet
	for _, sec := range r.sections {
		for _, n := range sec.numbers {
			if n.imageUID != "" && !seen[n.imageUID] {
				seen[n.imageUID] = true
				refs = append(refs, reference(n.imageClass, n.imageUID))
			}
		}
	}
	if len(refs) == 0 {
		return
	}
	series := &dataSet{}
	series.text(tag.SeriesInstanceUID, hashUID(r.study.uid, "series", fmt.Sprint(seriesImages)))
	series.items(tag.ReferencedSOPSequence, refs...)
	study := &dataSet{}
	study.text(tag.StudyInstanceUID, r.study.uid)
	study.items(tag.ReferencedSeriesSequence, series)
	d.items(tag.CurrentRequestedProcedureEvidenceSequence, study)
}
