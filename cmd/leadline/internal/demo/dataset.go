package demo

import (
	"fmt"
	"slices"
	"strings"

	"github.com/suyashkumar/dicom"
	"github.com/suyashkumar/dicom/pkg/tag"
)

// dataSet gathers the elements of one object or of one sequence item. The first
// error sticks and is handed out by elements.
type dataSet struct {
	elems []*dicom.Element
	err   error
}

// put sets an element; what stood under the tag before is replaced.
func (d *dataSet) put(t tag.Tag, value any) {
	e, err := dicom.NewElement(t, value)
	if err != nil {
		d.err = fmt.Errorf("making element %v: %w", t, err)
		return
	}
	d.remove(t)
	d.elems = append(d.elems, e)
}

func (d *dataSet) remove(t tag.Tag) {
	d.elems = slices.DeleteFunc(d.elems, func(e *dicom.Element) bool { return e.Tag == t })
}

// text sets an element of a text kind, DS and IS included; no value leaves it empty.
func (d *dataSet) text(t tag.Tag, values ...string) { d.put(t, values) }

func (d *dataSet) ints(t tag.Tag, values ...int)       { d.put(t, values) }
func (d *dataSet) floats(t tag.Tag, values ...float64) { d.put(t, values) }

// decimals sets a DS element, at most 16 characters a value (PS3.5 6.2).
func (d *dataSet) decimals(t tag.Tag, values ...float64) {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = decimalString(v)
	}
	d.text(t, words...)
}

// items sets a sequence; without items it is empty.
func (d *dataSet) items(t tag.Tag, items ...*dataSet) {
	list := make([][]*dicom.Element, 0, len(items))
	for _, item := range items {
		elems, err := item.elements()
		if err != nil {
			d.err = err
			return
		}
		list = append(list, elems)
	}
	d.put(t, list)
}

// elements hands out the elements in the order of their tags (PS3.5 7.1).
func (d *dataSet) elements() ([]*dicom.Element, error) {
	if d.err != nil {
		return nil, d.err
	}
	slices.SortFunc(d.elems, func(a, b *dicom.Element) int { return a.Tag.Compare(b.Tag) })
	return d.elems, nil
}

// decimalString writes v as DS: as many digits as fit into 16 characters.
func decimalString(v float64) string {
	for digits := 12; digits > 0; digits-- {
		if s := fmt.Sprintf("%.*g", digits, v); len(s) <= 16 && !strings.Contains(s, "e") {
			return s
		}
	}
	return fmt.Sprintf("%.0f", v)
}

// code is a coded concept (PS3.3 section 8.8).
type code struct{ value, scheme, meaning string }

func (c code) item() *dataSet {
	d := &dataSet{}
	d.text(tag.CodeValue, c.value)
	d.text(tag.CodingSchemeDesignator, c.scheme)
	d.text(tag.CodeMeaning, c.meaning)
	return d
}

// reference points at an instance and perhaps at frames of it.
func reference(classUID, instanceUID string, frames ...int) *dataSet {
	d := &dataSet{}
	d.text(tag.ReferencedSOPClassUID, classUID)
	d.text(tag.ReferencedSOPInstanceUID, instanceUID)
	if len(frames) > 0 {
		words := make([]string, len(frames))
		for i, f := range frames {
			words[i] = fmt.Sprint(f)
		}
		d.text(tag.ReferencedFrameNumber, words...)
	}
	return d
}
