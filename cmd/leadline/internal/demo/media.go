package demo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"path"
	"slices"

	"github.com/suyashkumar/dicom/pkg/tag"
)

// directoryClass is Media Storage Directory Storage (PS3.4 I.4).
const directoryClass = "1.2.840.10008.1.3.10"

// directoryName is what the file is called (PS3.10 8.6).
const directoryName = "DICOMDIR"

// medium is a study exported as a DICOM medium: a directory beside its files.
type medium struct {
	study *study
	// unlisted is left out of the directory, exchanged is entered under another SOP
	// Instance UID, and lost is a file that is entered and not there.
	unlisted, exchanged *object
	lost                bool
	folder              string
}

func (m *medium) path() string { return path.Join(m.folder, directoryName) }

// place settles where the directory lies, which is what its findings name.
func (m *medium) place(folder string) {
	m.folder = folder
	for i := range m.study.truth {
		if row := &m.study.truth[i]; mediaFindings[row.finding] != "" {
			row.path = m.path()
		}
	}
}

// mediaIncomplete writes a directory that disagrees with the files in every way.
// The study is exported under names that a directory can hold.
func mediaIncomplete(s *study) {
	onMedium := *s.device
	onMedium.bare = true
	s.device = &onMedium
	s.medium = &medium{study: s, unlisted: s.images[1], exchanged: s.images[2], lost: true}
	for _, finding := range slices.Sorted(maps.Keys(mediaFindings)) {
		s.truth = append(s.truth, truthRow{finding: finding, what: mediaFindings[finding]})
	}
}

// mediaFindings are about the directory file, not about the study.
var mediaFindings = map[string]string{
	"directory-file-missing":       "the directory names a picture that was not copied",
	"directory-file-unlisted":      "the directory does not name a picture",
	"directory-record-contradicts": "the directory gives a picture another SOP Instance UID",
}

// entry is a file of the medium as its directory names it.
type entry struct {
	kind, file, class, uid, syntax string
	keys                           *dataSet
}

// images lists the pictures.
func (m *medium) images() []entry {
	var list []entry
	add := func(o *object, uid, file string) {
		keys := &dataSet{}
		keys.text(tag.InstanceNumber, fmt.Sprint(o.instance))
		list = append(list, entry{"IMAGE", file, o.sopClass(), uid, o.syntax, keys})
	}
	for _, o := range m.study.images {
		switch o {
		case m.unlisted:
		case m.exchanged:
			add(o, hashUID(o.uid, "exchanged"), path.Base(o.path))
		default:
			add(o, o.uid, path.Base(o.path))
		}
	}
	if m.lost {
		lost := *m.unlisted
		lost.instance = len(m.study.images) + 1
		add(&lost, hashUID(m.study.uid, "lost on the way"), "IM0099")
	}
	return list
}

// reports lists the reports with the keys of SR DOCUMENT records (PS3.3 F.5.24).
func (m *medium) reports() []entry {
	var list []entry
	for _, r := range m.study.reports {
		keys := &dataSet{}
		keys.text(tag.InstanceNumber, "1")
		keys.text(tag.CompletionFlag, r.state)
		keys.text(tag.VerificationFlag, "UNVERIFIED")
		stamp(keys, tag.ContentDate, tag.ContentTime, r.at)
		keys.items(tag.ConceptNameCodeSequence, r.title.item())
		list = append(list, entry{"SR DOCUMENT", path.Base(r.path), r.sopClass, r.uid, r.syntax, keys})
	}
	return list
}

