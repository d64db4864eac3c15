package indices

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// Explain derives the indices as Derive does, with the same numbers, and hands over
// each that has a value with the steps that led to its uncertainty: what each error
// adds by way of each input, an error that inputs have in common once.
func Explain(study *analyse.Study, each func(x *analyse.Index, work *physical.Work)) {
	have := gather(study)
	names := namesOf(study)
	for i := range All {
		d := &All[i]
		if !d.touched(have) {
			continue
		}
		if x, r, result := d.row(study, have); x.Value != nil {
			each(&x, d.work(&x, r, result, names))
		}
	}
}

func (d *Definition) work(x *analyse.Index, r resolved, result term, names causeNames) *physical.Work {
	w := &physical.Work{}
	from := 0
	for i, t := range r.values {
		in := &d.Inputs[i]
		w.Add(physical.PartValue, in.Symbol+", "+strings.Join(r.used[from:r.ends[i]], ", "), in.Unit, t.value, "%v", t.value)
		from = r.ends[i]
	}
	w.Add(physical.PartValue, "value, by the formula", d.Unit, x.Value.Value, "%v", x.Value.Value)
	for i, t := range r.values {
		if len(t.parts) > 0 {
			unit := physical.Unit(strings.TrimPrefix(string(d.Unit)+" per "+string(d.Inputs[i].Unit), "1 "))
			w.Add(physical.PartUncertainty, "slope by "+d.Inputs[i].Symbol, unit, r.by[i], "%v", r.by[i])
		}
	}
	var sums []float64
	for _, p := range result.parts {
		var args []float64
		for i, t := range r.values {
			if u := t.of(p.cause); u != 0 {
				args = append(args, r.by[i], u)
			}
		}
		if len(args) == 0 {
			continue
		}
		w.Add(physical.PartUncertainty, names.of(p.cause), d.Unit, p.u, physical.Plus(len(args)/2, "%v * %v"), args...)
		sums = append(sums, p.u)
	}
	if len(sums) == 0 {
		w.Add(physical.PartUncertainty, "u, of numbers that are exact", d.Unit, 0, "0")
	} else {
		w.Add(physical.PartUncertainty, "u", d.Unit, x.Value.StdU, "sqrt("+physical.Plus(len(sums), "%v^2")+")", sums...)
	}
	w.Add(physical.PartUncertainty, "U (k=2)", d.Unit, x.Value.ExpandedU(), "2 * %v", x.Value.StdU)
	return w
}

// of is what a cause adds to a value; 0 where it adds nothing.
func (t term) of(c cause) float64 {
	for _, p := range t.parts {
		if p.cause == c {
			return p.u
		}
	}
	return 0
}

// causeNames are the causes of a study in words.
type causeNames struct {
	coordinates map[int]string
	devices     []string
}

func namesOf(study *analyse.Study) causeNames {
	names := causeNames{coordinates: map[int]string{}}
	sharers, of := map[int][]string{}, map[int]*analyse.Coordinate{}
	for i := range study.Measurements {
		m := &study.Measurements[i]
		for _, c := range m.Shared {
			of[c.Of.Number] = c.Of
			sharers[c.Of.Number] = append(sharers[c.Of.Number], fmt.Sprint(m.Number))
		}
	}
	for n, c := range of {
		names.coordinates[n] = coordinateWords(c) + " in measurements " + strings.Join(sharers[n], ", ")
	}
	for _, img := range study.Images {
		if name := deviceOf(img); name != "" && !slices.Contains(names.devices, name) {
			names.devices = append(names.devices, name)
		}
	}
	return names
}

func deviceOf(img *analyse.Image) string {
	if img.Device == nil {
		return ""
	}
	return analyse.DeviceName(img.Device)
}

func coordinateWords(c *analyse.Coordinate) string {
	switch c.Axis {
	case analyse.AxisFrame:
		return fmt.Sprintf("frame %g", c.Point.X)
	case analyse.AxisPeriod:
		return "frame rate"
	}
	return fmt.Sprintf("%s of point (%g, %g)", c.Axis, c.Point.X, c.Point.Y)
}

// of names a cause. Devices are told apart by number: what identifies them is shown
// elsewhere, under the rules of identity.
func (n causeNames) of(c cause) string {
	device := fmt.Sprintf(", device %d of the study", slices.Index(n.devices, c.name)+1)
	switch c.kind {
	case ofCoordinate:
		return n.coordinates[c.number]
	case ofMeasurement:
		return fmt.Sprintf("measurement %d, what is its own", c.number)
	case ofLength:
		return "scale of length" + device
	case ofTime:
		return "scale of time" + device
	case ofVelocity:
		return "scale of velocity" + device
	}
	return "rounding of " + c.name
}
