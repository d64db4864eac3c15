package main

import (
	"crypto/sha256"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"time"
)

// The elements that are set anew in every file.
const (
	tagSOPUID           = 0x00080018
	tagStudyDate        = 0x00080020
	tagSeriesDate       = 0x00080021
	tagAcquisitionDate  = 0x00080022
	tagContentDate      = 0x00080023
	tagAcquisitionStamp = 0x0008002A
	tagStudyTime        = 0x00080030
	tagSeriesTime       = 0x00080031
	tagAcquisitionTime  = 0x00080032
	tagContentTime      = 0x00080033
	tagAccession        = 0x00080050
	tagManufacturer     = 0x00080070
	tagInstitution      = 0x00080080
	tagStation          = 0x00081010
	tagModel            = 0x00081090
	tagPatientName      = 0x00100010
	tagPatientID        = 0x00100020
	tagBirthDate        = 0x00100030
	tagSex              = 0x00100040
	tagOtherPatientIDs  = 0x00101000
	tagAge              = 0x00101010
	tagWeight           = 0x00101030
	tagSerial           = 0x00181000
	tagSoftware         = 0x00181020
	tagStudyUID         = 0x0020000D
	tagSeriesUID        = 0x0020000E
	tagStudyID          = 0x00200010
	tagSeriesNumber     = 0x00200011
	tagInstanceNumber   = 0x00200013
	tagSamplesPerPixel  = 0x00280002
	tagNumberOfFrames   = 0x00280008
	tagRows             = 0x00280010
	tagColumns          = 0x00280011
	tagBitsAllocated    = 0x00280100
)

// persons are elements that name people: an implicit syntax does not say which do.
var persons = []uint32{0x00080090, 0x00081048, 0x00081050, 0x00081060, 0x00081070, 0x00101001, 0x00101060}

// study is the identity that all files of a study share. Everything is invented.
type study struct {
	seed    uint64
	ordinal int
	begin   time.Time
	device  int
}

// devices is how many devices the invented hospital has.
const devices = 5

func newStudy(p plan, ordinal, studies int, r *rand.Rand) study {
	day := ordinal * p.days / max(studies, 1)
	return study{
		seed: p.seed, ordinal: ordinal, device: r.IntN(devices),
		begin: time.Date(2026, time.September, 1+day, 8+r.IntN(9), r.IntN(60), 0, 0, time.UTC),
	}
}

// uid makes a UID below 2.25, the root of UUIDs written as one decimal number
// (PS3.5 B.2): the same seed and words give the same UID.
func (s study) uid(words ...any) string {
	sum := sha256.Sum256(fmt.Append(nil, "leadline bench", s.seed, s.ordinal, words))
	id := sum[:16]
	id[6] = id[6]&0x0F | 0x80 // a UUID of one's own making: version 8,
	id[8] = id[8]&0x3F | 0x80 // variant of RFC 9562
	return "2.25." + new(big.Int).SetBytes(id).String()
}

func (s study) instanceUID(i int) string { return s.uid("instance", i) }

// stamp gives a header the identity of file number i of the study, the file being
// one of the series.
func (s study) stamp(h *header, series, i int) {
	sop := s.instanceUID(i)
	h.text(tagMetaSOPUID, "UI", sop)
	h.text(tagSOPUID, "UI", sop)
	h.text(tagStudyUID, "UI", s.uid("study"))
	h.text(tagSeriesUID, "UI", s.uid("series", series))
	h.text(tagSeriesNumber, "IS", fmt.Sprint(series))
	h.text(tagInstanceNumber, "IS", fmt.Sprint(i+1))
	h.text(tagStudyID, "SH", fmt.Sprintf("S%06d", s.ordinal))
	h.text(tagAccession, "SH", fmt.Sprintf("A%08d", s.ordinal))
	s.stampPatient(h)
	s.stampDevice(h)
	s.stampTimes(h, i)
}

func (s study) stampPatient(h *header) {
	for _, e := range slices.Clone(h.data) {
		if e.vr == "PN" || slices.Contains(persons, e.tag) {
			h.text(e.tag, "PN", "Invented^Person")
		}
	}
	h.text(tagPatientName, "PN", fmt.Sprintf("Musterling %05d^Baby", s.ordinal))
	h.text(tagPatientID, "LO", fmt.Sprintf("BENCH-%06d", s.ordinal))
	born := s.begin.AddDate(0, 0, -3-s.ordinal%40)
	h.text(tagBirthDate, "DA", born.Format("20060102"))
	h.text(tagSex, "CS", []string{"F", "M"}[s.ordinal%2])
	h.replace(tagOtherPatientIDs, "LO", "")
	h.replace(tagAge, "AS", fmt.Sprintf("%03dD", 3+s.ordinal%40))
	h.replace(tagWeight, "DS", fmt.Sprintf("%.1f", 1+0.1*float64(s.ordinal%25)))
}

func (s study) stampDevice(h *header) {
	h.text(tagManufacturer, "LO", "Invented Instruments")
	h.text(tagModel, "LO", fmt.Sprintf("Plummet %d", 1+s.device%2))
	h.text(tagSerial, "LO", fmt.Sprintf("PLM-%04d", 4100+s.device))
	h.text(tagStation, "SH", fmt.Sprintf("US%02d", 1+s.device))
	h.replace(tagInstitution, "LO", "Invented Hospital")
	h.replace(tagSoftware, "LO", "3.1")
}

func (s study) stampTimes(h *header, i int) {
	at := s.begin.Add(time.Duration(i) * 40 * time.Second)
	day, clock := at.Format("20060102"), at.Format("150405")
	h.text(tagStudyDate, "DA", s.begin.Format("20060102"))
	h.text(tagStudyTime, "TM", s.begin.Format("150405"))
	h.text(tagContentDate, "DA", day)
	h.text(tagContentTime, "TM", clock)
	h.replace(tagSeriesDate, "DA", s.begin.Format("20060102"))
	h.replace(tagSeriesTime, "TM", s.begin.Format("150405"))
	h.replace(tagAcquisitionDate, "DA", day)
	h.replace(tagAcquisitionTime, "TM", clock)
	h.replace(tagAcquisitionStamp, "DT", day+clock)
}
