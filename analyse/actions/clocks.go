package actions

import "leadline/analyse"

// clockWords say what is wrong with a clock, and what to do.
var clockWords = map[analyse.ClockAspect][2]string{
	analyse.AspectFrames:   {"frames of clips come at uneven intervals", "Ask the maker why; time nothing across such a step by counting frames."},
	analyse.AspectRounding: {"frame times are rounded", "Trust heart rates from clips of this device to no better than that; ask the maker for the unrounded time."},
	analyse.AspectOrder:    {"times go back while image numbers go on", "See whether the clock was set on those days."},
	analyse.AspectZone:     {"the stated time zone changes", "Set the time zone of the device."},
	analyse.AspectOffset:   {"the clock seems to be off", "Compare the clock with one that is set by network, and set it."},
	analyse.AspectDrift:    {"the clock seems to drift", "Have the device take its time from the network, or set it every month."},
	analyse.AspectStep:     {"the clock and the archive change by an hour at different times", "Set daylight saving alike on the device and the archive."},
}

// told are the aspects that a finding of their own tells in another row.
var told = map[analyse.ClockAspect]bool{analyse.AspectOrder: true}

// clock puts what should be looked at of the clocks of a device into one row. A fact
// that shows against several stamps is told once.
func (l *list) clock(c *analyse.DeviceClock) {
	for i := range c.Facts {
		f := &c.Facts[i]
		if f.Verdict != analyse.ClockLook || told[f.Aspect] {
			continue
		}
		r := l.row(key{class: analyse.ActionDevice, device: analyse.DeviceName(c.Device), id: "clock"}, c.Device)
		words := clockWords[f.Aspect]
		if fault := l.fault(r, string(f.Aspect), words[0], words[1]); fault.times == 0 {
			fault.times, fault.reason = 1, f.Evidence
			r.times++
		}
	}
}
