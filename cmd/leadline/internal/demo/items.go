package demo

import "fmt"

// status is how a study stands against a protocol item.
type status string

// The statuses of completeness.csv.
const (
	met           status = "met"
	partial       status = "partial"
	missing       status = "missing"
	notAssessable status = "not-assessable"
	notApplicable status = "not-applicable"
)

// standing is one item of the protocol that a study is held against: how it stands
// by the files alone, and where the study table is given too.
type standing struct {
	item          string
	byFiles, with status
}

// asked is the protocol of a kind of study, and how a study that is drawn without
// defect stands: what is drawn is listed as met, what is left out as missing. It is
// written down from what the builders draw, item by item, and no part of it comes
// from an audit.
type asked struct {
	protocol string
	items    []standing
}

func all(s status, ids ...string) []standing {
	list := make([]standing, len(ids))
	for i, id := range ids {
		list[i] = standing{id, s, s}
	}
	return list
}

func joinStandings(lists ...[]standing) []standing {
	var out []standing
	for _, list := range lists {
		out = append(out, list...)
	}
	return out
}

// plain are the standings of each kind.
var plain = map[kind]asked{
	heart: {"newborn-heart-function", all(met,
		"patient-weight", "study-date", "device-serial", "operator",
		"parasternal-long-axis-clip", "left-ventricle-m-mode", "short-axis-base", "apical-four-chamber-clip",
		"tricuspid-annulus-m-mode", "left-outflow-strip", "subcostal-clip", "duct-clip", "duct-colour-clip", "duct-strip",
		"tricuspid-strip", "arch-clip",
		"lv-diameter-diastole", "lv-diameter-systole", "left-atrium", "aortic-root", "tapse", "left-outflow-diameter",
		"left-outflow-flow", "heart-rate", "report-complete", "report-in-time")},
	// The clips of a lung last a third of a second, the protocol wants three seconds.
	lung: {"newborn-lung-6-zones", joinStandings(
		all(met, "study-date", "device-serial", "transducer", "report-complete"),
		all(partial, "upper-anterior-right", "lower-anterior-right", "lateral-right", "upper-anterior-left", "lower-anterior-left", "lateral-left"),
		all(missing, "score"))},
	head: {"newborn-head", joinStandings(
		all(met, "study-date", "device-serial", "coronal-foramina", "coronal-sweep", "sagittal-midline",
			"ventricular-index-left", "ventricular-index-right", "anterior-horn-width-left",
			"anterior-cerebral-artery-strip", "anterior-cerebral-artery-resistance", "report-complete"),
		all(missing, "coronal-frontal", "coronal-frontal-horns", "coronal-cerebellum", "coronal-trigones", "coronal-occipital",
			"parasagittal-right", "insula-right", "parasagittal-left", "insula-left", "sagittal-sweep", "mastoid", "near-field",
			"anterior-horn-width-right", "thalamo-occipital-distance-left", "thalamo-occipital-distance-right",
			"third-ventricle-width", "side-marked"),
		all(notApplicable, "cerebellar-diameter"))},
	vessels: {"newborn-vessels", joinStandings(
		all(met, "study-date", "study-time", "device-serial", "sma-strip", "sma-velocities", "sma-end-diastolic", "sma-resistance", "report-complete"),
		all(missing, "celiac-strip", "renal-strip-right", "renal-strip-left"),
		all(notApplicable, "celiac-velocities", "celiac-end-diastolic", "celiac-resistance", "renal-resistance-right", "renal-resistance-left"))},
}

// stand begins a study with the standings of its kind.
func (s *study) stand() {
	s.protocol = plain[s.kind].protocol
	s.items = append([]standing(nil), plain[s.kind].items...)
}

// becomes changes how the study stands against items, by the files and with the
// study table.
func (s *study) becomes(byFiles, with status, items ...string) {
	for _, item := range items {
		found := false
		for i := range s.items {
			if s.items[i].item == item {
				s.items[i].byFiles, s.items[i].with, found = byFiles, with, true
			}
		}
		if !found {
			panic(fmt.Sprintf("demo: a study of the %s has no item %s", s.kind, item))
		}
	}
}

// itemsTable is the name of the table of all items.
const itemsTable = "truth-items.csv"

// itemsCSV writes how every study stands against every item of the protocol of its
// kind.
func itemsCSV(studies []*study) ([]byte, error) {
	rows := [][]string{{"study_uid", "protocol", "item", "status", "status_with_labels"}}
	for _, s := range studies {
		for _, i := range s.items {
			rows = append(rows, []string{s.uid, s.protocol, i.item, string(i.byFiles), string(i.with)})
		}
	}
	return csvBytes(rows)
}
