package protocol

import (
	"go.yaml.in/yaml/v3"

	"leadline/ingest/dcm"
)

// Uncertainty is what a unit knows of the errors of its own calipers and devices.
// Nothing of it is known without a protocol.
type Uncertainty struct {
	// Placement says how well a caliper is placed, by measure.
	Placement []Placement
	// ScaleTolerancePercent is how far the scale of a device may be off.
	ScaleTolerancePercent dcm.Optional[float64]
}

// Placement is the standard uncertainty of one coordinate of a caliper of a
// measure, in pixels: the standard deviation of setting it again and again.
type Placement struct {
	Measure Ref
	Pixels  float64
}

// The bounds of what is taken for an error of a hand or of a scale.
const (
	leastPlacementPX, mostPlacementPX = 0.01, 100
	mostTolerancePercent              = 50
)

func (r *reader) uncertainty(n *yaml.Node) Uncertainty {
	f := r.fieldsOf(n, "uncertainty", uncertaintyKeys...)
	if f == nil {
		return Uncertainty{}
	}
	return f.uncertainty()
}

var uncertaintyKeys = []string{"placement-px", "scale-tolerance-percent"}

func (f *fields) uncertainty() Uncertainty {
	f.shape.tell("placement-px", schema{"type": "object", "propertyNames": measures.schema(),
		"additionalProperties": schema{"type": "number", "minimum": leastPlacementPX, "maximum": mostPlacementPX}})
	u := Uncertainty{ScaleTolerancePercent: f.number("scale-tolerance-percent", 0, mostTolerancePercent)}
	list, ok := f.byKey["placement-px"]
	if !ok {
		return u
	}
	byMeasure := f.fieldsOf(list, "placement-px, as in measure: pixels")
	if byMeasure == nil {
		return u
	}
	for i := 0; i+1 < len(list.Content); i += 2 {
		key := list.Content[i]
		if !kebab.MatchString(key.Value) {
			f.expect(key, "a measure of lower-case letters, digits and hyphens")
			continue
		}
		if px := byMeasure.number(key.Value, leastPlacementPX, mostPlacementPX); px.Set {
			u.Placement = append(u.Placement, Placement{Measure: Ref{ID: key.Value, Line: key.Line, Column: key.Column}, Pixels: px.Value})
		}
	}
	return u
}
