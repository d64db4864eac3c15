package export

import (
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

type imageRow = part[**analyse.Image]

func (w *writer) images() Table {
	d := definition[imageRow]{
		name: "images", title: "Images",
		about:   "One row for each image, a still or a clip.",
		subject: about[**analyse.Image],
		columns: append(imageIdentity(), imageFacts()...),
	}
	n, rows := parts(w, func(s *analyse.Study) []*analyse.Image { return s.Images })
	return d.table(w.rules, n, rows)
}

func image(r imageRow) *analyse.Image { return *r.item }

func imageIdentity() []column[imageRow] {
	return []column[imageRow]{
		studyNumber(ofPart[**analyse.Image]),
		studyDate(ofPart[**analyse.Image]),
		studyUID(ofPart[**analyse.Image]),
		{Column: Column{Name: "sop_uid", Heading: "SOP UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
			Meaning: "SOP Instance UID (0008,0018) of the image."},
			cell: func(r imageRow) Cell { return text(image(r).SOPInstanceUID) }},
		{Column: Column{Name: "path", Heading: "Path", Kind: Text, Width: 40, Place: Back, Rule: deid.Path,
			Meaning: "The file that holds the image."},
			cell: func(r imageRow) Cell { return text(image(r).Path) }},
		{Column: Column{Name: "instance_number", Heading: "Instance number", Kind: Integer, Width: 9, Place: Front,
			Meaning: "Instance Number (0020,0013): how people find the image within the study."},
			cell: func(r imageRow) Cell { return wholeNumber(image(r).InstanceNumber) }},
		{Column: Column{Name: "acquired", Heading: "Acquired", Kind: Moment, Width: 18, Rule: deid.Stamp,
			Meaning: "When the image was acquired, by the device's clock."},
			cell: func(r imageRow) Cell { return moment(image(r).Acquired) }},
		{Column: Column{Name: "kind", Heading: "Kind", Kind: Text, Width: 7, Meaning: "still or clip (more than one frame)."},
			cell: func(r imageRow) Cell { return text(string(image(r).Kind)) }},
		{Column: Column{Name: "modes", Heading: "Modes", Kind: Text, Wording: InWords, Width: 22, Wrap: true,
			Meaning: "Modes of the image, from Image Type and the regions, or from a study table; several are separated by \"; \"."},
			cell: func(r imageRow) Cell { return text(strings.Join(image(r).Modes, listSeparator)) }},
		{Column: Column{Name: "view", Heading: "View", Kind: Text, Wording: ViewTitles, Width: 28, Wrap: true, Rule: deid.Words,
			Meaning: "The view: the meaning of its code, else its name; as a word of protocols where view_source is not header."},
			cell:   func(r imageRow) Cell { return text(image(r).View) },
			ruleOf: viewRule},
	}
}

// viewRule keeps the meaning of public codes, and treats a name as free text.
func viewRule(r imageRow) deid.Rule {
	if source := image(r).ViewSource; source != "" && source != analyse.ViewOfHeader {
		return deid.Keep // a word of the vocabulary
	}
	view := &image(r).Instance.Image.View
	if view.Code.Meaning == "" || !public(view.Code.Scheme) {
		return deid.Words
	}
	for _, m := range view.Modifiers {
		if !public(m.Scheme) {
			return deid.Words
		}
	}
	return deid.Keep
}

// public tells that a coding scheme is not one of a site or maker, whose
// designators begin with 99 (PS3.16 section 8).
func public(scheme string) bool { return scheme != "" && !strings.HasPrefix(scheme, "99") }

func imageFacts() []column[imageRow] {
	return []column[imageRow]{
		{Column: Column{Name: "rows", Heading: "Rows (pixels)", Kind: Integer, Unit: "{pixel}", Width: 8, Meaning: "Height of the image."},
			cell: func(r imageRow) Cell {
				return extent(image(r).Instance.Image, func(i *ingest.Image) int { return i.Rows })
			}},
		{Column: Column{Name: "columns", Heading: "Columns (pixels)", Kind: Integer, Unit: "{pixel}", Width: 9, Meaning: "Width of the image."},
			cell: func(r imageRow) Cell {
				return extent(image(r).Instance.Image, func(i *ingest.Image) int { return i.Columns })
			}},
		{Column: Column{Name: "frames", Heading: "Frames", Kind: Integer, Width: 8, Meaning: "Number of frames, 1 for a still."},
			cell: func(r imageRow) Cell {
				return extent(image(r).Instance.Image, func(i *ingest.Image) int { return i.Frames })
			}},
		{Column: Column{Name: "frame_rate_hz", Heading: "Frame rate (1/s)", Kind: Number, Unit: "Hz", Width: 10, Places: 1,
			Meaning: "Frames per second of a clip, from the most trusted timing it has (see \"How it was computed\"); absent where it has none."},
			cell: func(r imageRow) Cell { return optional(image(r).FrameRateHz) }},
		{Column: Column{Name: "duration_s", Heading: "Duration (s)", Kind: Number, Unit: "s", Width: 9, Places: 2,
			Meaning: "Time from the first to the last frame of a clip."},
			cell: func(r imageRow) Cell { return optional(image(r).DurationS) }},
		{Column: Column{Name: "depth_mm", Heading: "Depth (mm)", Kind: Number, Unit: "mm", Width: 8, Places: 1, Meaning: "Depth of scan field."},
			cell: func(r imageRow) Cell { return optional(image(r).DepthMM) }},
		{Column: Column{Name: "regions", Heading: "Regions", Kind: Integer, Width: 8, Meaning: "Number of calibrated regions the file describes, rows of regions.csv."},
			cell: func(r imageRow) Cell { return count(len(image(r).Regions)) }},
		{Column: Column{Name: "calibration", Heading: "Calibration", Kind: Text, Width: 18, Signal: ByWord,
			Meaning: "Where the scale of the image comes from: region, pixel-spacing or none; with suspect where it contradicts the image."},
			cell: func(r imageRow) Cell { return text(image(r).Calibration) }},
		{Column: Column{Name: "mechanical_index", Heading: "Mechanical index", Kind: Number, Unit: "1", Width: 11, Places: 2,
			Meaning: "Mechanical index (0018,5022) as the file gives it."},
			cell: func(r imageRow) Cell { return optional(image(r).Instance.Image.Acoustic.Mechanical) }},
		{Column: Column{Name: "thermal_index", Heading: "Thermal index", Kind: Number, Unit: "1", Width: 9, Places: 2,
			Meaning: "The largest thermal index that the file gives."},
			cell: func(r imageRow) Cell { return optional(image(r).ThermalIndex) }},
		{Column: Column{Name: "thermal_index_kind", Heading: "Kind of thermal index", Kind: Text, Width: 14,
			Meaning: "Which thermal index it is, the largest of those given: TIS (soft tissue), TIB (bone), TIC (cranial bone)."},
			cell: func(r imageRow) Cell { return text(image(r).ThermalIndexKind) }},
		{Column: Column{Name: "view_source", Heading: "Source of the view", Kind: Text, Width: 12,
			Meaning: "Where the view was learned: header, label (a study table), annotation (a text of a presentation state or an overlay) or report."},
			cell: func(r imageRow) Cell { return text(string(image(r).ViewSource)) }},
		{Column: Column{Name: "label_note", Heading: "Note of the label", Kind: Text, Width: 30, Wrap: true, Rule: deid.Patient,
			Meaning: "What the study table notes of the image; with full identity only, for it is free text."},
			cell: func(r imageRow) Cell { return text(image(r).LabelNote) }},
	}
}

func wholeNumber(v ingest.Optional[int64]) Cell {
	if !v.Set {
		return Cell{}
	}
	return integer(v.Value)
}

// extent is absent where the file does not say: 0 stands for that.
func extent(img *ingest.Image, of func(*ingest.Image) int) Cell {
	if n := of(img); n > 0 {
		return count(n)
	}
	return Cell{}
}
