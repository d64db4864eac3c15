package devices

import (
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
)

// strange is a reading that is not like most of its setting: by how much, as a
// difference of logarithms, and whether it stands alone (an outlier) or with others.
type strange struct {
	*reading
	off     float64
	outlier bool
}

// tellStrange tells of the strange pictures of all settings at once.
func (d *device) tellStrange() {
	outliers, seconds := []strange{}, []strange{}
	for _, s := range d.strange {
		if s.outlier {
			outliers = append(outliers, s)
		} else {
			seconds = append(seconds, s)
		}
	}
	if len(outliers) > 0 {
		d.remark(analyse.Remark{Reason: analyse.ReasonOutlier, Verdict: analyse.DeviceLook,
			Text: fmt.Sprintf("%d of %d compared pictures: another scale than most of %s setting, by up to %+.3g %%%s", len(outliers), d.Compared, analyse.Agree(len(outliers), "its", "their"), percent(furthest(outliers)), d.shared(outliers))})
		d.lookStrange(analyse.ReasonOutlier, outliers)
	}
	if len(seconds) > 0 {
		verdict := verdictOf(furthest(seconds))
		if len(seconds) == 1 || slices.ContainsFunc(seconds, func(s strange) bool { return !s.zeroKnown }) {
			verdict = analyse.DeviceLook
		}
		d.remark(analyse.Remark{Reason: analyse.ReasonTwoValues, Verdict: verdict,
			Text: fmt.Sprintf("%d of %d compared pictures: a second scale of %s setting, up to %+.3g %% off%s", len(seconds), d.Compared, analyse.Agree(len(seconds), "its", "their"), percent(furthest(seconds)), d.shared(seconds))})
		d.lookStrange(analyse.ReasonTwoValues, seconds)
	}
}

func (d *device) lookStrange(reason analyse.RemarkReason, some []strange) {
	for _, s := range some[:min(len(some), mostFiles)] {
		text := fmt.Sprintf("%.4g mm per pixel down, %+.3g %% off, at a stated depth of %.4g mm: compare its depth marks with its scale", s.y, percent(s.off), s.depth)
		if !s.zeroKnown {
			text += "; an enlarged picture would look like this, and the header does not tell"
		}
		d.LookAt = append(d.LookAt, analyse.LookAt{Reason: reason, Image: s.img, Text: text})
	}
}

func furthest(some []strange) float64 {
	most := 0.0
	for _, s := range some {
		if math.Abs(s.off) > math.Abs(most) {
			most = s.off
		}
	}
	return most
}

// shared says what strange pictures have in common, where not all pictures of the
// device have it.
func (d *device) shared(some []strange) string {
	if len(some) < 2 {
		return ""
	}
	same := func(of func(*reading) string) bool {
		return !slices.ContainsFunc(some, func(s strange) bool { return of(s.reading) != of(some[0].reading) })
	}
	switch {
	case len(d.Routes) > 1 && same(func(r *reading) string { return fmt.Sprint(r.route) }):
		return fmt.Sprintf(", all of route %d", some[0].route+1)
	case d.Studies > 1 && same(func(r *reading) string { return r.img.Study.UID }):
		return ", all of one study"
	case len(d.Software) > 1 && same(func(r *reading) string { return r.software }):
		return ", all with software " + orNone(some[0].software)
	}
	return ""
}
