package acoustic

import (
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// Apply says which images of a study lie above a limit. nil limits say nothing.
func (l *Limits) Apply(s *analyse.Study) {
	if l == nil {
		return
	}
	known := nothingTold()
	for _, img := range s.Images {
		a := l.of(img, known)
		if a.exam == nil || !img.Ultrasound() {
			continue
		}
		for i := range a.exam.limits {
			hold(s, img, a, &a.exam.limits[i])
		}
	}
	s.Acoustic = slices.DeleteFunc(s.Acoustic, func(x analyse.AcousticExcess) bool { return x.Above == 0 })
}

// hold counts one image against one limit.
func hold(s *analyse.Study, img *analyse.Image, a answer, limit *ingest.AcousticLimit) {
	value, _ := valueOf(img, limit.Index)
	v, ok := value.Get()
	if !ok {
		return
	}
	at := slices.IndexFunc(s.Acoustic, func(x analyse.AcousticExcess) bool { return x.Index == limit.Index && x.Exam == a.exam.id })
	if at < 0 {
		at = len(s.Acoustic)
		s.Acoustic = append(s.Acoustic, analyse.AcousticExcess{Index: limit.Index, Exam: a.exam.id, Told: a.fact, Lowest: limit})
	}
	x := &s.Acoustic[at]
	if limit == x.Lowest {
		x.With++
	}
	if v <= limit.Above {
		return
	}
	if limit == x.Lowest {
		x.Above++
	}
	if x.Highest == nil || limit.Above > x.Highest.Above {
		x.Highest = limit
	}
	if v > x.Max {
		x.Max, x.SOPUID = v, img.SOPInstanceUID
	}
}
