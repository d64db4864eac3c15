package completeness

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// fact is how far a fact is filled in: of the study (asked once), or of every
// image. value is the number of a numeric fact.
type fact struct {
	found, asked int
	perImage     bool
	value        ingest.Optional[float64]
}

// header asks for a fact. A fact of every image that only some have is partial,
// and so is a number out of its bounds; the value itself is not told.
func (v *view) header(r *protocol.HeaderRule) outcome {
	f := v.fact(r.Fact)
	o := outcome{status: enough(f.found, f.asked), found: f.found, needed: f.asked}
	switch {
	case f.perImage && f.asked == 0:
		return outcome{status: analyse.NotAssessable, note: "asked of images, and the study has none"}
	case o.status == analyse.Partial:
		o.note = fmt.Sprintf("%d of %d images have it", f.found, f.asked)
	case o.status == analyse.Missing:
		o.note = "not filled in"
	case outside(f.value, r):
		o.status, o.found, o.note = analyse.Partial, 0, fmt.Sprintf("filled in, but not within %s", bounds(r))
	}
	if o.found > 0 {
		o.evidence = []string{"header"}
		if f.perImage {
			o.evidence = []string{"header of " + counted(f.found, "image", "images")}
		}
	}
	return o
}

func outside(value ingest.Optional[float64], r *protocol.HeaderRule) bool {
	return value.Set && ((r.Min.Set && value.Value < r.Min.Value) || (r.Max.Set && value.Value > r.Max.Value))
}

func bounds(r *protocol.HeaderRule) string {
	switch {
	case !r.Max.Set:
		return fmt.Sprintf("%g and more", r.Min.Value)
	case !r.Min.Set:
		return fmt.Sprintf("%g and less", r.Max.Value)
	}
	return fmt.Sprintf("%g to %g", r.Min.Value, r.Max.Value)
}

// fact looks a fact up in the study, else in every image.
func (v *view) fact(name string) fact {
	if f, ok := v.ofStudy(name); ok {
		return f
	}
	out := fact{perImage: true, asked: len(v.pictures)}
	for i := range v.pictures {
		if hasFact(v.pictures[i].Image, name) {
			out.found++
		}
	}
	return out
}

// ofStudy looks up facts of the patient and the study; ok is false for facts of
// images. A weight, size or rate of 0 is not filled in.
func (v *view) ofStudy(name string) (f fact, ok bool) {
	p, h := v.study.Patient, v.study.Header
	if p == nil {
		p = &ingest.Patient{}
	}
	if h == nil {
		h = &ingest.Study{}
	}
	text := func(s string) (fact, bool) { return once(s != ""), true }
	switch name {
	case protocol.FactPatientID:
		return text(p.ID)
	case protocol.FactPatientName:
		return text(p.Name)
	case protocol.FactPatientBirthDate:
		return text(p.BirthDate)
	case protocol.FactPatientSex:
		return text(p.Sex)
	case protocol.FactPatientWeight:
		return number(p.WeightKg), true
	case protocol.FactPatientSize:
		return number(p.SizeM), true
	case protocol.FactStudyDate:
		return once(!h.Start.IsZero()), true
	case protocol.FactStudyTime:
		return once(h.Start.HasTime), true
	case protocol.FactStudyID:
		return text(h.ID)
	case protocol.FactStudyDescription:
		return text(h.Description)
	case protocol.FactAccessionNumber:
		return text(h.AccessionNumber)
	case protocol.FactInstitution:
		return text(h.Institution)
	case protocol.FactOperator:
		return once(len(v.study.Operators) > 0), true
	}
	return fact{}, false
}

func once(filled bool) fact {
	if filled {
		return fact{found: 1, asked: 1}
	}
	return fact{asked: 1}
}

func number(o ingest.Optional[float64]) fact {
	f := once(o.Set && o.Value > 0)
	if f.found > 0 {
		f.value = o
	}
	return f
}

// hasFact tells whether an image has a fact filled in.
func hasFact(img *analyse.Image, name string) bool {
	d, s := img.Device, img.Series
	if d == nil {
		d = &ingest.Device{}
	}
	if s == nil {
		s = &ingest.Series{}
	}
	a, t := img.Instance.Image.Acoustic, img.Instance.Image.Timing
	switch name {
	case protocol.FactDeviceSerial:
		return d.Serial != ""
	case protocol.FactDeviceModel:
		return d.Model != ""
	case protocol.FactDeviceMaker:
		return d.Manufacturer != ""
	case protocol.FactDeviceSoftware:
		return d.Software != ""
	case protocol.FactStationName:
		return d.Station != ""
	case protocol.FactTransducer:
		return d.Transducer != "" || d.TransducerType != ""
	case protocol.FactImageTime:
		return img.Acquired.HasTime
	case protocol.FactBodyPart:
		return s.BodyPart != ""
	case protocol.FactAcousticIndices:
		return a.Mechanical.Set && img.ThermalIndex.Set
	case protocol.FactSideOfImage:
		return lateral(img) != ""
	case protocol.FactDepth:
		return img.DepthMM.Set && img.DepthMM.Value > 0
	case protocol.FactHeartRateOfHeader:
		return t.HeartRate.Set && t.HeartRate.Value > 0
	}
	return false
}
