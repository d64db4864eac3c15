package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/analyse/physical"
	"leadline/export"
	"leadline/export/sketch"
	"leadline/export/steps"
	"leadline/ingest"
)

// measured is one measurement with the steps that led to it.
type measured struct {
	Measurement int          `json:"measurement"`
	Steps       []steps.Line `json:"steps"`
	Terms       []steps.Term `json:"terms"`
	work        *physical.Work
}

// explainer finds the steps of measurements. Those of one study are kept at a time:
// files of a study follow one another.
type explainer struct {
	archive *ingest.Archive
	run     audit.Options
	result  *analyse.Result
	uid     string
	work    map[int]*physical.Work
}

func (e *explainer) of(uid string) map[int]*physical.Work {
	if e.uid == uid && e.work != nil {
		return e.work
	}
	e.uid, e.work = uid, map[int]*physical.Work{}
	audit.Explain(e.archive, e.run, e.study(uid), func(m *analyse.Measurement, w *physical.Work) { e.work[m.Number] = w })
	return e.work
}

// study is the whole study of which an excerpt is shown.
func (e *explainer) study(uid string) *analyse.Study {
	return e.result.Studies[slices.IndexFunc(e.result.Studies, func(s *analyse.Study) bool { return s.UID == uid })]
}

// explain adds the steps of the measurements whose caliper lies on the image.
func (v *fileView) explain(one *analyse.Result, sopUID string, e *explainer) {
	for _, s := range one.Studies {
		for i := range s.Measurements {
			m := &s.Measurements[i]
			if w := e.of(s.UID)[m.Number]; w != nil && m.SOPUID == sopUID {
				v.Steps = append(v.Steps, measured{m.Number, steps.Lines(w), steps.Terms(w), w})
			}
		}
		if len(s.Indices) > 0 {
			v.explainIndices(e.study(s.UID))
		}
	}
}

// row is a row of a table as words by column name.
type row map[string]string

func (v *fileView) rows(table string) []row {
	t := v.tables[table]
	var rows []row
	if t.Rows == nil {
		return nil
	}
	for cells := range t.Rows {
		r := row{}
		for i, c := range t.Columns {
			r[c.Name] = words(cells[i])
		}
		rows = append(rows, r)
	}
	return rows
}

// measurements prints each with its steps, where its caliper lies on this file.
func (v *fileView) measurements(b *strings.Builder) {
	for _, r := range v.rows("measurements") {
		fmt.Fprintln(b)
		b.WriteString(steps.Wrap(fmt.Sprintf("Measurement %s: %s", r["measurement"], cmp.Or(r["label"], r["measure"], r["quantity"])), 0))
		b.WriteString(steps.Wrap(caliperWords(r), 2))
		b.WriteString(steps.Wrap(valueWords(r), 2))
		if r["note"] != "" {
			b.WriteString(steps.Wrap("note: "+r["note"], 2))
		}
		at := slices.IndexFunc(v.Steps, func(m measured) bool { return strconv.Itoa(m.Measurement) == r["measurement"] })
		switch {
		case at >= 0:
			b.WriteString(steps.Text(v.Steps[at].work))
			b.WriteString(steps.Wrap(conclusion(r), 2))
		case r["rebuilt"] != "":
			fmt.Fprintln(b, "  (its steps stand with the image that the caliper lies on)")
		}
	}
}

// caliperWords says what was measured and on what.
func caliperWords(r row) string {
	words := []string{}
	for _, word := range []string{r["measure"], r["quantity"], r["geometry"]} {
		if word != "" {
			words = append(words, word)
		}
	}
	if first, last, two := strings.Cut(r["frame"], " "); two {
		words = append(words, "frames "+first+" and "+last)
	} else if first != "" {
		words = append(words, "frame "+first)
	}
	switch {
	case r["region"] != "":
		words = append(words, "scaled by region "+r["region"])
	case r["calibration"] != "none":
		words = append(words, "scaled by "+r["calibration"])
	}
	if second := r["second_sop_uid"]; second != "" {
		words = append(words, "second plane on image "+second)
	}
	return strings.Join(append(words, "from a "+r["source"]), ", ")
}

// valueWords is the verdict in one line.
func valueWords(r row) string {
	var words []string
	if r["rebuilt"] != "" {
		words = append(words, fmt.Sprintf("rebuilt %s ± %s %s", r["rebuilt"], r["uncertainty"], r["rebuilt_unit"]))
	}
	if r["reported"] != "" {
		words = append(words, strings.TrimSpace("reported "+r["reported"]+" "+r["reported_unit"]))
	}
	return strings.Join(append(words, r["verdict"]), "; ")
}

