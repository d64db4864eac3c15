package indices

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/analyse/measures"
)

// Values of one measure that were taken in pictures of different modes are of two
// methods and never averaged. An index takes all its inputs in one mode where one holds
// them all. Which that is, where several do: the mode that the catalogue names for the
// measure (an excursion is an M-mode measure), else 2D before M-mode (Lopez 2010, J Am
// Soc Echocardiogr 23:465, on lengths; from memory), then the others (common practice,
// no source).
var modeOrder = []analyse.Mode{analyse.Mode2D, analyse.ModeMMode, analyse.ModeSpectral, analyse.ModeTrace, analyse.ModeUntold}

// source is an input with the definition that it belongs to, which tells the side.
type source struct {
	in *Input
	d  *Definition
}

// sources are the inputs that are measured, those of stand-ins included.
func (d *Definition) sources() []source {
	var list []source
	for i := range d.Inputs {
		in := &d.Inputs[i]
		if in.Measure != "" {
			list = append(list, source{in, d})
		}
		if in.As != nil {
			list = append(list, in.As.sources()...)
		}
	}
	return list
}

// oneMethod leaves of each measure the values of one mode, and says so where others were
// left out.
func (v values) oneMethod(d *Definition) (values, []string) {
	var modes [][]analyse.Mode
	var split []source
	for _, s := range d.sources() {
		found := usedModes(v.of(s.in.Measure, s.in, s.d), s.in)
		if len(found) > 0 {
			modes = append(modes, found)
		}
		if len(found) > 1 {
			split = append(split, s)
		}
	}
	if len(split) == 0 {
		return v, nil
	}
	common := slices.DeleteFunc(slices.Clone(modeOrder), func(m analyse.Mode) bool {
		return slices.ContainsFunc(modes, func(list []analyse.Mode) bool { return !slices.Contains(list, m) })
	})
	var notes []string
	drop := map[*analyse.Measurement]bool{}
	for _, s := range split {
		all := v.of(s.in.Measure, s.in, s.d)
		found := usedModes(all, s.in)
		kept := preferred(s.in.Measure, found, common)
		for _, m := range all {
			drop[m] = drop[m] || m.Mode != kept
		}
		notes = append(notes, fmt.Sprintf("%s was taken in %s: other methods, not averaged; that of %s counts", measures.TitleOf(s.in.Measure), worded(found), modeWord(kept)))
	}
	if len(common) == 0 {
		notes = append(notes, "no mode holds all inputs")
	}
	return v.without(drop), notes
}

// usedModes are the modes of the values that an input would be made of. Which values
// these are is only asked where there is more than one mode at all.
func usedModes(all []*analyse.Measurement, in *Input) []analyse.Mode {
	found := modesOf(all)
	if len(found) > 1 {
		list, _ := candidates(all, in)
		found = modesOf(list)
	}
	return found
}

// modesOf are the modes of values in their order of preference.
func modesOf(list []*analyse.Measurement) []analyse.Mode {
	var found []analyse.Mode
	for _, m := range list {
		if !slices.Contains(found, m.Mode) {
			found = append(found, m.Mode)
		}
	}
	slices.SortFunc(found, func(a, b analyse.Mode) int { return slices.Index(modeOrder, a) - slices.Index(modeOrder, b) })
	return found
}

// preferred is the mode of a measure that counts: of those that hold all inputs, or
// where none does of all found.
func preferred(measure string, found, common []analyse.Mode) analyse.Mode {
	if len(common) > 0 {
		found = common
	}
	if m, ok := measures.Builtin().ByID(measure); ok && slices.Contains(found, analyse.Mode(m.Plane)) {
		return analyse.Mode(m.Plane)
	}
	return found[0]
}

func (v values) without(drop map[*analyse.Measurement]bool) values {
	kept := values{byMeasure: make(map[string][]*analyse.Measurement, len(v.byMeasure)), devices: v.devices}
	for id, list := range v.byMeasure {
		kept.byMeasure[id] = only(list, func(m *analyse.Measurement) bool { return !drop[m] })
	}
	return kept
}

func worded(modes []analyse.Mode) string {
	text := ""
	for i, m := range modes {
		switch {
		case i > 0 && i == len(modes)-1:
			text += " and "
		case i > 0:
			text += ", "
		}
		text += modeWord(m)
	}
	return text
}

func modeWord(m analyse.Mode) string {
	switch m {
	case analyse.Mode2D:
		return "2D"
	case analyse.ModeMMode:
		return "M-mode"
	case analyse.ModeUntold:
		return "a mode not told"
	}
	return "a " + string(m) + " strip"
}
