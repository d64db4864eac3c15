package demo

import (
	"fmt"

	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest"
)

// node is one content item with its children (PS3.3 C.17.3).
type node struct {
	dataSet
	kids []*node
}

// item makes a child of a relation, value type and concept.
func (n *node) item(relation, valueType string, concept code) *node {
	kid := &node{}
	kid.text(tag.RelationshipType, relation)
	kid.text(tag.ValueType, valueType)
	if concept.value != "" {
		kid.items(tag.ConceptNameCodeSequence, concept.item())
	}
	n.kids = append(n.kids, kid)
	return kid
}

func (n *node) container(concept code) *node {
	kid := n.item("CONTAINS", "CONTAINER", concept)
	kid.text(tag.ContinuityOfContent, "SEPARATE")
	return kid
}

func (n *node) coded(relation string, concept, value code) *node {
	kid := n.item(relation, "CODE", concept)
	kid.items(tag.ConceptCodeSequence, value.item())
	return kid
}

func (n *node) worded(relation string, concept code, text string) {
	n.item(relation, "TEXT", concept).text(tag.TextValue, text)
}

// close writes the children into their parents.
func (n *node) close() *dataSet {
	if len(n.kids) > 0 {
		items := make([]*dataSet, len(n.kids))
		for i, kid := range n.kids {
			items[i] = kid.close()
		}
		n.items(tag.ContentSequence, items...)
	}
	return &n.dataSet
}

// tree builds the content of the report.
func (r *report) tree() *node {
	root := &node{}
	root.text(tag.ValueType, "CONTAINER")
	root.items(tag.ConceptNameCodeSequence, r.title.item())
	root.text(tag.ContinuityOfContent, "SEPARATE")
	template := &dataSet{}
	template.text(tag.MappingResource, "DCMR")
	template.text(tag.TemplateIdentifier, r.template)
	root.items(tag.ContentTemplateSequence, template)
	r.context(root)
	places := r.library(root)
	r.findings(root, places)
	return root
}

// context is language, observer and, in words, the summary (TID 1204, 1001).
func (r *report) context(root *node) {
	root.coded("HAS CONCEPT MOD", code{"121049", "DCM", "Language of Content Item and Descendants"}, code{"en", "RFC5646", "English"})
	root.coded("HAS OBS CONTEXT", code{"121005", "DCM", "Observer Type"}, code{"121006", "DCM", "Person"})
	root.item("HAS OBS CONTEXT", "PNAME", code{"121008", "DCM", "Person Observer Name"}).text(tag.PersonName, r.study.operator)
	if r.template == templateEcho {
		summary := root.container(code{"55112-7", "LN", "Summary"})
		summary.worded("CONTAINS", code{"121071", "DCM", "Finding"}, r.study.patient.phrase)
	} else {
		root.coded("HAS CONCEPT MOD", code{"121058", "DCM", "Procedure reported"}, code{"16310003", "SCT", "Ultrasonography"})
	}
}

// library lists the images that numbers were taken from, and returns the place of
// each in the tree as ordinals from the root, which is 1 (PS3.3 C.17.3.2.4).
func (r *report) library(root *node) map[string][]int {
	list := root.container(code{"111028", "DCM", "Image Library"})
	ordinal := len(root.kids)
	places := map[string][]int{}
	target, prefix := list, []int{1, ordinal}
	if r.template == templateMeasurements {
		target = list.container(code{"126200", "DCM", "Image Library Group"})
		prefix = append(prefix, 1)
	}
	for _, sec := range r.sections {
		for _, n := range sec.numbers {
			if n.imageUID == "" || places[n.imageUID] != nil {
				continue
			}
			target.item("CONTAINS", "IMAGE", code{}).items(tag.ReferencedSOPSequence, reference(n.imageClass, n.imageUID))
			places[n.imageUID] = append(append([]int{}, prefix...), len(target.kids))
		}
	}
	return places
}

