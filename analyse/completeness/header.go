package completeness

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// fact is how far a fact is filled in: of the study (asked once), or of every
// image. values are the numbers of a numeric fact, where it is filled in.
type fact struct {
	found, asked int
	perImage     bool
	values       []float64
}

// header asks for a fact. A fact of every image that only some have is partial,
// and so is a number out of its bounds; the value itself is not told.
func (v *view) header(r *protocol.HeaderRule) outcome {
	f := v.fact(r.Fact)
	wrong := implausible(f.values, r)
	o := outcome{status: enough(f.found-wrong, f.asked), found: f.found - wrong, needed: f.asked}
	if f.perImage && f.asked == 0 {
		return outcome{status: analyse.NotAssessable, note: "asked of images, and the study has none"}
	}
	if o.found == 0 && wrong > 0 {
		o.status = analyse.Partial
	}
	o.note = headerNote(f, wrong, r)
	if o.found > 0 {
		o.evidence = []string{"header"}
		if f.perImage {
			o.evidence = []string{"header of " + analyse.Counted(o.found, "image", "images")}
		}
	}
	return o
}

// headerNote says what fell short, never the value.
func headerNote(f fact, wrong int, r *protocol.HeaderRule) string {
	var parts []string
	switch {
	case f.found == 0 && f.perImage:
		return fmt.Sprintf("not filled in; none of the images (%d) has it", f.asked)
	case f.found == 0:
		return "not filled in"
	case f.found < f.asked:
		parts = append(parts, fmt.Sprintf("%d of %s with it", f.found, analyse.Counted(f.asked, "image", "images")))
	}
	switch {
	case wrong == 0:
	case f.perImage:
		parts = append(parts, analyse.Counted(wrong, "image has it", "images have it")+", but not within "+bounds(r))
	default:
		parts = append(parts, "filled in, but not within "+bounds(r))
	}
	return join(parts, "; ")
}

// implausible counts the values beyond the bounds of the rule.
func implausible(values []float64, r *protocol.HeaderRule) int {
	n := 0
	for _, value := range values {
		if (r.Min.Set && value < r.Min.Value) || (r.Max.Set && value > r.Max.Value) {
			n++
		}
	}
	return n
}

func bounds(r *protocol.HeaderRule) string {
	unit := protocol.FactUnit(r.Fact)
	switch {
	case !r.Max.Set:
		return fmt.Sprintf("%g %s and more", r.Min.Value, unit)
	case !r.Min.Set:
		return fmt.Sprintf("%g %s and less", r.Max.Value, unit)
	}
	return fmt.Sprintf("%g to %g %s", r.Min.Value, r.Max.Value, unit)
}

// fact looks a fact up in the study, else in every image.
func (v *view) fact(name string) fact {
	if f, ok := v.ofStudy(name); ok {
		return f
	}
	out := fact{perImage: true, asked: len(v.pictures)}
	for i := range v.pictures {
		filled, value := factOf(v.pictures[i].Image, name)
		if filled {
			out.found++
		}
		if filled && value.Set {
			out.values = append(out.values, value.Value)
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
		f.values = []float64{o.Value}
	}
	return f
}

// factOf tells whether an image has a fact filled in, and its number, where the fact
// is one. A number of 0 is not filled in.
func factOf(img *analyse.Image, name string) (filled bool, value ingest.Optional[float64]) {
	switch name {
	case protocol.FactDepth:
		value = img.DepthMM
	case protocol.FactHeartRateOfHeader:
		value = img.Instance.Image.Timing.HeartRate
	default:
		return hasFact(img, name), value
	}
	return value.Set && value.Value > 0, value
}

// hasFact tells whether an image has a fact filled in that is no number.
func hasFact(img *analyse.Image, name string) bool {
	d, s := img.Device, img.Series
	if d == nil {
		d = &ingest.Device{}
	}
	if s == nil {
		s = &ingest.Series{}
	}
	a := img.Instance.Image.Acoustic
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
		return img.Laterality() != ""
	}
	return false
}
