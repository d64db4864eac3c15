package actions

import (
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// byItem are the findings that stand for protocol items, which the list takes from
// the items themselves; noAction those that ask nothing of anybody in the meeting.
var (
	byItem   = map[string]bool{"item-missing": true, "item-partial": true, "item-not-assessable": true}
	noAction = map[string]bool{"protocol-unused": true, "value-missing": true}
)

// detailed are the findings whose message a meeting asks for next, which number it is.
var detailed = map[string]bool{"measurement-differs": true}

// nothing begins an advice that asks for nothing.
const nothing = "Nothing needs doing"

// finding puts a finding into its row.
func (l *list) finding(f *analyse.Finding) {
	if byItem[f.ID] || noAction[f.ID] || strings.HasPrefix(f.Advice, nothing) {
		return
	}
	check, study := l.check(f.ID), l.studies[f.StudyUID]
	device, number := l.madeBy(study, f)
	named := device != nil && analyse.DeviceName(device) != ""
	k := key{class: l.classOf(f, study)}
	switch {
	case f.Device != nil: // about devices as such: one row for all of them
		k.id = f.ID
	case check.OfDevice && named: // once for the device, however many images show it
		k.device, k.id = analyse.DeviceName(device), f.ID
	case study != nil:
		k.study = study
	default:
		k.id = f.ID
	}
	r := l.row(k, device)
	fault := l.fault(r, f.ID, check.Title, f.Advice)
	fault.severity = f.Severity
	if detailed[f.ID] {
		fault.reason = f.Message
	}
	fault.times++
	r.times++
	if f.Device != nil {
		r.devices++
		if r.devices > 1 {
			r.on = nil
		}
	}
	if number.Set {
		fault.images = append(fault.images, number.Value)
	}
	if f.StudyUID != "" && study != nil {
		r.studies[f.StudyUID] = true
	}
	if k.study == nil && k.device == "" && f.Device == nil && f.Path != "" {
		r.files = append(r.files, f.Path)
	}
}

// check is what is known of an id; an unknown one has a title all the same.
func (l *list) check(id string) *analyse.Check {
	if c := l.checks[id]; c != nil {
		return c
	}
	return &analyse.Check{Title: strings.ReplaceAll(id, "-", " ")}
}

// classOf says where in the order of mending a finding belongs.
func (l *list) classOf(f *analyse.Finding, study *analyse.Study) analyse.ActionClass {
	switch {
	case study == nil && f.Device == nil:
		return analyse.ActionFiles
	case f.Severity == analyse.Error:
		return analyse.ActionMisleads
	case f.Device != nil || l.check(f.ID).OfDevice:
		return analyse.ActionDevice
	}
	return analyse.ActionDoubtful
}

// madeBy is the device that a finding is about, and the number of its image: that of
// the image it names, else the one that made most of its study.
func (l *list) madeBy(s *analyse.Study, f *analyse.Finding) (*ingest.Device, ingest.Optional[int64]) {
	var none ingest.Optional[int64]
	if f.Device != nil || s == nil {
		return f.Device, none
	}
	if img := l.images[f.SOPUID]; img != nil {
		return img.Device, img.InstanceNumber
	}
	if len(s.Devices) > 0 {
		return s.Devices[0], none
	}
	return nil, none
}
