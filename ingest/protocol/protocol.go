package protocol

import (
	"leadline/ingest/dcm"
)

// Protocol is one protocol file, checked.
type Protocol struct {
	// File is where it was read from; the name, for a built-in one.
	File                       string
	Name, Version, Title, Note string
	// Extends is the protocol that it extends, whose items are already among its
	// own; nil where it extends none.
	Extends *Protocol
	// Sources are where the items come from, in words.
	Sources []string
	When    When
	// Uncertainty is empty where the protocol says nothing of it.
	Uncertainty Uncertainty
	Items       []Item
}

// When tells which studies a protocol is for. Its lists are tried in the order
// they stand here, and the first that fits decides. The header lists are never
// held against a study: a device in the hand fills them in by its preset, if at
// all. Shown and Measures are what was found in the study, and decide where
// AtLeast different entries of their lists together were.
type When struct {
	// BodyParts are values of Body Part Examined.
	BodyParts []string
	// Regions are codes of Anatomic Region and Primary Anatomic Structure.
	Regions []dcm.Code
	// Procedures are procedure codes and performed protocol codes.
	Procedures []dcm.Code
	// Words stand in study, series or procedure descriptions or the protocol name
	// of a series (terms.Contains).
	Words []string
	// ImageTypes are values of Image Type, value 3.
	ImageTypes []string
	Shown
	Measures []Ref
	AtLeast  int
	// Devices and the ages narrow what the lists find: a study that says otherwise
	// is left out, one that does not say is not. Devices are words in maker, model,
	// station name or serial number.
	Devices                []string
	MinAgeDays, MaxAgeDays dcm.Optional[float64]
}

// Ref is a word that the file uses for something the caller knows, with its place.
type Ref struct {
	ID           string
	Line, Column int
}

// Item is one thing that a study must hold. It is met by any one of Rules.
type Item struct {
	ID, Title string
	Required  bool
	// Severity is that of a finding that the item falls short, one of Severities;
	// empty where the item does not say.
	Severity string
	// Sources are the texts of the sources that the item names.
	Sources []string
	// Note and Alternative are free text of the protocol.
	Note, Alternative string
	// If is nil where the item is always asked for.
	If    *Condition
	Rules []Rule
}

// Kind is what an item is about, as completeness.csv has it: that of its first rule.
func (it *Item) Kind() Kind { return it.Rules[0].Kind }

// Condition holds where the study has one of Measures, an image of Shown, and Fact;
// an empty part holds always.
type Condition struct {
	Measures []Ref
	Shown
	Fact string
}

// Shown is what an image may show, in three ways to name it; an image of any entry
// counts. Views are words of the vocabulary. ViewNames and ViewCodes are a unit's
// own: View Name or View Code of the header as its devices write them, the name
// whole (terms.Normal).
type Shown struct {
	Views     []string
	ViewNames []string
	ViewCodes []dcm.Code
}

// Entries are the different views named, each alone. Ways to name one view are one
// entry: names that differ in case or punctuation only, and names and codes that stand as
// such in the vocabulary for one view.
func (s *Shown) Entries() []Shown {
	var all []Shown
	at := map[string]int{}
	entry := func(key string) *Shown {
		if _, met := at[key]; !met {
			at[key], all = len(all), append(all, Shown{})
		}
		return &all[at[key]]
	}
	for _, v := range s.Views {
		e := entry(v)
		e.Views = append(e.Views, v)
	}
	for _, name := range s.ViewNames {
		e := entry(keyOfName(name))
		e.ViewNames = append(e.ViewNames, name)
	}
	for _, c := range s.ViewCodes {
		e := entry(keyOfCode(c))
		e.ViewCodes = append(e.ViewCodes, c)
	}
	return all
}

// Listed are all entries in words, codes as "SCHEME value".
func (s *Shown) Listed() []string {
	var words []string
	for _, id := range s.Views {
		words = append(words, ViewTitle(id))
	}
	words = append(words, s.ViewNames...)
	for _, c := range s.ViewCodes {
		words = append(words, c.Scheme+" "+c.Value)
	}
	return words
}

// Kind is what a rule looks at.
type Kind string

// The kinds of rules.
const (
	KindHeader  Kind = "header"
	KindImage   Kind = "image"
	KindMeasure Kind = "measure"
	KindIndex   Kind = "index"
	KindReport  Kind = "report"
)

// Rule is one way to meet an item. The field that Kind names is set.
type Rule struct {
	Kind    Kind
	Header  *HeaderRule
	Image   *ImageRule
	Measure *MeasureRule
	Index   *Ref
	Report  *ReportRule
}

// HeaderRule asks for a fact in the header: filled in and, for numbers, between
// Min and Max in the unit of the fact.
type HeaderRule struct {
	Fact     string
	Min, Max dcm.Optional[float64]
}

// ImageRule asks for Count images of Shown, of Mode and Type, taken as the
// other fields say. Empty fields ask for nothing.
type ImageRule struct {
	Shown
	Mode string
	// Type is clip, still, or empty for both; Side is left, right or empty.
	Type, Side string
	Count      int
	MinSeconds dcm.Optional[float64]
	MinFrames  int
	// MinFrameRate is in frames a second; MinDepthMM and MaxDepthMM bound the depth
	// that the image shows. Calibrated counts only images with a calibration that
	// does not contradict them.
	MinFrameRate           dcm.Optional[float64]
	MinDepthMM, MaxDepthMM dcm.Optional[float64]
	Calibrated             bool
}

// MeasureRule asks for Count measurements of any of Measures, taken in Plane (one
// of Planes, or empty). InReport counts only numbers of a report, WithCaliper only
// measurements whose caliper is archived, Calibrated only values rebuilt with a
// calibration that can be trusted.
type MeasureRule struct {
	Measures              []Ref
	Side                  string
	Count                 int
	Plane                 string
	InReport, WithCaliper bool
	Calibrated            bool
}

// ReportRule asks for a report in at least State, and WithinHours after the last
// image where that is set.
type ReportRule struct {
	State       string
	WithinHours dcm.Optional[float64]
}

// MeasureRefs are all places where the protocol names a measure, in the order of
// the file; completeness.Check holds them against the catalogue.
func (p *Protocol) MeasureRefs() []Ref {
	refs := append([]Ref(nil), p.When.Measures...)
	for _, placement := range p.Uncertainty.Placement {
		refs = append(refs, placement.Measure)
	}
	for i := range p.Items {
		it := &p.Items[i]
		if it.If != nil {
			refs = append(refs, it.If.Measures...)
		}
		for _, r := range it.Rules {
			if r.Measure != nil {
				refs = append(refs, r.Measure.Measures...)
			}
		}
	}
	return refs
}

// IndexRefs are all places where the protocol names an index.
func (p *Protocol) IndexRefs() []Ref {
	var refs []Ref
	for i := range p.Items {
		for _, r := range p.Items[i].Rules {
			if r.Index != nil {
				refs = append(refs, *r.Index)
			}
		}
	}
	return refs
}
