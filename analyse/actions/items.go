package actions

import (
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// todoOf says what to do about an item of a kind that is missing or falls short.
var todoOf = map[string]string{
	"image":   "Record it next time. If it was recorded, send it to the archive.",
	"measure": "Measure it on the stored images, or next time.",
	"index":   "Measure what it is computed from.",
	"header":  "Fill it in on the device before the scan.",
	"report":  "Write the report, complete and verify it in time.",
}

// notSaid is what to do where headers do not say enough to judge an item.
const notSaid = "Have the device write what its images do not tell. What an image shows can also be given in a study table."

// items puts what a study lacks into its rows: one for what is missing and one for
// what is there in part. What the header does not say is told for the device.
func (l *list) items(s *analyse.Study) {
	for _, item := range s.Items {
		if !item.Required {
			continue
		}
		switch item.Status {
		case analyse.Missing:
			l.lacks(s, item, analyse.ActionMissing, "")
		case analyse.Partial:
			l.lacks(s, item, analyse.ActionPartial, item.Note)
		case analyse.NotAssessable:
			l.unsaid(s, item)
		}
	}
}

func (l *list) lacks(s *analyse.Study, item *analyse.ItemResult, class analyse.ActionClass, note string) {
	r := l.row(key{class: class, study: s}, nil)
	words := titleOf(item)
	if note != "" {
		words += ": " + note
	}
	// What two protocols ask alike stands in the row once.
	l.fault(r, words, words, todoOf[item.Kind]).times = 1
	r.times++
	r.studies[s.UID] = true
}

func (l *list) unsaid(s *analyse.Study, item *analyse.ItemResult) {
	var device *ingest.Device
	name := ""
	if len(s.Devices) > 0 {
		device, name = s.Devices[0], s.Device
	}
	k := key{class: analyse.ActionNotAssessable, device: name, id: "items"}
	if device == nil {
		k.study = s
	}
	r := l.row(k, device)
	f := l.fault(r, item.Protocol+item.Item, titleOf(item)+" cannot be judged", notSaid)
	f.times++
	f.reason = strings.TrimPrefix(item.Note, "could not be judged: ")
	r.times++
	r.studies[s.UID] = true
}

func titleOf(item *analyse.ItemResult) string {
	if item.Title != "" {
		return item.Title
	}
	return item.Item
}
