package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"leadline/ingest/dcm"
)

// Limits of what is made of one tree: entries are modifiers, container names and
// images of numbers, which a hostile tree multiplies (a thousand modifiers above
// ten thousand numbers).
const (
	maxPoints   = 1_000_000
	maxEntries  = 400_000
	maxProblems = 100
)

// reader holds what is known while one document is read.
type reader struct {
	*tree
	doc      *Document
	shapes   map[int]*shape
	contexts map[int]*context
	images   map[int][]dcm.Reference
	points   int // coordinate pairs that may still be read
	entries  int // entries that may still be made
	unsaid   int // problems beyond the limit
}

// Read lists what a structured report holds. It never fails: what cannot be read
// as the standard wants is left out and named in Problems by the path of its item.
func Read(d *dcm.Dataset) *Document {
	r := &reader{
		tree: grow(d), doc: &Document{},
		shapes: map[int]*shape{}, contexts: map[int]*context{}, images: map[int][]dcm.Reference{},
		points: maxPoints, entries: maxEntries,
	}
	r.head(d)
	r.check()
	r.readShapes()
	r.gather()
	r.numbers()
	r.doc.Numerics = slices.Clone(r.doc.Numerics) // without the room that growing left, a quarter of a year's reports
	if r.unsaid > 0 {
		r.doc.Problems = append(r.doc.Problems, fmt.Sprintf("and %d more", r.unsaid))
	}
	return r.doc
}

// head reads what stands outside the tree (PS3.3 C.17.2, C.18.8).
func (r *reader) head(d *dcm.Dataset) {
	r.doc.Title = d.Code(dcm.ConceptNameCodeSequence)
	r.doc.TemplateID = templateID(d)
	r.doc.CompletionFlag = d.String(dcm.CompletionFlag)
	r.doc.VerificationFlag = d.String(dcm.VerificationFlag)
	r.doc.PreliminaryFlag = d.String(dcm.PreliminaryFlag)
	items := d.Items(dcm.VerifyingObserverSequence)
	for i := range items {
		r.doc.Verifications = append(r.doc.Verifications, Verification{
			DateTime: items[i].String(dcm.VerificationDateTime),
			Observer: items[i].String(dcm.VerifyingObserverName),
		})
	}
}

func templateID(d *dcm.Dataset) string {
	if items := d.Items(dcm.ContentTemplateSequence); len(items) > 0 {
		return items[0].String(dcm.TemplateIdentifier)
	}
	return ""
}

// check names the items that the standard does not know.
func (r *reader) check() {
	if r.cut {
		r.problem(0, fmt.Sprintf("at most %d items in at most %d levels; the items beyond are left out", maxItems, maxDepth))
	}
	for i := range r.nodes {
		n := &r.nodes[i]
		switch {
		case n.target == none:
			r.problem(i, "a reference to another item of the tree, which is neither this one nor above it")
		case n.kind == "" && n.target == i && i > 0:
			r.problem(i, "a value type or a reference")
		case n.kind == "TCOORD":
			r.problem(i, "coordinates in space; those in time (TCOORD) are not used")
		case n.kind == "SCOORD3D":
			r.problem(i, "coordinates in an image; those in the patient (SCOORD3D) are not used")
		}
		if i > 0 && n.relation == "" {
			r.problem(i, "a relationship type")
		}
	}
}

// problem notes what was expected of item i; never a value.
func (r *reader) problem(i int, expected string) {
	if len(r.doc.Problems) >= maxProblems {
		r.unsaid++
		return
	}
	r.doc.Problems = append(r.doc.Problems, "item "+r.path(i)+": expected "+expected)
}

// gather collects what stands for itself in the tree: images, templates,
// statements and observers.
func (r *reader) gather() {
	images, templates, people := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i := range r.nodes {
		n := &r.nodes[i]
		switch n.kind {
		case typeImage:
			for _, ref := range r.imagesAt(i) {
				if isNew(images, imageKey(ref)) {
					r.doc.Images = append(r.doc.Images, ref)
				}
			}
			r.view(i)
		case typeContainer:
			if id := templateID(n.item); id != "" && isNew(templates, id) {
				r.doc.Templates = append(r.doc.Templates, id)
			}
		case typeCode, typeText:
			r.statement(i)
		}
		if name := r.observerName(i); name != "" && isNew(people, name) {
			r.doc.Observers = append(r.doc.Observers, name)
		}
	}
}

// view keeps the view that image item i states, if one.
func (r *reader) view(i int) {
	for _, c := range r.nodes[i].children {
		if r.nodes[c].kind == typeCode && IsImageView(r.concept(c)) {
			r.doc.Views = append(r.doc.Views, ImageView{Images: r.imagesAt(i), View: r.nodes[c].item.Code(dcm.ConceptCodeSequence)})
			return
		}
	}
}

func isNew(seen map[string]bool, key string) bool {
	if seen[key] {
		return false
	}
	seen[key] = true
	return true
}

func imageKey(ref dcm.Reference) string {
	var b strings.Builder
	b.WriteString(ref.InstanceUID)
	for _, f := range ref.Frames {
		b.WriteByte('|')
		b.WriteString(strconv.Itoa(f))
	}
	return b.String()
}

// imagesAt reads the references of an image item once.
func (r *reader) imagesAt(i int) []dcm.Reference {
	refs, known := r.images[i]
	if !known {
		refs = r.nodes[i].item.References(dcm.ReferencedSOPSequence)
		if len(refs) == 0 {
			r.problem(i, "a referenced image")
		}
		r.images[i] = refs
	}
	return refs
}

// statement keeps a coded or textual item that stands for itself: not one that
// says something about a number, nor who observed, nor the language.
func (r *reader) statement(i int) {
	n := &r.nodes[i]
	concept := r.concept(i)
	observer := n.relation == relationObserved && (n.kind == typeText || isDCM(concept, conceptObserverType))
	if n.number != none || observer || isLanguage(concept) || isDCM(concept, conceptObserverName) || isDCM(concept, conceptSubjectName) {
		return
	}
	s := Statement{Path: r.path(i), Concept: concept}
	if n.kind == typeCode {
		s.Value = n.item.Code(dcm.ConceptCodeSequence)
	} else {
		s.Text = n.item.Text(dcm.TextValue)
	}
	r.doc.Statements = append(r.doc.Statements, s)
}