// conclusion ends the steps: the value rounded, and what the comparison says.
func conclusion(r row) string {
	text := fmt.Sprintf("Rounded to two digits of U (JCGM 100, 7.2.6): %s ± %s %s", r["rebuilt"], r["uncertainty"], r["rebuilt_unit"])
	if r["difference"] == "" {
		return text
	}
	sign := "<="
	if r["verdict"] == string(analyse.VerdictDiffers) {
		sign = ">"
	}
	return fmt.Sprintf("%s; |%s| %s %s, so: %s", text, r["difference"], sign, r["tolerance"], r["verdict"])
}

// regions prints where the regions lie, then each with bounds and scale.
func (v *fileView) regions(b *strings.Builder) {
	rows := v.rows("regions")
	if len(rows) == 0 {
		return
	}
	fmt.Fprintf(b, "\nRegions (the picture dotted, %d columns, %d rows; numbered as below)\n\n", v.inst.Image.Columns, v.inst.Image.Rows)
	for _, line := range sketch.Draw(v.inst.Image.Columns, v.inst.Image.Rows, boxesOf(v.inst.Image), steps.Width-2) {
		fmt.Fprintln(b, "  "+line)
	}
	for _, r := range rows {
		fmt.Fprintf(b, "\n  %s  %s\n", r["region"], strings.Trim(r["format"]+", "+r["data_type"], ", "))
		fmt.Fprintf(b, "     columns %s to %s, rows %s to %s\n", r["x0"], r["x1"], r["y0"], r["y1"])
		for _, axis := range []string{"x", "y"} {
			text := fmt.Sprintf("%s in %s", axis, r["units_"+axis])
			if r["delta_"+axis] != "" && r["units_"+axis] != "none" {
				text += fmt.Sprintf(", %s %s a pixel", r["delta_"+axis], r["units_"+axis])
			}
			if mm := r["mm_per_pixel_"+axis]; mm != "" {
				text += fmt.Sprintf(" (%s mm)", mm)
			}
			fmt.Fprintf(b, "     %s\n", text)
		}
		if r["note"] != "" {
			b.WriteString(steps.Wrap(r["note"], 5))
		}
	}
}

// boxesOf are the regions whose bounds are whole.
func boxesOf(img *ingest.Image) []sketch.Box {
	var boxes []sketch.Box
	for i := range img.Regions {
		r := &img.Regions[i]
		if r.MinX0.Set && r.MinY0.Set && r.MaxX1.Set && r.MaxY1.Set {
			boxes = append(boxes, sketch.Box{Number: r.Ordinal, X0: int(r.MinX0.Value), Y0: int(r.MinY0.Value), X1: int(r.MaxX1.Value), Y1: int(r.MaxY1.Value)})
		}
	}
	return boxes
}

func (v *fileView) findings(b *strings.Builder) {
	rows := v.rows("findings")
	if len(rows) > 0 {
		fmt.Fprintf(b, "\nFindings\n")
	}
	for _, r := range rows {
		b.WriteString(steps.Wrap(fmt.Sprintf("%s %s: %s", r["severity"], r["finding"], r["message"]), 2))
	}
}

// treeOf is the tree of a report in brief: its headings, and under each the
// numbers with what they were measured on.
func treeOf(inst *ingest.Instance, book *export.Book) []string {
	if inst.Report == nil {
		return nil
	}
	var lines, above []string
	for i := range inst.Report.Numerics {
		n := &inst.Report.Numerics[i]
		path := make([]string, 0, len(n.Containers))
		for k := len(n.Containers) - 1; k >= 0; k-- {
			path = append(path, book.Heading(inst.Study.UID, n.Containers[k]))
		}
		for depth, heading := range path {
			if depth < len(above) && above[depth] == heading {
				continue
			}
			above = nil
			lines = append(lines, strings.Repeat("  ", depth)+heading)
		}
		above = path
		lines = append(lines, strings.Repeat("  ", len(path))+book.Heading(inst.Study.UID, n.Concept)+mark(len(n.Graphics)))
	}
	return lines
}

func mark(graphics int) string {
	if graphics > 0 {
		return " *"
	}
	return ""
}