// encode writes the directory (PS3.3 F.3): patient, study, and each series with
// its files.
func (m *medium) encode() ([]byte, error) {
	s := m.study
	patient := &dataSet{}
	patient.text(tag.PatientName, s.patient.name())
	patient.text(tag.PatientID, s.patient.id)
	studyKeys := &dataSet{}
	stamp(studyKeys, tag.StudyDate, tag.StudyTime, s.start)
	studyKeys.text(tag.StudyDescription, s.describe().description)
	studyKeys.text(tag.StudyInstanceUID, s.uid)
	studyKeys.text(tag.StudyID, s.id)
	studyKeys.text(tag.AccessionNumber, s.number)

	var t directoryTree
	t.add(0, "PATIENT", patient)
	t.add(1, "STUDY", studyKeys)
	for _, series := range []struct {
		number   int
		modality string
		entries  []entry
	}{{seriesImages, "US", m.images()}, {seriesReports, "SR", m.reports()}} {
		if len(series.entries) == 0 {
			continue
		}
		keys := &dataSet{}
		keys.text(tag.Modality, series.modality)
		keys.text(tag.SeriesInstanceUID, hashUID(s.uid, "series", fmt.Sprint(series.number)))
		keys.text(tag.SeriesNumber, fmt.Sprint(series.number))
		t.add(2, "SERIES", keys)
		for _, e := range series.entries {
			e.keys.text(tag.ReferencedFileID, e.file)
			e.keys.text(tag.ReferencedSOPClassUIDInFile, e.class)
			e.keys.text(tag.ReferencedSOPInstanceUIDInFile, e.uid)
			e.keys.text(tag.ReferencedTransferSyntaxUIDInFile, e.syntax)
			t.add(3, e.kind, e.keys)
		}
	}
	return t.encode(hashUID(s.uid, "directory"))
}

// directoryTree is the records of a directory in the order of the file, each with
// its level below the root.
type directoryTree struct {
	records []*dataSet
	levels  []int
}

func (t *directoryTree) add(level int, kind string, keys *dataSet) {
	keys.ints(tag.OffsetOfTheNextDirectoryRecord, 0)
	keys.ints(tag.RecordInUseFlag, 0xFFFF)
	keys.ints(tag.OffsetOfReferencedLowerLevelDirectoryEntity, 0)
	keys.text(tag.DirectoryRecordType, kind)
	keys.text(tag.SpecificCharacterSet, "ISO_IR 192")
	t.records, t.levels = append(t.records, keys), append(t.levels, level)
}

// next is the following record of the same parent, lower the first below it; -1
// where there is none.
func (t *directoryTree) next(i int) int {
	for j := i + 1; j < len(t.levels) && t.levels[j] >= t.levels[i]; j++ {
		if t.levels[j] == t.levels[i] {
			return j
		}
	}
	return -1
}

func (t *directoryTree) lower(i int) int {
	if i+1 < len(t.levels) && t.levels[i+1] > t.levels[i] {
		return i + 1
	}
	return -1
}

// encode writes the file with offsets of zero, finds where each record came to
// stand, and enters that.
func (t *directoryTree) encode(uid string) ([]byte, error) {
	d := &dataSet{}
	d.text(tag.FileSetID, "LEADLINE_DEMO")
	d.ints(tag.OffsetOfTheFirstDirectoryRecordOfTheRootDirectoryEntity, 0)
	d.ints(tag.OffsetOfTheLastDirectoryRecordOfTheRootDirectoryEntity, 0)
	d.ints(tag.FileSetConsistencyFlag, 0)
	d.items(tag.DirectoryRecordSequence, t.records...)
	file, err := encode(d, directoryClass, uid, explicitLE)
	if err != nil {
		return nil, fmt.Errorf("encoding a media directory: %w", err)
	}
	at := recordOffsets(file)
	if len(at) != len(t.records) {
		return nil, fmt.Errorf("encoding a media directory: %d of %d records found", len(at), len(t.records))
	}
	enter := func(after int, element uint16, record int) {
		if record < 0 {
			return
		}
		value := after + bytes.Index(file[after:], unsigned(element)) + len(unsigned(element))
		binary.LittleEndian.PutUint32(file[value:], uint32(at[record]))
	}
	enter(0, 0x1200, 0)
	enter(0, 0x1202, 0) // one patient: the first root record is the last
	for i := range t.records {
		enter(at[i], 0x1400, t.next(i))
		enter(at[i], 0x1420, t.lower(i))
	}
	return file, nil
}

// unsigned is the header of an explicit little endian UL element of group 4.
func unsigned(element uint16) []byte {
	return append(binary.LittleEndian.AppendUint16([]byte{4, 0}, element), 'U', 'L', 4, 0)
}

// recordOffsets finds the items of the directory records: each begins with the
// offset of the next, behind the 8 bytes of the item tag and its length.
func recordOffsets(file []byte) []int {
	const itemHeader = 8
	var at []int
	for off := 0; ; {
		n := bytes.Index(file[off:], unsigned(0x1400))
		if n < 0 {
			return at
		}
		at = append(at, off+n-itemHeader)
		off += n + len(unsigned(0x1400))
	}
}