// findings writes the sections: of TID 5222 in an echo report, as groups of TID
// 1501 in a measurement report.
func (r *report) findings(root *node, places map[string][]int) {
	parent := root
	if r.template == templateMeasurements {
		parent = root.container(code{"126010", "DCM", "Imaging Measurements"})
	}
	for i, sec := range r.sections {
		group := parent
		if r.template == templateEcho {
			group = root.container(code{"59776-5", "LN", "Findings"})
			group.coded("HAS CONCEPT MOD", findingSite, sec.site)
		}
		group = group.container(code{"125007", "DCM", "Measurement Group"})
		if r.template == templateMeasurements {
			group.worded("HAS OBS CONTEXT", code{"112039", "DCM", "Tracking Identifier"}, fmt.Sprintf("Group %d", i+1))
			uid := group.item("HAS OBS CONTEXT", "UIDREF", code{"112040", "DCM", "Tracking Unique Identifier"})
			uid.text(tag.UID, hashUID(r.uid, "group", fmt.Sprint(i)))
			group.coded("HAS CONCEPT MOD", findingSite, sec.site)
		}
		for _, n := range sec.numbers {
			n.write(group, r.byReference, places)
		}
	}
}

// write makes the NUM item with its modifiers and its caliper (TID 300, 320).
func (n *number) write(group *node, byReference bool, places map[string][]int) {
	num := group.item("CONTAINS", "NUM", n.concept)
	if n.text == "" {
		num.items(tag.MeasuredValueSequence)
		num.items(tag.NumericValueQualifierCodeSequence, code{"114006", "DCM", "Measurement failure"}.item())
	} else {
		value := &dataSet{}
		value.text(tag.NumericValue, n.text)
		value.items(tag.MeasurementUnitsCodeSequence, n.unit.item())
		num.items(tag.MeasuredValueSequence, value)
	}
	for _, m := range n.modifiers {
		num.coded("HAS CONCEPT MOD", m.name, m.value)
	}
	if n.imageView.value != "" {
		num.coded("HAS ACQ CONTEXT", code{"111031", "DCM", "Image View"}, n.imageView)
	}
	for plane := n; plane != nil; plane = plane.also {
		for _, part := range plane.parts() {
			part.draw(num, byReference, places)
		}
	}
}

// parts are the graphics of a caliper: two for the long axis and the contour of a
// cavity, else one, or none.
func (n *number) parts() []*number {
	switch {
	case len(n.points) == 0:
		return nil
	case n.geometry != ingest.GeometryDiscs:
		return []*number{n}
	}
	axis, contour := *n, *n
	axis.geometry, axis.points = ingest.GeometryLine, n.points[:2]
	contour.geometry, contour.points = ingest.GeometryPolygon, n.points[2:]
	return []*number{&axis, &contour}
}

// draw makes the SCOORD item of one graphic.
func (n *number) draw(num *node, byReference bool, places map[string][]int) {
	purpose := purposePath
	if n.geometry != ingest.GeometryLine && n.geometry != ingest.GeometryPolyline {
		purpose = purposeSource
	}
	if n.geometry == ingest.GeometryPolygon {
		purpose = purposeOutline
	}
	scoord := num.item("INFERRED FROM", "SCOORD", purpose)
	scoord.text(tag.GraphicType, graphicTypes[n.geometry])
	scoord.floats(tag.GraphicData, n.graphicData()...)
	if byReference {
		ref := &node{}
		ref.text(tag.RelationshipType, "SELECTED FROM")
		ref.ints(tag.ReferencedContentItemIdentifier, places[n.imageUID]...)
		scoord.kids = append(scoord.kids, ref)
		return
	}
	var frames []int
	if n.frame > 0 {
		frames = []int{n.frame}
	}
	scoord.item("SELECTED FROM", "IMAGE", code{}).items(tag.ReferencedSOPSequence, reference(n.imageClass, n.imageUID, frames...))
}

// graphicTypes are the terms of SCOORD; a polygon is a polyline that ends where it
// began (PS3.3 C.18.6.1.2).
var graphicTypes = map[ingest.Geometry]string{
	ingest.GeometryPoint: "POINT", ingest.GeometryLine: "POLYLINE", ingest.GeometryPolyline: "POLYLINE",
	ingest.GeometryPolygon: "POLYLINE", ingest.GeometryCircle: "CIRCLE", ingest.GeometryEllipse: "ELLIPSE",
}

// graphicData is column and row by turns.
func (n *number) graphicData() []float64 {
	var flat []float64
	for _, p := range n.points {
		flat = append(flat, p.X, p.Y)
	}
	if n.geometry == ingest.GeometryPolygon {
		flat = append(flat, flat[0], flat[1])
	}
	return flat
}
