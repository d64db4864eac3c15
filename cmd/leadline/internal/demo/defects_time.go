package demo

import (
	"time"

	"github.com/suyashkumar/dicom/pkg/tag"
)

// Clocks that go wrong.

// later moves images and reports; a negative time moves them to earlier.
func (s *study) later(images []*object, by time.Duration) {
	for _, o := range images {
		o.at = o.at.Add(by)
	}
	for _, r := range s.reports {
		r.at = r.at.Add(by)
	}
}

// clockBehind has the worklist begin the study by a clock that is right.
func clockBehind(s *study) {
	s.later(s.images, -25*time.Minute)
	s.expect("", "image-before-study", "", "", "the clock of the device is 25 minutes behind")
}

func continuedNextDay(s *study) {
	s.later(s.images[len(s.images)-1:], 14*time.Hour)
	s.expect("", "image-outside-study", "", "", "the last picture was taken the next day")
}

func madeBeforeTaken(s *study) {
	o := s.images[0]
	o.made = -30 * time.Minute
	s.expect(o.uid, "image-after-creation", "", "", "the file is half an hour older than the picture")
}

func reportBefore(s *study) {
	r := s.reports[0]
	r.at = s.start.Add(-2 * time.Hour)
	s.expect(r.uid, "report-time-impossible", "", "", "the report was written before the first picture")
}

func bornLater(s *study) {
	other := s.patient
	other.birth = s.start.AddDate(0, 0, 3)
	s.images[len(s.images)-1].patient = &other
	s.expect("", "image-before-birth", "", "", "a picture is older than the child by its header")
}

// twoClocks has another device of the unit take the last picture, by a clock of its own.
func twoClocks(s *study) {
	other := &devices[0]
	o := s.images[len(s.images)-1]
	s.later([]*object{o}, 3*time.Hour)
	o.edit = func(d *dataSet) {
		d.text(tag.ManufacturerModelName, other.model)
		d.text(tag.DeviceSerialNumber, other.serial)
		d.text(tag.StationName, other.station)
	}
	s.expect("", "device-clocks-apart", "", "", "the second device of the study is three hours ahead")
}

func clockSetBack(s *study) {
	s.later(s.images[:3], 50*time.Minute)
	s.expect("", "image-order-backward", "", "", "the clock was set back after the third picture")
}

// clockNextYear moves the whole study by more than a year.
func clockNextYear(s *study) {
	const days = 400
	s.start = s.start.AddDate(0, 0, days)
	s.later(s.images, days*24*time.Hour)
	s.expect("", "study-date-apart", "", "", "the clock of the device shows the next year")
}

// zoneless devices do not write their time zone, which is said once for the archive:
// only one device is so.
func (s *study) zoneless() {
	if s.device.zone == "" {
		s.truth = append(s.truth, truthRow{finding: "zone-missing", what: "the device does not write its time zone"})
	}
}
