package devices

import (
	"leadline/analyse"
)

// mostFiles is how many files are listed for one reason: enough to see what is meant,
// few enough to be opened.
const mostFiles = 6

func (d *device) remark(r analyse.Remark) { d.Remarks = append(d.Remarks, r) }

// look lists the first files of some readings for a reason.
func (d *device) look(reason analyse.RemarkReason, readings []*reading, text string) {
	for _, r := range readings[:min(len(readings), mostFiles)] {
		d.LookAt = append(d.LookAt, analyse.LookAt{Reason: reason, Image: r.img, Text: text})
	}
}

// outside lists a file whose region reaches outside its picture.
func (d *device) outside(img *analyse.Image) {
	const text = "a region reaches outside the picture: no value of it can be relied on"
	n := 0
	for i := range d.LookAt {
		if d.LookAt[i].Reason == analyse.ReasonOutside {
			n++
		}
	}
	if n == 0 {
		d.remark(analyse.Remark{Reason: analyse.ReasonOutside, Verdict: analyse.DeviceLook, Text: "regions reach outside their pictures (see Findings)"})
	}
	if n < mostFiles {
		d.LookAt = append(d.LookAt, analyse.LookAt{Reason: analyse.ReasonOutside, Image: img, Text: text})
	}
}
