package references

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/terms"
)

// Table are reference rows ready to be held against values. The zero Table has none.
type Table struct {
	byID map[string][]row
}

// row is a reference row with its limits in the unit used inside.
type row struct {
	ingest.ReferenceRow
	low, high ingest.Optional[float64]
	unit      physical.Unit
}

// New reads rows against the measures and indices that there are, given with their
// units. Every id or unit that fits none is an *ingest.TableError, joined.
func New(rows []ingest.ReferenceRow, units map[string]physical.Unit) (*Table, error) {
	t := &Table{byID: map[string][]row{}}
	ids := slices.Sorted(maps.Keys(units))
	var errs []error
	for _, r := range rows {
		unit, known := units[r.ID]
		if !known {
			errs = append(errs, &ingest.TableError{File: r.Table, Line: r.Line, Column: "id", Expected: expectedID(r.ID, ids)})
			continue
		}
		factor, ok := factorTo(unit, r.Unit)
		if !ok {
			errs = append(errs, &ingest.TableError{File: r.Table, Line: r.Line, Column: "unit", Expected: "a unit of this quantity, such as " + string(unit)})
			continue
		}
		t.byID[r.ID] = append(t.byID[r.ID], row{r, scaled(r.Low, factor), scaled(r.High, factor), unit})
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return t, nil
}

func expectedID(word string, ids []string) string {
	if near := terms.Nearest(word, ids); near != "" {
		return "the id of a measure or an index, perhaps " + near
	}
	return "the id of a measure or an index (the README lists the indices, analyse/measures/catalogue.yaml the measures)"
}

// factorTo turns a number in the unit as written into unit.
func factorTo(unit physical.Unit, written string) (float64, bool) {
	if written == string(unit) {
		return 1, true
	}
	c, ok := physical.ParseUnit(written)
	return c.Factor, ok && c.Unit == unit
}

func scaled(v ingest.Optional[float64], factor float64) ingest.Optional[float64] {
	if v.Set {
		v.Value *= factor
	}
	return v
}

// of are the rows of an id. An index of one side of the body that has none of its
// own has those of the index without a side, and the mean of the takes of a measure
// those of the measure.
func (t *Table) of(id string) []row {
	if t == nil {
		return nil
	}
	for _, ending := range []string{"", "-left", "-right", "-mean"} {
		whole, ends := strings.CutSuffix(id, ending)
		if !ends {
			continue
		}
		id = whole
		if rows := t.byID[id]; len(rows) > 0 {
			return rows
		}
	}
	return nil
}
