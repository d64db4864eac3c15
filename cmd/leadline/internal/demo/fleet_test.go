package demo

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/calib"
	"leadline/ingest"
)

// fleetSeeds is how many fleets are checked.
const fleetSeeds = 20

// TestFleet checks twenty fleets: every device with a fault must be found, for its
// reason and on its day, and no other one.
func TestFleet(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	found, planted, steady := 0, 0, 0
	for seed := range int64(fleetSeeds) {
		units, stills := fleetOf(seed)
		c, err := calib.Run(context.Background(), archiveOf(stills), calib.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Devices) != len(units) {
			t.Fatalf("seed %d: %d devices", seed, len(c.Devices))
		}
		for i := range c.Devices {
			d := &c.Devices[i]
			u := units[slices.IndexFunc(units, func(u *fleetUnit) bool { return u.serial == d.Device.Serial })]
			if u.fault.name == "" {
				if d.Verdict == analyse.DeviceSteady {
					steady++
					continue
				}
				t.Errorf("seed %d: %s (%s %s) is said to be %s: %s", seed, u.serial, fleetModels[u.model].name, u.fault.what, d.Verdict, remarks(d))
				continue
			}
			planted++
			if said(d, u.fault) {
				found++
			} else {
				t.Errorf("seed %d: %s (%s): %s, since %s; said: %s, %s", seed, u.serial, fleetModels[u.model].name, u.fault.what, u.fault.since.Format(time.DateOnly), d.Verdict, remarks(d))
			}
		}
	}
	t.Logf("%d seeds: %d of %d faulty devices found, %d of %d others steady", fleetSeeds, found, planted, steady, fleetSeeds*len(fleetModels)*fleetUnits-planted)
	if planted != 5*fleetSeeds {
		t.Errorf("%d faults planted", planted)
	}
}

// said tells that the verdict and a remark name a fault, and its day to the visit.
func said(d *analyse.DeviceResult, f fleetFault) bool {
	if string(d.Verdict) != f.verdict || len(d.LookAt) == 0 {
		return false
	}
	return slices.ContainsFunc(d.Remarks, func(r analyse.Remark) bool {
		if string(r.Reason) != f.reason || string(r.Verdict) != f.verdict {
			return false
		}
		late := r.Since.T.Sub(f.since)
		return r.Since.IsZero() || late > -24*time.Hour && late <= 31*24*time.Hour
	})
}

func remarks(d *analyse.DeviceResult) string {
	text := ""
	for _, r := range d.Remarks {
		text += fmt.Sprintf("\n\t%s (%s) %s %s", r.Reason, r.Verdict, r.Text, r.Since.T.Format(time.DateOnly))
	}
	return text
}

// archiveOf makes of the stills what reading their files would give; TestFleetFiles
// holds one against the other.
func archiveOf(stills []*fleetStill) *ingest.Archive {
	a := &ingest.Archive{}
	devices, writers := map[ingest.Device]*ingest.Device{}, map[ingest.Writer]*ingest.Writer{}
	for _, s := range stills {
		device := ingest.Device{Manufacturer: maker, Model: s.model.name, Serial: s.unit.serial, Software: s.software, Transducer: s.model.transducer, TransducerType: s.model.kind}
		writer := ingest.Writer{Class: s.by.class(), Version: s.by.version, Source: s.by.source}
		if devices[device] == nil {
			devices[device] = &device
		}
		if writers[writer] == nil {
			writers[writer] = &writer
		}
		a.Instances = append(a.Instances, s.instance(devices[device], writers[writer]))
	}
	return a
}

func (s *fleetStill) instance(device *ingest.Device, writer *ingest.Writer) *ingest.Instance {
	at := ingest.Stamp{T: s.at, HasTime: true}
	kind := "ORIGINAL"
	if s.derived {
		kind = "DERIVED"
	}
	img := &ingest.Image{
		Rows: s.rows, Columns: s.columns, Frames: 1, SamplesPerPixel: 1, BitsAllocated: 8, Photometric: "MONOCHROME2", ImageType: []string{kind, "PRIMARY"},
		DepthMM: ingest.Some(float64(s.depthMM)), BurnedIn: "NO", PixelData: ingest.PixelsAbsent,
	}
	if s.calibrated {
		r := s.region()
		raw := ingest.Region{
			Ordinal: 1, SpatialFormat: ingest.Some(uint16(r.format)), DataType: ingest.Some(uint16(r.dataType)), Flags: ingest.Some(uint32(0)),
			MinX0: ingest.Some(ingest.Index(r.x0)), MinY0: ingest.Some(ingest.Index(r.y0)), MaxX1: ingest.Some(ingest.Index(r.x1)), MaxY1: ingest.Some(ingest.Index(r.y1)),
			UnitsX: ingest.Some(uint16(r.unitX)), UnitsY: ingest.Some(uint16(r.unitY)), DeltaX: ingest.Some(r.deltaX), DeltaY: ingest.Some(r.deltaY),
			FrequencyKHz: ingest.Some(float64(r.frequencyKHz)),
		}
		if r.ref != nil {
			raw.RefX0, raw.RefY0 = ingest.Some(ingest.Index(r.ref[0])), ingest.Some(ingest.Index(r.ref[1]))
			raw.RefValueX, raw.RefValueY = ingest.Some(r.refValue[0]), ingest.Some(r.refValue[1])
		}
		img.Regions = []ingest.Region{raw}
	}
	return &ingest.Instance{
		SOPClassUID: ultrasoundStill, SOPInstanceUID: s.uid(), TransferSyntaxUID: s.syntax, InstanceNumber: ingest.Some(int64(s.number)),
		Content: at, Acquisition: at, Patient: &ingest.Patient{}, Study: &ingest.Study{UID: s.study, Start: at},
		Series: &ingest.Series{Modality: "US", ProtocolName: s.exam}, Device: device, Writer: writer, Image: img,
	}
}

// TestFleetFiles reads a fleet from its files and wants what archiveOf makes of it.
func TestFleetFiles(t *testing.T) {
	dir := t.TempDir()
	const seed = 7
	if _, err := WriteFleet(context.Background(), dir, seed); err != nil {
		t.Fatal(err)
	}
	read, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, stills := fleetOf(seed)
	made := archiveOf(stills)
	if len(read.Instances) != len(made.Instances) {
		t.Fatalf("%d instances read, %d made", len(read.Instances), len(made.Instances))
	}
	by := map[string]*ingest.Instance{}
	for _, inst := range read.Instances {
		by[inst.SOPInstanceUID] = inst
	}
	for _, want := range made.Instances {
		got := by[want.SOPInstanceUID]
		if got == nil {
			t.Fatalf("%s was not read", want.SOPInstanceUID)
		}
		if fmt.Sprintf("%+v", got.Image) != fmt.Sprintf("%+v", want.Image) || *got.Device != *want.Device || *got.Writer != *want.Writer ||
			got.TransferSyntaxUID != want.TransferSyntaxUID || !got.Acquisition.T.Equal(want.Acquisition.T) || got.Study.UID != want.Study.UID || got.Series.ProtocolName != want.Series.ProtocolName {
			t.Fatalf("read %+v\n%+v\nmade %+v\n%+v", got, got.Image, want, want.Image)
		}
	}
}
