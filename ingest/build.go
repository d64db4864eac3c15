package ingest

import (
	"encoding/binary"
	"strings"

	"leadline/ingest/dcm"
	"leadline/ingest/presentation"
	"leadline/ingest/report"
	"leadline/ingest/terms"
)

// The SOP class roots that ingest tells apart (PS3.4 B.5).
const (
	reportRoot       = "1.2.840.10008.5.1.4.1.1.88."
	keyObjects       = "1.2.840.10008.5.1.4.1.1.88.59"
	presentationRoot = "1.2.840.10008.5.1.4.1.1.11."
)

// ultrasoundClasses are the SOP classes of ultrasound images and clips, the retired
// ones among them (PS3.6 Table A-1).
var ultrasoundClasses = map[string]bool{
	"1.2.840.10008.5.1.4.1.1.3": true, "1.2.840.10008.5.1.4.1.1.3.1": true,
	"1.2.840.10008.5.1.4.1.1.6": true, "1.2.840.10008.5.1.4.1.1.6.1": true,
	"1.2.840.10008.5.1.4.1.1.6.2": true,
}

// build turns the header of one file into an Instance, whose identifiers its ledger
// entry has.
func (b *builder) build(e Entry, f *dcm.File) *Instance {
	d := b.split(&f.Data)
	own := &d[ofInstance]
	inst := &Instance{
		Path: e.Path, Bytes: e.Bytes,
		SOPClassUID:       e.SOPClassUID,
		SOPInstanceUID:    e.SOPUID,
		TransferSyntaxUID: e.TransferSyntaxUID,
		InstanceNumber:    own.Int(dcm.InstanceNumber),
		Content:           stampOf(own, dcm.ContentDate, dcm.ContentTime),
		Created:           stampOf(own, dcm.InstanceCreationDate, dcm.InstanceCreationTime),
		Acquisition:       acquisition(own),
	}
	study := b.study(&d[ofStudy])
	inst.Patient, inst.Study, inst.Series = study.Patient, study.Study, study.Series
	var picture picturePart
	switch kindOf(inst.SOPClassUID, f) {
	case OutcomeImage:
		picture = b.picture(&d[ofPicture], f)
		inst.Image = picture.Image
	case OutcomeReport:
		picture = b.device(&d[ofPicture])
		inst.Report = report.Read(&f.Data)
	case OutcomePresentation:
		picture = b.device(&d[ofPicture])
		inst.Presentation = presentation.Read(&f.Data)
	default:
		picture = b.device(&d[ofPicture])
	}
	inst.CharacterSet, inst.Device = picture.CharacterSet, picture.Device
	inst.Writer = b.writer(&f.Meta)
	inst.Problems = f.Data.Problems()
	return inst
}

// orMeta reads an identifier from the data set, else from the file meta group,
// which repeats it (PS3.10 7.1): media directories hold it only there.
func orMeta(f *dcm.File, tag, meta dcm.Tag) string {
	if v := f.Data.String(tag); v != "" {
		return v
	}
	return f.Meta.String(meta)
}

// instanceUID is read as by orMeta. No other file has the same.
func instanceUID(f *dcm.File) string {
	uid := f.Data.First(dcm.SOPInstanceUID)
	if len(uid) == 0 {
		uid = f.Meta.First(dcm.MediaStorageSOPInstanceUID)
	}
	return string(uid)
}

// kindOf tells what an object is by its SOP class; an image is what has pixels.
func kindOf(sopClass string, f *dcm.File) Outcome {
	switch {
	case sopClass == keyObjects:
		return OutcomeOther
	case strings.HasPrefix(sopClass, reportRoot):
		return OutcomeReport
	case strings.HasPrefix(sopClass, presentationRoot):
		return OutcomePresentation
	case f.Pixels != dcm.PixelsAbsent || f.Data.Has(dcm.Rows):
		return OutcomeImage
	}
	return OutcomeOther
}

// stampOf reads a date and a time, in the zone of the object where it states one.
func stampOf(d *dcm.Dataset, date, clock dcm.Tag) Stamp {
	return ParseStamp(string(d.First(date)), string(d.First(clock))).in(d.String(dcm.TimezoneOffsetFromUTC))
}

