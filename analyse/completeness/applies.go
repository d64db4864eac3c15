package completeness

import (
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/references"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// Applies tells whether a protocol is for a study, and by which entry. The order
// is that of protocol.When: body part, anatomic region codes, procedure codes,
// words in descriptions, Image Type value 3, and last, since devices in the hand
// leave all of these empty, what was found: at least AtLeast different ones of the
// protocol's views and measures. The first entry that fits decides; header facts
// that name something else are not held against the study, because presets are
// often left as they were.
//
// Before all that, a study whose device or age is surely another than those of the
// protocol is left out; one that does not say is not.
//
// why names the entry of the protocol, never text of the study.
func Applies(s *analyse.Study, p *protocol.Protocol) (why string, ok bool) {
	w := &p.When
	if otherDevice(s, w.Devices) || otherAge(s, w) {
		return "", false
	}
	for _, inst := range instances(s) {
		if part := equalWord(w.BodyParts, inst.Series.BodyPart); part != "" {
			return "Body Part Examined " + part, true
		}
	}
	for _, img := range s.Images {
		if c, ok := anyCode(w.Regions, img.Instance.Image.AnatomicRegions...); ok {
			return "anatomic region " + c.Scheme + " " + c.Value, true
		}
	}
	for _, inst := range instances(s) {
		if c, ok := anyCode(w.Procedures, inst.Study.ProcedureCode, inst.Series.PerformedProtocol); ok {
			return "procedure code " + c.Scheme + " " + c.Value, true
		}
	}
	for _, inst := range instances(s) {
		if word := describedBy(inst, w.Words); word != "" {
			return "description with " + word, true
		}
	}
	for _, img := range s.Images {
		if t := img.Instance.Image.ImageType; len(t) > 2 {
			if word := equalWord(w.ImageTypes, t[2]); word != "" {
				return "Image Type " + word, true
			}
		}
	}
	if n := content(s, w); n >= w.AtLeast {
		return "views and measures found", true
	}
	return "", false
}

// otherDevice tells that images name their devices, and none of words.
func otherDevice(s *analyse.Study, words []string) bool {
	named := false
	for _, img := range s.Images {
		d := img.Device
		if len(words) == 0 || d == nil {
			continue
		}
		text := d.Words()
		if slices.ContainsFunc(words, func(w string) bool { return terms.Contains(text, w) }) {
			return false
		}
		named = named || strings.TrimSpace(text) != ""
	}
	return named
}

// otherAge tells that the age at the study surely lies outside.
func otherAge(s *analyse.Study, w *protocol.When) bool {
	low, high, known := references.AgeDays(s)
	return known && ((w.MaxAgeDays.Set && low > w.MaxAgeDays.Value) || (w.MinAgeDays.Set && high < w.MinAgeDays.Value))
}

// instances are the images and reports of a study whose header speaks.
func instances(s *analyse.Study) []*ingest.Instance {
	var out []*ingest.Instance
	for _, img := range s.Images {
		out = append(out, img.Instance)
	}
	out = append(out, s.Reports...)
	return slices.DeleteFunc(out, func(i *ingest.Instance) bool { return i.Study == nil || i.Series == nil })
}

func equalWord(words []string, value string) string {
	for _, w := range words {
		if strings.EqualFold(w, strings.TrimSpace(value)) {
			return w
		}
	}
	return ""
}

func anyCode(wanted []dcm.Code, codes ...dcm.Code) (dcm.Code, bool) {
	for _, c := range codes {
		c = terms.Current(c)
		for _, w := range wanted {
			if c.Is(w.Value, w.Scheme) {
				return w, true
			}
		}
	}
	return dcm.Code{}, false
}

// describedBy is the first word that stands in a description of study, series or
// procedure.
func describedBy(inst *ingest.Instance, words []string) string {
	for _, text := range inst.Descriptions() {
		for _, w := range words {
			if text != "" && terms.Contains(text, w) {
				return w
			}
		}
	}
	return ""
}

// content counts the different views and measures of the lists that were found. A
// list without either asks for nothing here.
func content(s *analyse.Study, w *protocol.When) int {
	n := 0
	v := newView(s)
	for _, wanted := range w.Entries() {
		if seen, _ := v.seen(&wanted); seen {
			n++
		}
	}
	for _, ref := range w.Measures {
		if slices.ContainsFunc(s.Measurements, func(m analyse.Measurement) bool { return m.Measure == ref.ID }) {
			n++
		}
	}
	return n
}
