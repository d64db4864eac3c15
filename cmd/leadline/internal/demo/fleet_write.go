package demo

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path"
	"runtime"
	"time"

	"github.com/suyashkumar/dicom/pkg/tag"
	"golang.org/x/sync/errgroup"

	"leadline/ingest"
)

// fleetTable is the table of what is wrong with the fleet.
const fleetTable = "truth-fleet.csv"

// WriteFleet draws the fleet of a seed below dir, which it makes: the stills of a
// device in a folder of its own, and truth-fleet.csv with one row for each device. The
// same seed gives the same bytes.
func WriteFleet(ctx context.Context, dir string, seed int64) (Summary, error) {
	units, stills := fleetOf(seed)
	counts := make([]Summary, len(units))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	each := len(stills) / len(units)
	for i := range units {
		group.Go(func() error {
			for k, s := range stills[i*each : (i+1)*each] {
				if err := ctx.Err(); err != nil {
					return err
				}
				content, err := s.encode()
				if err != nil {
					return err
				}
				if err := writeFile(dir, path.Join("fleet", s.unit.serial, fmt.Sprintf("US%05d.dcm", k+1)), content, &counts[i]); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return Summary{}, fmt.Errorf("writing the fleet: %w", err)
	}
	total := Summary{Studies: len(stills) / perStudy}
	for i, n := range counts {
		total.Files += n.Files
		total.Bytes += n.Bytes
		if units[i].fault.name != "" {
			total.Planted++
		}
	}
	truth, err := fleetCSV(units)
	if err != nil {
		return Summary{}, err
	}
	return total, writeFile(dir, fleetTable, truth, &total)
}

func fleetCSV(units []*fleetUnit) ([]byte, error) {
	rows := [][]string{{"serial", "model", "fault", "reason", "verdict", "since", "what"}}
	for _, u := range units {
		f, since, verdict := u.fault, "", u.fault.verdict
		if !f.since.IsZero() {
			since = f.since.Format(time.DateOnly)
		}
		if verdict == "" {
			verdict = "steady"
		}
		rows = append(rows, []string{u.serial, fleetModels[u.model].name, f.name, f.reason, verdict, since, f.what})
	}
	return csvBytes(rows)
}

func (s *fleetStill) encode() ([]byte, error) {
	content, err := encodeBy(s.by, s.dataSet(), ultrasoundStill, s.uid(), s.syntax)
	if err != nil {
		return nil, fmt.Errorf("encoding a still of the fleet: %w", err)
	}
	return content, nil
}

// ultrasoundStill is Ultrasound Image Storage (PS3.4 B.5).
const ultrasoundStill = "1.2.840.10008.5.1.4.1.1.6.1"

// dataSet is the header of the still, without pixels.
func (s *fleetStill) dataSet() *dataSet {
	d := &dataSet{}
	d.text(tag.SpecificCharacterSet, "ISO_IR 192")
	d.text(tag.SOPClassUID, ultrasoundStill)
	d.text(tag.SOPInstanceUID, s.uid())
	d.text(tag.Modality, "US")
	s.identify(d)
	stamp(d, tag.ContentDate, tag.ContentTime, s.at)
	stamp(d, tag.AcquisitionDate, tag.AcquisitionTime, s.at)
	kind := "ORIGINAL"
	if s.derived {
		kind = "DERIVED"
	}
	d.text(tag.ImageType, kind, "PRIMARY")
	d.text(tag.BurnedInAnnotation, "NO")
	d.text(tag.Manufacturer, maker)
	d.text(tag.ManufacturerModelName, s.model.name)
	d.text(tag.DeviceSerialNumber, s.unit.serial)
	d.text(tag.SoftwareVersions, s.software)
	d.text(tag.TransducerData, s.model.transducer)
	d.text(tag.TransducerType, s.model.kind)
	d.text(tag.ProtocolName, s.exam)
	d.text(tag.DepthOfScanField, fmt.Sprint(s.depthMM))
	d.ints(tag.Rows, s.rows)
	d.ints(tag.Columns, s.columns)
	d.ints(tag.SamplesPerPixel, 1)
	d.text(tag.PhotometricInterpretation, "MONOCHROME2")
	d.ints(tag.BitsAllocated, 8)
	d.ints(tag.BitsStored, 8)
	d.ints(tag.HighBit, 7)
	d.ints(tag.PixelRepresentation, 0)
	if s.calibrated {
		d.items(tag.SequenceOfUltrasoundRegions, s.region().item())
	}
	return d
}

// identify gives the still a study and an invented patient.
func (s *fleetStill) identify(d *dataSet) {
	p := newPatient(rand.New(rand.NewPCG(uint64(s.unit.ordinal), uint64(s.at.Unix())/86400)), s.unit.ordinal+int(s.at.Month()))
	d.text(tag.PatientName, p.name())
	d.text(tag.PatientID, p.id)
	d.text(tag.StudyInstanceUID, s.study)
	d.text(tag.SeriesInstanceUID, hashUID(s.study, "series"))
	d.text(tag.InstanceNumber, fmt.Sprint(s.number))
	stamp(d, tag.StudyDate, tag.StudyTime, s.at)
	d.text(tag.InstitutionName, hospital)
}

func (s *fleetStill) region() region {
	r := region{format: ingest.Format2D, dataType: dataTissue, x0: s.box[0], y0: s.box[1], x1: s.box[2], y1: s.box[3],
		unitX: ingest.UnitCM, unitY: ingest.UnitCM, deltaX: s.deltaX, deltaY: s.deltaY, frequencyKHz: 6000}
	if s.referenceY != nil {
		r.ref = &[2]int{(s.box[2] - s.box[0]) / 2, *s.referenceY}
		r.refValue = [2]float64{0, s.referenceV}
	}
	return r
}
