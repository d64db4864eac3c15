package actions

import (
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// byDevice are the findings that a device, its settings or its export make, not who
// scanned: they are told once for a device, however many images show them.
var byDevice = map[string]bool{
	"burned-in-measurements": true, "secondary-capture": true, "lossy-history": true, "header-value-unreadable": true,
	"region-outside-image": true, "region-bounds-empty": true, "region-incomplete": true, "region-unit-unfit": true,
	"region-time-backward": true, "region-size-implausible": true, "region-sequence-lost": true, "regions-disagree": true,
	"scan-depth-disagrees": true, "strip-depth-disagrees": true, "strip-width-implausible": true,
	"pixel-shape-unexplained": true, "reference-pixel-misplaced": true, "spectral-sign": true,
	"doppler-scale-implausible": true, "doppler-scale-flag": true, "spacing-disagrees": true, "calibration-missing": true,
	"frame-timing-missing": true, "frame-timing-contradicts": true, "frame-time-zero": true, "zero-unknown": true,
	"image-before-study": true, "image-after-creation": true, "image-order-backward": true, "zone-missing": true,
}

// byItem are the findings that stand for protocol items, which the list takes from
// the items themselves; noAction those that ask nothing of anybody in the meeting.
var (
	byItem   = map[string]bool{"item-missing": true, "item-partial": true, "item-not-assessable": true}
	noAction = map[string]bool{"protocol-unused": true, "value-missing": true}
)

// nothing begins an advice that asks for nothing.
const nothing = "Nothing needs doing"

// finding puts a finding into its row.
func (l *list) finding(f *analyse.Finding) {
	if byItem[f.ID] || noAction[f.ID] || strings.HasPrefix(f.Advice, nothing) {
		return
	}
	study := l.studies[f.StudyUID]
	device, number := l.madeBy(study, f)
	named := device != nil && analyse.DeviceName(device) != ""
	k := key{class: classOf(f, study, device)}
	switch {
	case f.Device != nil: // about devices as such: one row for all of them
		k.id = f.ID
	case byDevice[f.ID] && named:
		k.device, k.id = analyse.DeviceName(device), f.ID
	case study != nil:
		k.study = study
	default:
		k.id = f.ID
	}
	r := l.row(k, device)
	title := l.titles[f.ID]
	if title == "" {
		title = f.Message
	}
	fault := l.fault(r, f.ID, title, f.Advice)
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

// classOf says where in the order of mending a finding belongs.
func classOf(f *analyse.Finding, study *analyse.Study, device *ingest.Device) analyse.ActionClass {
	switch {
	case study == nil && f.Device == nil:
		return analyse.ActionFiles
	case f.Severity == analyse.Error:
		return analyse.ActionMisleads
	case byDevice[f.ID]:
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
	if l.of != s {
		l.of, l.images = s, make(map[string]*analyse.Image, len(s.Images))
		for _, img := range s.Images {
			l.images[img.SOPInstanceUID] = img
		}
	}
	if img := l.images[f.SOPUID]; img != nil {
		return img.Device, img.InstanceNumber
	}
	if len(s.Devices) > 0 {
		return s.Devices[0], none
	}
	return nil, none
}
