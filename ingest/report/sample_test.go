package report

import (
	"fmt"
	"strings"

	"leadline/ingest/dcm"
	b "leadline/ingest/internal/dcmbuild"
)

// The items of this file are an invented report, made piece by piece.

// code is "value|scheme|meaning".
func code(tag dcm.Tag, c string) dcm.Element {
	p := strings.SplitN(c, "|", 3)
	return b.Code(tag, p[0], p[1], p[2])
}

// item is a content item: relationship, value type, concept (may be empty), more
// elements, children.
func item(relation, kind, concept string, value []dcm.Element, children ...dcm.Dataset) dcm.Dataset {
	d := b.Set()
	if relation != "" {
		d.Elements = append(d.Elements, b.Text(dcm.RelationshipType, "CS", relation))
	}
	if kind != "" {
		d.Elements = append(d.Elements, b.Text(dcm.ValueType, "CS", kind))
	}
	if concept != "" {
		d.Elements = append(d.Elements, code(dcm.ConceptNameCodeSequence, concept))
	}
	d.Elements = append(d.Elements, value...)
	if len(children) > 0 {
		d.Elements = append(d.Elements, b.Sequence(dcm.ContentSequence, children...))
	}
	return d
}

func group(concept string, children ...dcm.Dataset) dcm.Dataset {
	return item("CONTAINS", "CONTAINER", concept, nil, children...)
}

func root(children ...dcm.Dataset) dcm.Dataset {
	return item("", "CONTAINER", "125200|DCM|Adult Echocardiography Procedure Report", nil, children...)
}

// number is a NUM of value in cm.
func number(concept, value string, children ...dcm.Dataset) dcm.Dataset {
	return numberAs("CONTAINS", concept, value, "cm", children...)
}

func numberAs(relation, concept, value, unit string, children ...dcm.Dataset) dcm.Dataset {
	measured := b.Sequence(dcm.MeasuredValueSequence, b.Set(
		code(dcm.MeasurementUnitsCodeSequence, unit+"|UCUM|"+unit), b.Text(dcm.NumericValue, "DS", value)))
	return item(relation, "NUM", concept, []dcm.Element{measured}, children...)
}

func coded(relation, concept, value string, children ...dcm.Dataset) dcm.Dataset {
	return item(relation, "CODE", concept, []dcm.Element{code(dcm.ConceptCodeSequence, value)}, children...)
}

func text(relation, concept, value string, children ...dcm.Dataset) dcm.Dataset {
	return item(relation, "TEXT", concept, []dcm.Element{b.Text(dcm.TextValue, "UT", value)}, children...)
}

func person(relation, concept, name string) dcm.Dataset {
	return item(relation, "PNAME", concept, []dcm.Element{b.Text(dcm.PersonName, "PN", name)})
}

func scoord(relation, concept, kind string, data []float64, children ...dcm.Dataset) dcm.Dataset {
	return item(relation, "SCOORD", concept, []dcm.Element{b.Number(dcm.GraphicData, "FL", data...), b.Text(dcm.GraphicType, "CS", kind)}, children...)
}

func image(relation, uid string, frames ...string) dcm.Dataset {
	return item(relation, "IMAGE", "", []dcm.Element{b.References(dcm.ReferencedSOPSequence, uid, frames...)})
}

// reference is an item by reference to the path of ordinals.
func reference(relation string, path ...float64) dcm.Dataset {
	return item(relation, "", "", []dcm.Element{b.Number(dcm.ReferencedContentItemIdentifier, "UL", path...)})
}

// line is a polyline of two points on image 1.2.
func line(relation string, data ...float64) dcm.Dataset {
	return scoord(relation, "", "POLYLINE", data, image("SELECTED FROM", "1.2"))
}

const (
	lengthConcept = "410668003|SCT|Length"
	vertexConcept = "121230|DCM|Path Vertex"
	groupConcept  = "125007|DCM|Measurement Group"
	siteConcept   = "363698007|SCT|Finding Site"
)

// graphics writes the graphics of a number for comparison:
// "link:TYPE[x,y x,y]@image#frames".
func graphics(n Numeric) string {
	var out []string
	for _, g := range n.Graphics {
		points := make([]string, len(g.Points))
		for i, p := range g.Points {
			points[i] = fmt.Sprintf("%g,%g", p.X, p.Y)
		}
		s := fmt.Sprintf("%s:%s[%s]", g.Link, g.Type, strings.Join(points, " "))
		for _, ref := range g.Images {
			s += "@" + ref.InstanceUID
			if len(ref.Frames) > 0 {
				s += fmt.Sprint("#", ref.Frames)
			}
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

func modifiersOf(n Numeric) string {
	var out []string
	for _, m := range n.Modifiers {
		value := m.Value.Meaning + m.Text
		if m.Unit.Value != "" {
			value += " " + m.Unit.Value
		}
		out = append(out, m.Name.Meaning+"="+value)
	}
	return strings.Join(out, "; ")
}
