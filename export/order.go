package export

import (
	"sort"
	"time"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

// order sorts the studies by start and UID as they are written: with shifted
// dates by those, so that the order of the rows does not tell the true ones.
func (w *writer) order() {
	type key struct {
		start time.Time
		uid   string
	}
	keys := map[*studyRow]key{}
	for _, r := range w.rows {
		keys[r] = key{w.rules.Time(deid.Stamp, r.about, r.Start.Reading()), w.rules.Text(deid.UID, r.about, r.UID)}
	}
	sort.SliceStable(w.rows, func(i, j int) bool {
		a, b := keys[w.rows[i]], keys[w.rows[j]]
		if !a.start.Equal(b.start) {
			return a.start.Before(b.start)
		}
		return a.uid < b.uid
	})
}

// deviceOf names the device of a study as the rules allow.
func (w *writer) deviceOf(r *studyRow) string {
	for _, d := range r.Devices {
		if analyse.DeviceName(d) == r.Device {
			return w.device(d)
		}
	}
	if w.rules.Identity() == deid.None {
		return "" // a name that cannot be taken apart may hold a serial number
	}
	return r.Device
}

// device names a device; only the serial number identifies one unit.
func (w *writer) device(d *ingest.Device) string {
	if d == nil {
		return ""
	}
	w.naming.Lock() // two outputs are written at once
	defer w.naming.Unlock()
	name, ok := w.devices[d]
	if !ok {
		guarded := *d
		guarded.Serial = w.rules.Text(deid.Device, nil, d.Serial)
		name = analyse.DeviceName(&guarded)
		w.devices[d] = name
	}
	return name
}
