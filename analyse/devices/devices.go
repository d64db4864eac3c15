// Package devices holds the pictures of an archive against each other, device by
// device: in one setting a device must state one scale, whatever the day, the software
// and the way on which a picture came. It reads headers only, so it finds scales that
// contradict each other, not those that are all wrong alike.
package devices

import (
	"cmp"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// unit is what tells one device from another.
type unit struct{ maker, model, serial string }

func unitOf(d *ingest.Device) unit { return unit{d.Manufacturer, d.Model, d.Serial} }

// device is one device while it is looked at.
type device struct {
	analyse.DeviceResult
	images []*analyse.Image
	// readings are those whose route keeps the scale; all of them before routes are
	// compared.
	readings []*reading
	// probes are the readings by transducer.
	probes []*probe
	// compared are the readings that were held against others of their setting or, by
	// the depth they show, of their layout.
	compared map[*reading]bool
	strange  []strange
}

// Of looks at every device that made a picture, ordered by maker, model and serial
// number. findings are those of single files, which are counted.
func Of(studies []*analyse.Study, findings []analyse.Finding) []analyse.DeviceResult {
	all := byDevice(studies)
	for _, d := range all {
		d.describe()
		d.compareRoutes()
		d.compareProbes()
		d.settings()
		d.overDepth()
		d.tellStrange()
		d.compareShapes()
		d.moved()
	}
	compareModels(all)
	findSwaps(all)
	count(all, findings)
	results := make([]analyse.DeviceResult, len(all))
	for i, d := range all {
		d.conclude()
		results[i] = d.DeviceResult
	}
	return results
}

// byDevice sorts the pictures by device, and those of each by time.
func byDevice(studies []*analyse.Study) []*device {
	known := map[unit]*device{}
	var all []*device
	for _, s := range studies {
		for _, img := range s.Images {
			if !img.Ultrasound() {
				continue
			}
			d := known[unitOf(img.Device)]
			if d == nil {
				d = &device{compared: map[*reading]bool{}}
				known[unitOf(img.Device)], all = d, append(all, d)
			}
			d.images = append(d.images, img)
		}
	}
	for _, d := range all {
		slices.SortFunc(d.images, func(a, b *analyse.Image) int {
			return cmp.Or(dayOf(a).T.Compare(dayOf(b).T), a.Acquired.Reading().Compare(b.Acquired.Reading()),
				cmp.Compare(a.SOPInstanceUID, b.SOPInstanceUID), cmp.Compare(a.Path, b.Path))
		})
		d.Device = d.images[0].Device
	}
	slices.SortFunc(all, func(a, b *device) int {
		p, q := unitOf(a.Device), unitOf(b.Device)
		return cmp.Or(cmp.Compare(p.maker, q.maker), cmp.Compare(p.model, q.model), cmp.Compare(p.serial, q.serial))
	})
	return all
}

// describe says what the device made and when, and reads the scales.
func (d *device) describe() {
	studies := map[string]bool{}
	for _, img := range d.images {
		d.Images++
		d.Software = appendNew(d.Software, img.Device.Software)
		d.Transducers = appendNew(d.Transducers, img.Device.Transducer)
		studies[img.Study.UID] = true
		if img.Calibration != string(analyse.CalibrationNone) {
			d.Calibrated++
		}
		if day := dayOf(img); !day.IsZero() {
			if d.First.IsZero() {
				d.First = day
			}
			d.Last = day
		}
		if r := readingOf(img); r != nil {
			d.readings = append(d.readings, r)
		}
	}
	d.Studies = len(studies)
}

func appendNew(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// count adds the findings of single files to their devices, and the files that no
// value may be taken from to those to look at.
func count(all []*device, findings []analyse.Finding) {
	made := map[string]*device{}
	images := map[string]*analyse.Image{}
	for _, d := range all {
		for _, img := range d.images {
			made[img.SOPInstanceUID], images[img.SOPInstanceUID] = d, img
		}
	}
	for i := range findings {
		f := &findings[i]
		d := made[f.SOPUID]
		switch {
		case d == nil:
		case f.Severity == analyse.Error:
			d.Errors++
			d.outside(images[f.SOPUID])
		case f.Severity == analyse.Warning:
			d.Warnings++
		}
	}
}

func stamp(t time.Time) ingest.Stamp { return ingest.Stamp{T: t} }
