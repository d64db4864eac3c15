// Package devices looks at the pictures of an archive device by device: what one
// device wrote over time must agree with itself.
package devices

import (
	"cmp"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// unit is what tells one device from another.
type unit struct{ maker, model, serial string }

func unitOf(d *ingest.Device) unit { return unit{d.Manufacturer, d.Model, d.Serial} }

// Of looks at every device that made a picture, ordered by maker, model and serial
// number.
func Of(studies []*analyse.Study) []analyse.DeviceResult {
	byUnit := map[unit][]*analyse.Image{}
	for _, s := range studies {
		for _, img := range s.Images {
			byUnit[unitOf(img.Device)] = append(byUnit[unitOf(img.Device)], img)
		}
	}
	var results []analyse.DeviceResult
	for _, images := range byUnit {
		results = append(results, look(images))
	}
	slices.SortFunc(results, func(a, b analyse.DeviceResult) int {
		p, q := unitOf(a.Device), unitOf(b.Device)
		return cmp.Or(cmp.Compare(p.maker, q.maker), cmp.Compare(p.model, q.model), cmp.Compare(p.serial, q.serial))
	})
	return results
}

// look describes one device from its pictures.
func look(images []*analyse.Image) analyse.DeviceResult {
	byTime(images)
	r := analyse.DeviceResult{Device: images[0].Device, Images: len(images)}
	studies := map[string]bool{}
	for _, img := range images {
		r.Software = appendNew(r.Software, img.Device.Software)
		r.Transducers = appendNew(r.Transducers, img.Device.Transducer)
		studies[img.Study.UID] = true
		if img.Calibration != string(analyse.CalibrationNone) {
			r.Calibrated++
		}
		if r.First.IsZero() {
			r.First = img.Acquired
		}
		if !img.Acquired.IsZero() {
			r.Last = img.Acquired
		}
	}
	r.Studies = len(studies)
	return r
}

// byTime orders pictures by when they were taken, then by UID and path.
func byTime(images []*analyse.Image) {
	slices.SortFunc(images, func(a, b *analyse.Image) int {
		return cmp.Or(a.Acquired.T.Compare(b.Acquired.T), cmp.Compare(a.SOPInstanceUID, b.SOPInstanceUID), cmp.Compare(a.Path, b.Path))
	})
}

func appendNew(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}
