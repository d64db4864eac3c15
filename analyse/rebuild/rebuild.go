package rebuild

import (
	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/ingest"
)

// Measurements lists all measurements of a study with what could be rebuilt of
// them and the verdict against what was reported. calipers are the rows of caliper
// tables that belong to the study, with SOPUID set; words are the measures that codes
// and labels lead to, nil for those that come with the program.
//
// The order is fixed: reports by SOP Instance UID and place in the tree,
// presentation states by SOP Instance UID and place in the file, tables by file
// and line; then the volumes of two planes. Number counts from 1 in that order.
func Measurements(study *analyse.Study, calipers []ingest.CaliperRow, words *measures.Catalogue) []analyse.Measurement {
	room := len(calipers)
	for _, r := range study.Reports {
		room += len(r.Report.Numerics)
	}
	list := make([]analyse.Measurement, 0, room)
	all := make([]added, 0, room)
	walk(study, calipers, words, false, func(m analyse.Measurement, o *outcome) {
		all = append(all, o.added(len(list), &m)...)
		list = append(list, m)
	})
	share(list, all)
	return list
}

// walk hands over every row in its order, with what it was rebuilt by, nil where it
// was not; steps are in it where they are asked for.
func walk(study *analyse.Study, calipers []ingest.CaliperRow, words *measures.Catalogue, explain bool, each func(analyse.Measurement, *outcome)) {
	images := imagesOf(study)
	number := 0
	var pairs biplanes
	row := func(m analyse.Measurement, o *outcome) {
		number++
		m.Number = number
		if measure, known := words.ByID(m.Measure); known {
			m.Title = measure.Title
		}
		pairs.meet(&m, images)
		each(m, o)
	}
	take := func(c *caliper) {
		c.rule, c.explain = &study.Uncertainty, explain
		if !pairs.later(c) {
			finish(c, images, row)
		}
	}
	fromReports(study, words, take)
	fromPresentations(study, images, words, take)
	fromTables(calipers, words, take)
	pairs.each(func(c *caliper) {
		c.rule, c.explain = &study.Uncertainty, explain
		finish(c, images, row)
	})
}

// imagesOf finds images by SOP Instance UID. The first of a repeated UID stands.
func imagesOf(study *analyse.Study) map[string]*analyse.Image {
	images := make(map[string]*analyse.Image, len(study.Images))
	for _, img := range study.Images {
		if _, taken := images[img.SOPInstanceUID]; !taken {
			images[img.SOPInstanceUID] = img
		}
	}
	return images
}

// finish hands over the rows of one caliper: one, or two for a line in a strip that
// nothing tells the quantity of.
func finish(c *caliper, images map[string]*analyse.Image, each func(analyse.Measurement, *outcome)) {
	c.m.Calibration = analyse.CalibrationNone
	if c.bare {
		each(c.alone(), nil)
		return
	}
	fail := c.stop
	var outcomes []outcome
	switch {
	case fail != nil:
	case len(c.planes) > 0:
		outcomes, fail = c.onPlanes(images)
	default:
		outcomes, fail = c.onImages(images)
	}
	if fail != nil {
		each(c.notRebuilt(fail), nil)
		return
	}
	for i := range outcomes {
		each(c.row(&outcomes[i]), &outcomes[i])
	}
}

// alone is the row of a number without a caliper.
func (c *caliper) alone() analyse.Measurement {
	m := c.m
	m.Quantity = c.want.quantity()
	if m.Reported == nil {
		m.Verdict, m.Reason = analyse.VerdictNotRebuilt, ReasonValueMissing
		c.notes.add("the report holds no number here")
	} else {
		m.Verdict = analyse.VerdictReportedOnly
		c.notes.add("no caliper is stored with the number")
	}
	m.Note = c.notes.String()
	return m
}

// notRebuilt is the row of a caliper that gave no value.
func (c *caliper) notRebuilt(fail *failure) analyse.Measurement {
	m := c.m
	m.Quantity = c.want.quantity()
	m.Verdict, m.Reason = analyse.VerdictNotRebuilt, fail.reason
	c.notes.add(fail.note)
	m.Note = c.notes.String()
	return m
}

// row is the row of one rebuilt value.
func (c *caliper) row(o *outcome) analyse.Measurement {
	m := c.m
	value := o.value
	m.SOPUID, m.Region, m.Calibration = o.image, o.region, o.source
	m.Quantity, m.Rebuilt, m.ScaleU, m.Mode = o.quantity, &value, o.scaleU, o.mode
	remarks := append(notes(nil), c.notes...)
	for _, n := range o.notes {
		remarks.add(n)
	}
	judge(&m, c.want, *o, &remarks)
	m.Faults = c.faults(&m, o)
	remarks.add(analyse.FaultWords(m.Faults))
	m.Note = remarks.String()
	return m
}
