package views

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/presentation"
	"leadline/ingest/protocol"
	"leadline/ingest/report"
)

// saying is what annotations and reports say of the view of one image: the
// narrowest view of those that lie within each other.
type saying struct {
	view, side string
	source     analyse.ViewSource
	from       string
	// contradictory tells that they say different views.
	contradictory bool
}

type found map[string]*saying

// sayings reads all presentation states of the study, then all reports, each in the
// order of their UIDs.
func sayings(s *analyse.Study) found {
	f := found{}
	for i, inst := range byUID(s.Presentations) {
		f.annotations(inst.Presentation, fmt.Sprintf("a text of annotation %d", i+1))
	}
	for _, inst := range s.Reports {
		f.report(inst.Report, fmt.Sprintf("report %d", slices.Index(s.Reports, inst)+1))
	}
	return f
}

// byUID keeps results apart from the order in which files were read.
func byUID(list []*ingest.Instance) []*ingest.Instance {
	return slices.SortedStableFunc(slices.Values(list), func(a, b *ingest.Instance) int {
		return strings.Compare(a.SOPInstanceUID, b.SOPInstanceUID)
	})
}

// annotations takes the texts that stand for themselves: one beside a graphic is
// the label of a measurement, which may have the name of a view (IVC, ACA).
func (f found) annotations(state *presentation.State, from string) {
	for i := range state.Annotations {
		a := &state.Annotations[i]
		if len(a.Graphics) > 0 {
			continue
		}
		images := a.Images
		if len(images) == 0 {
			images = state.Images
		}
		for k := range a.Texts {
			if view, side, ok := protocol.ViewOf(dcm.Code{}, a.Texts[k].Text); ok {
				f.says(images, view.ID, side, analyse.ViewOfAnnotation, from)
			}
		}
	}
}

// report takes the Image View of image items, and that of numbers, which is the
// view of the one image that the number was taken from.
func (f found) report(doc *report.Document, from string) {
	for _, v := range doc.Views {
		f.coded(v.Images, v.View, from)
	}
	for i := range doc.Numerics {
		n := &doc.Numerics[i]
		at := slices.IndexFunc(n.Modifiers, func(m report.Modifier) bool { return report.IsImageView(m.Name) })
		if at < 0 {
			continue
		}
		images := slices.Clone(n.Images)
		for _, g := range n.Graphics {
			images = append(images, g.Images...)
		}
		if sameImage(images) {
			f.coded(images[:1], n.Modifiers[at].Value, from)
		}
	}
}

func sameImage(images []dcm.Reference) bool {
	return len(images) > 0 && !slices.ContainsFunc(images, func(r dcm.Reference) bool { return r.InstanceUID != images[0].InstanceUID })
}

func (f found) coded(images []dcm.Reference, code dcm.Code, from string) {
	if view, side, ok := protocol.ViewOf(code, code.Meaning); ok {
		f.says(images, view.ID, side, analyse.ViewOfReport, from)
	}
}

func (f found) says(images []dcm.Reference, view, side string, source analyse.ViewSource, from string) {
	for _, ref := range images {
		before := f[ref.InstanceUID]
		if before == nil {
			f[ref.InstanceUID] = &saying{view: view, side: side, source: source, from: from}
			continue
		}
		narrower, ok := protocol.Narrower(before.view, view)
		otherSide := before.side != "" && side != "" && before.side != side
		switch {
		case !ok || otherSide:
			before.contradictory = true
		case narrower != before.view:
			*before = saying{view: view, side: side, source: source, from: from, contradictory: before.contradictory}
		}
	}
}

// complete gives an image what was said of it, where its header leaves it open.
func (what *saying) complete(img *analyse.Image) {
	narrower, ok := protocol.Narrower(img.ViewID, what.view)
	if !ok || narrower == img.ViewID {
		return
	}
	p := own(img)
	p.ViewID, p.ViewSource, p.ViewFrom = narrower, what.source, what.from
	if p.ViewSide == "" {
		p.ViewSide = what.side
	}
	p.View = words(p.ViewID, p.ViewSide)
}