// acquisition prefers the combined attribute to date and time apart.
func acquisition(d *dcm.Dataset) Stamp {
	if s := ParseDateTime(string(d.First(dcm.AcquisitionDateTime))); !s.IsZero() {
		return s.in(d.String(dcm.TimezoneOffsetFromUTC))
	}
	return stampOf(d, dcm.AcquisitionDate, dcm.AcquisitionTime)
}

func patientOf(d *dcm.Dataset) Patient {
	return Patient{
		Name:      d.String(dcm.PatientName),
		ID:        d.String(dcm.PatientID),
		BirthDate: d.String(dcm.PatientBirthDate),
		BirthTime: d.String(dcm.PatientBirthTime),
		Sex:       d.String(dcm.PatientSex),
		Age:       d.String(dcm.PatientAge),
		SizeM:     d.Float(dcm.PatientSize),
		WeightKg:  d.Float(dcm.PatientWeight),
	}
}

func studyOf(d *dcm.Dataset) Study {
	s := Study{
		UID:             d.String(dcm.StudyInstanceUID),
		ID:              d.String(dcm.StudyID),
		AccessionNumber: d.String(dcm.AccessionNumber),
		Description:     d.String(dcm.StudyDescription),
		Start:           stampOf(d, dcm.StudyDate, dcm.StudyTime),
		ProcedureCode:   d.Code(dcm.ProcedureCodeSequence),
		Institution:     d.String(dcm.InstitutionName),
		Department:      d.String(dcm.InstitutionalDepartmentName),
	}
	s.RequestedProcedure = d.String(dcm.RequestedProcedureDescription)
	if requests := d.Items(dcm.RequestAttributesSequence); s.RequestedProcedure == "" && len(requests) > 0 {
		s.RequestedProcedure = requests[0].String(dcm.RequestedProcedureDescription)
	}
	return s
}

func seriesOf(d *dcm.Dataset) Series {
	return Series{
		UID:                d.String(dcm.SeriesInstanceUID),
		Modality:           d.String(dcm.Modality),
		Description:        d.String(dcm.SeriesDescription),
		ProtocolName:       d.String(dcm.ProtocolName),
		Number:             d.Int(dcm.SeriesNumber),
		Start:              stampOf(d, dcm.SeriesDate, dcm.SeriesTime),
		BodyPart:           d.String(dcm.BodyPartExamined),
		Laterality:         d.String(dcm.Laterality),
		PerformedProcedure: d.String(dcm.PerformedProcedureStepDescription),
		PerformedProtocol:  d.Code(dcm.PerformedProtocolCodeSequence),
		Operators:          strings.Join(nonEmpty(d.Strings(dcm.OperatorsName)), terms.PersonSeparator),
	}
}

func deviceOf(d *dcm.Dataset) Device {
	return Device{
		Manufacturer:   d.String(dcm.Manufacturer),
		Model:          d.String(dcm.ManufacturerModelName),
		Serial:         d.String(dcm.DeviceSerialNumber),
		Software:       strings.Join(nonEmpty(d.Strings(dcm.SoftwareVersions)), "; "),
		Station:        d.String(dcm.StationName),
		Transducer:     strings.Join(nonEmpty(d.Strings(dcm.TransducerData)), " "),
		TransducerType: d.String(dcm.TransducerType),
	}
}

// writer finds the writer by the texts that name it; an archive has few.
func (b *builder) writer(meta *dcm.Dataset) *Writer {
	class, version, source := meta.First(dcm.ImplementationClassUID), meta.First(dcm.ImplementationVersionName), meta.First(dcm.SourceApplicationEntityTitle)
	b.content = emptied(b.content)
	for _, text := range [][]byte{class, version, source} {
		b.content = append(binary.AppendUvarint(b.content, uint64(len(text))), text...)
	}
	w := b.writers[string(b.content)]
	if w == nil {
		w = b.pool.interner.writer(Writer{Class: string(class), Version: string(version), Source: string(source)})
		if b.writers == nil {
			b.writers = map[string]*Writer{}
		}
		b.writers[string(b.content)] = w
	}
	return w
}

func nonEmpty(values []string) []string {
	var out []string
	for _, v := range values {
		if v != "" {
			out = append(out, v)
		}
	}
	return out
}
