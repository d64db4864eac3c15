package devices

import (
	"cmp"
	"fmt"
	"slices"

	"leadline/analyse"
)

// conclude comes to the verdict of a device and puts its evidence in order.
func (d *device) conclude() {
	d.untold()
	worst := analyse.DeviceSteady
	for i := range d.Remarks {
		r := &d.Remarks[i]
		if d.Device.Serial == "" && r.Verdict == analyse.DeviceContradicts {
			r.Verdict = analyse.DeviceLook // two units of the model would look like this
		}
		if rank(r.Verdict) < rank(worst) {
			worst = r.Verdict
		}
	}
	d.Verdict = worst
	if worst == analyse.DeviceSteady {
		d.remark(analyse.Remark{Reason: analyse.ReasonAgrees, Verdict: analyse.DeviceSteady, Text: d.agreement()})
	}
	slices.SortStableFunc(d.Remarks, func(a, b analyse.Remark) int { return cmp.Compare(rank(a.Verdict), rank(b.Verdict)) })
}

func rank(v analyse.DeviceVerdict) int { return slices.Index(analyse.DeviceVerdicts, v) }

// untold says what stands in the way of a verdict.
func (d *device) untold() {
	say := func(reason analyse.RemarkReason, text string) {
		d.remark(analyse.Remark{Reason: reason, Verdict: analyse.DeviceUntold, Text: text})
	}
	if d.Device.Serial == "" {
		say(analyse.ReasonNoSerial, "no serial number: pictures of several units may stand in this row")
	}
	stated := slices.ContainsFunc(d.readings, func(r *reading) bool { return r.stated })
	switch {
	case d.Compared > 0:
	case len(d.readings) == 0:
		say(analyse.ReasonUncalibrated, "no 2D picture with a scale, so there is nothing to compare")
	case len(d.readings) < fewest:
		say(analyse.ReasonTooFew, fmt.Sprintf("too few to compare: 2D pictures with a scale: %d, needed: %d", len(d.readings), fewest))
	case !stated:
		say(analyse.ReasonUncalibrated, "no picture states its depth (Depth of Scan Field), so which ones must have one scale is not known; only pixel shapes, sizes, and a shift of all scales at once were looked at")
	default:
		say(analyse.ReasonTooFew, fmt.Sprintf("no setting has %d pictures or more to compare", fewest))
	}
}

// agreement says in words what was compared and found to agree.
func (d *device) agreement() string {
	settings, within := 0, 0
	for i := range d.Settings {
		if d.Settings[i].Outliers.Set {
			settings++
			within += len(d.Settings[i].Images)
		}
	}
	text := fmt.Sprintf("%d of %s with a scale could be compared and %s: %d in %s", d.Compared, analyse.Counted(len(d.readings), "picture", "pictures"), analyse.Agree(d.Compared, "agrees", "agree"), within,
		analyse.Counted(settings, "setting, which has one scale", "settings of one scale each"))
	if rest := d.Compared - within; rest > 0 {
		text += fmt.Sprintf(", %d by the depth they show", rest)
	}
	for _, s := range d.Scales {
		if s.Change == analyse.ChangeNone {
			return text + "; no change over time"
		}
	}
	return text + "; too few to judge changes over time"
}
