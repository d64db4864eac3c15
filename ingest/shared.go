package ingest

import (
	"hash/maphash"
	"strconv"
	"strings"
	"sync"

	"leadline/ingest/dcm"
)

// An archive says the same in every file: who the patient is, what the device, how
// the picture is scaled. A header is taken apart into what belongs to the instance
// alone, to its study, and to its picture; the last two are read once for equal
// bytes and shared. Each builder sees its own part only, so that nothing of one
// instance can reach another.

// part is one of the three.
type part int

const (
	ofInstance part = iota
	ofStudy
	ofPicture
	parts
)

// partOf tells to which part an element belongs.
func partOf(tag dcm.Tag) part {
	switch tag {
	case dcm.SOPInstanceUID, dcm.InstanceNumber, dcm.InstanceCreationDate, dcm.InstanceCreationTime,
		dcm.ContentDate, dcm.ContentTime, dcm.AcquisitionDate, dcm.AcquisitionTime, dcm.AcquisitionDateTime:
		return ofInstance
	case dcm.StudyInstanceUID, dcm.StudyID, dcm.StudyDate, dcm.StudyTime, dcm.StudyDescription, dcm.AccessionNumber,
		dcm.ProcedureCodeSequence, dcm.RequestedProcedureDescription, dcm.RequestAttributesSequence,
		dcm.InstitutionName, dcm.InstitutionalDepartmentName,
		dcm.PatientName, dcm.PatientID, dcm.PatientBirthDate, dcm.PatientBirthTime,
		dcm.PatientSex, dcm.PatientAge, dcm.PatientSize, dcm.PatientWeight,
		dcm.SeriesInstanceUID, dcm.Modality, dcm.SeriesDescription, dcm.ProtocolName, dcm.SeriesNumber,
		dcm.SeriesDate, dcm.SeriesTime, dcm.BodyPartExamined, dcm.Laterality,
		dcm.PerformedProcedureStepDescription, dcm.PerformedProtocolCodeSequence, dcm.OperatorsName:
		return ofStudy
	}
	return ofPicture
}

// studyPart is what all instances of a series have in common.
type studyPart struct {
	Patient *Patient
	Study   *Study
	Series  *Series
}

// picturePart is what all pictures of one setting have in common.
type picturePart struct {
	CharacterSet string
	Device       *Device
	Image        *Image
}

// digest stands for the bytes it was made of. With two random seeds nobody can
// make two contents of one digest.
type digest [2]uint64

// pool holds what instances share. It is safe for concurrent use.
type pool struct {
	seeds    [2]maphash.Seed
	mu       sync.Mutex
	studies  map[digest]studyPart
	pictures map[digest]picturePart
	interner *interner
}

func newPool() *pool {
	return &pool{
		seeds:   [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()},
		studies: map[digest]studyPart{}, pictures: map[digest]picturePart{}, interner: newInterner(),
	}
}

func (p *pool) digestOf(content []byte) digest {
	return digest{maphash.Bytes(p.seeds[0], content), maphash.Bytes(p.seeds[1], content)}
}

// builder turns headers into instances for one worker.
type builder struct {
	pool     *pool
	elements [parts][]dcm.Element
	content  []byte
	// writers are those met before, by their texts.
	writers map[string]*Writer
}

// split takes the data set apart; the parts are valid until the next split.
func (b *builder) split(d *dcm.Dataset) (split [parts]dcm.Dataset) {
	for i := range b.elements {
		b.elements[i] = b.elements[i][:0]
	}
	for _, e := range d.Elements {
		if e.Tag == dcm.TimezoneOffsetFromUTC { // says of all times of the object how they are meant
			for at := range b.elements {
				b.elements[at] = append(b.elements[at], e)
			}
			continue
		}
		at := partOf(e.Tag)
		b.elements[at] = append(b.elements[at], e)
	}
	for i := range split {
		split[i] = d.Part(b.elements[i])
	}
	return split
}

// study returns the part of d that its series shares.
func (b *builder) study(d *dcm.Dataset) studyPart {
	b.content = d.AppendContent(emptied(b.content))
	return lookUp(b.pool, b.pool.studies, b.pool.digestOf(b.content), d, func() studyPart {
		return studyPart{
			Patient: b.pool.interner.patient(patientOf(d)),
			Study:   b.pool.interner.study(studyOf(d)),
			Series:  b.pool.interner.series(seriesOf(d)),
		}
	})
}

// picture returns the part of d that the pictures of one setting share.
func (b *builder) picture(d *dcm.Dataset, f *dcm.File) picturePart {
	b.content = strconv.AppendInt(emptied(b.content), int64(f.Pixels), 10)
	b.content = strconv.AppendBool(b.content, f.BareItem)
	b.content = d.AppendContent(b.content)
	return lookUp(b.pool, b.pool.pictures, b.pool.digestOf(b.content), d, func() picturePart {
		p := b.device(d)
		p.Image = imageOf(d, f)
		return p
	})
}

// device is what objects that are no images share.
func (b *builder) device(d *dcm.Dataset) picturePart {
	return picturePart{
		CharacterSet: strings.Join(d.Strings(dcm.SpecificCharacterSet), `\`),
		Device:       b.pool.interner.device(deviceOf(d)),
	}
}

// lookUp returns what was read of the same content before, else reads it. Of two
// workers that read the same at once, both get what the first one kept. What
// problems were met in reading is not kept: each file names its own.
func lookUp[T any](p *pool, known map[digest]T, key digest, d *dcm.Dataset, read func() T) T {
	p.mu.Lock()
	v, ok := known[key]
	p.mu.Unlock()
	if ok {
		return v
	}
	before := d.ProblemsMet()
	v = read()
	if d.ProblemsMet() != before {
		return v
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if first, ok := known[key]; ok {
		return first
	}
	known[key] = v
	return v
}
