package demo

import (
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/suyashkumar/dicom/pkg/tag"
)

// The series of a study.
const (
	seriesImages  = 1
	seriesReports = 2
	seriesStates  = 3
)

// header starts a data set with what all objects of a study share: patient, study,
// series, equipment and SOP common modules (PS3.3 C.7.1 to C.7.5, C.12.1).
func (s *study) header(p patient, sopClass, sopUID, modality string, series int) *dataSet {
	d := &dataSet{}
	d.text(tag.SpecificCharacterSet, "ISO_IR 192")
	d.text(tag.SOPClassUID, sopClass)
	d.text(tag.SOPInstanceUID, sopUID)
	d.text(tag.Modality, modality)
	s.identify(d, p)

	d.text(tag.StudyInstanceUID, s.uid)
	d.text(tag.SeriesInstanceUID, hashUID(s.uid, "series", fmt.Sprint(series)))
	d.text(tag.SeriesNumber, fmt.Sprint(series))
	d.text(tag.StudyID, s.id)
	d.text(tag.AccessionNumber, s.number)
	stamp(d, tag.StudyDate, tag.StudyTime, s.start)
	d.text(tag.ReferringPhysicianName)
	d.text(tag.StudyDescription, s.describe().description)
	d.text(tag.InstitutionName, hospital)
	d.text(tag.InstitutionalDepartmentName, department)
	if c := s.describe().procedure; c != nil {
		d.items(tag.ProcedureCodeSequence, c.item())
	}

	d.text(tag.Manufacturer, maker)
	d.text(tag.ManufacturerModelName, s.device.model)
	d.text(tag.DeviceSerialNumber, s.device.serial)
	d.text(tag.SoftwareVersions, strings.Split(s.device.software, `\`)...)
	d.text(tag.StationName, s.device.station)
	if s.device.zone != "" {
		d.text(tag.TimezoneOffsetFromUTC, s.device.zone)
	}
	return d
}

func (s *study) identify(d *dataSet, p patient) {
	d.text(tag.PatientName, p.name())
	d.text(tag.PatientID, p.id)
	d.text(tag.PatientBirthDate, p.birth.Format("20060102"))
	d.text(tag.PatientBirthTime, p.birth.Format("150405"))
	d.text(tag.PatientSex, p.sex)
	d.text(tag.PatientAge, p.age(s.start))
	d.decimals(tag.PatientWeight, p.weightKg)
	d.decimals(tag.PatientSize, p.sizeM)
}

func stamp(d *dataSet, date, clock tag.Tag, at time.Time) {
	d.text(date, at.Format("20060102"))
	d.text(clock, at.Format("150405"))
}

// dataSet makes the image: series, general image, cine, US image and region
// calibration modules (PS3.3 C.7.3.1, C.7.6.1, C.7.6.5, C.8.5.6, C.8.5.5).
func (o *object) dataSet() (*dataSet, error) {
	s, p := o.study, o.study.patient
	if o.patient != nil {
		p = *o.patient
	}
	d := s.header(p, o.sopClass(), o.uid, "US", seriesImages)
	d.text(tag.OperatorsName, s.operator)
	d.text(tag.BodyPartExamined, s.describe().bodyPart)
	d.text(tag.ProtocolName, s.describe().protocol)
	d.text(tag.SeriesDescription, s.describe().description)
	if o.laterality != "" {
		d.text(tag.ImageLaterality, o.laterality)
	}
	d.text(tag.InstanceNumber, fmt.Sprint(o.instance))
	d.text(tag.PatientOrientation)
	stamp(d, tag.ContentDate, tag.ContentTime, o.at)
	stamp(d, tag.AcquisitionDate, tag.AcquisitionTime, o.at)
	stamp(d, tag.InstanceCreationDate, tag.InstanceCreationTime, o.at.Add(o.made))
	d.text(tag.ImageType, "ORIGINAL", "PRIMARY", s.describe().imageType, o.mode)
	d.text(tag.BurnedInAnnotation, o.burnedIn)
	d.text(tag.ImageComments, s.patient.phrase)
	o.acquisition(d)
	o.viewOf(d)
	o.timing(d)
	o.scale(d)
	if err := o.pixels(d); err != nil {
		return nil, err
	}
	if o.edit != nil {
		o.edit(d)
	}
	return d, nil
}

// acquisition is how the picture was taken (PS3.3 C.8.5.6).
func (o *object) acquisition(d *dataSet) {
	dev := o.study.device
	d.text(tag.TransducerData, dev.transducer)
	d.text(tag.TransducerType, dev.transducerType)
	d.text(tag.DepthOfScanField, fmt.Sprint(o.depthMM))
	d.decimals(tag.MechanicalIndex, o.mi)
	d.decimals(tag.SoftTissueThermalIndex, o.ti)
	if o.study.kind == head {
		d.decimals(tag.CranialThermalIndex, o.ti+0.1)
	}
	if o.study.kind == heart {
		d.text(tag.HeartRate, fmt.Sprint(o.heartRate))
	}
	colour := 0
	if o.pic.colour {
		colour = 1
	}
	d.ints(tag.UltrasoundColorDataPresent, colour)
}

func (o *object) viewOf(d *dataSet) {
	if o.view.name != "" {
		d.text(tag.ViewName, o.view.name)
		// A view name makes these two type 2C; the study is not a staged protocol.
		d.text(tag.NumberOfStages)
		d.text(tag.NumberOfViewsInStage)
	}
	if o.view.code.value != "" {
		d.items(tag.ViewCodeSequence, o.view.code.item())
	}
}

// timing is the cine module and the pointer to what orders the frames.
func (o *object) timing(d *dataSet) {
	if !o.clip() {
		return
	}
	d.text(tag.NumberOfFrames, fmt.Sprint(o.frames))
	if o.noTiming {
		return
	}
	d.ints(tag.FrameIncrementPointer, int(tag.FrameTime.Group), int(tag.FrameTime.Element))
	d.decimals(tag.FrameTime, o.frameTimeMS)
	d.text(tag.CineRate, fmt.Sprint(o.cineRate))
}

func (o *object) scale(d *dataSet) {
	if !o.noRegions {
		items := make([]*dataSet, len(o.pic.regions))
		for i, r := range o.pic.regions {
			items[i] = r.item()
		}
		d.items(tag.SequenceOfUltrasoundRegions, items...)
	}
	if a := o.study.device.aspect; a != 1 && o.spacingMM == nil {
		// Vertical over horizontal size, in whole numbers (PS3.3 C.7.6.3.1.7).
		d.text(tag.PixelAspectRatio, fmt.Sprint(int(math.Round(aspectBase*a))), fmt.Sprint(aspectBase))
	}
	if o.spacingMM != nil {
		d.decimals(tag.PixelSpacing, o.spacingMM[0], o.spacingMM[1])
	}
}

// aspectBase is the second number of Pixel Aspect Ratio.
const aspectBase = 100

// quality of JPEG pictures: as low as still looks like the trade's clips.
const quality = 40

// pixels is the image pixel module (PS3.3 C.7.6.3). One drawn cycle is repeated
// for as long as the clip lasts.
func (o *object) pixels(d *dataSet) error {
	cycle := make([][]byte, len(o.pic.frames))
	for i, c := range o.pic.frames {
		packed, err := o.pack(c)
		if err != nil {
			return err
		}
		cycle[i] = packed
	}
	frames := make([][]byte, o.frames)
	for i := range frames {
		frames[i] = cycle[i%len(cycle)]
	}
	photometric, samples := "MONOCHROME2", 1
	if o.pic.colour {
		photometric, samples = "RGB", 3
		d.ints(tag.PlanarConfiguration, 0)
		if o.syntax == jpegBaseline {
			photometric = "YBR_FULL_422"
		}
	}
	d.text(tag.PhotometricInterpretation, photometric)
	d.ints(tag.SamplesPerPixel, samples)
	d.ints(tag.Rows, o.pic.rows)
	d.ints(tag.Columns, o.pic.columns)
	d.ints(tag.BitsAllocated, 8)
	d.ints(tag.BitsStored, 8)
	d.ints(tag.HighBit, 7)
	d.ints(tag.PixelRepresentation, 0)
	lossy := "00"
	if o.syntax == jpegBaseline {
		lossy = "01"
		raw, packed := o.pic.rows*o.pic.columns*samples, len(cycle[0])
		d.text(tag.LossyImageCompressionRatio, fmt.Sprintf("%.1f", float64(raw)/float64(packed)))
		d.text(tag.LossyImageCompressionMethod, "ISO_10918_1")
	}
	d.text(tag.LossyImageCompression, lossy)
	element, err := pixelData(frames, o.syntax)
	if err != nil {
		return err
	}
	d.elems = append(d.elems, element)
	return nil
}

// pack is one frame as the transfer syntax stores it.
func (o *object) pack(c canvas) ([]byte, error) {
	switch o.syntax {
	case jpegBaseline:
		return c.jpeg(o.pic.colour, quality)
	case rleLossless:
		samples := 1
		if o.pic.colour {
			samples = 3
		}
		return rleFrame(c.samples(o.pic.colour), o.pic.columns, samples), nil
	}
	return c.samples(o.pic.colour), nil
}
