// Package sample builds a result by hand for the tests of export: an invented
// hospital with rows of every kind. All people, devices and numbers are made up.
package sample

import (
	"fmt"
	"math"
	"time"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/ruler"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

// Secrets are strings that identify the patients of the sample: they may stand in
// an output with identity full only.
var Secrets = []string{"Quastenflosser", "Mira", "NX-4711", "20260301", "2026-03-01", "Pfeifhase", "NX-4712"}

// Staff are the names of the people who scanned and measured.
var Staff = []string{"Tidewater", "Brook"}

// Traces are what finds a study again, and is replaced with identity none.
var Traces = []string{"1.2.826.0.1.7777", "ECHO-17", "ACC-0099", "SN-5150", "2026-03-02", "/archive/"}

func some[T any](v T) ingest.Optional[T] { return dcm.Some(v) }

func stamp(day, hour, minute, second int) ingest.Stamp {
	return ingest.Stamp{T: time.Date(2026, 3, day, hour, minute, second, 0, time.UTC), HasTime: true}
}

func uid(study, object int) string { return fmt.Sprintf("1.2.826.0.1.7777.%d.%d", study, object) }

func quantity(v, u float64, unit physical.Unit) *physical.Quantity {
	return &physical.Quantity{Value: v, StdU: u, Unit: unit}
}

// Result is the sample.
func Result() *analyse.Result {
	heart, head, bare := heartStudy(), headStudy(), bareStudy()
	r := &analyse.Result{
		Studies: []*analyse.Study{heart, head, bare},
		Inputs:  []string{"/archive/Quastenflosser_Mira", "/archive/ward3"},
		Since:   "2026-02-27", LeftOut: 1,
		Protocols: []analyse.ProtocolUse{
			{Name: "heart-functional", Title: "Functional newborn heart study", Applied: 1},
			{Name: "lung", Title: "Newborn lung study"},
		},
	}
	r.Ledger = ledger()
	r.Pictures = true
	heart.Images[0].Ruler, heart.Images[1].Ruler, head.Images[0].Ruler = rulers()
	r.Findings = findings()
	r.Agreement = agreement(heart.Devices[0])
	r.Month = month(heart.Devices[0])
	r.Clocks = clocks(heart.Devices[0])
	r.Actions = actions(heart)
	return r
}

// rulers are one that was read, an estimate where the header has no scale, and a picture
// that was not unpacked.
func rulers() (read, estimate, none *analyse.Ruler) {
	found := ruler.Reading{Status: ruler.Read, X: 731.5, First: 12.5, Last: 498.123456, Ticks: 7, Expected: 7, Pitch: 80.9372426, U: 0.0412, Residual: 0.0123, Every: 5, StepMM: 10, StepWhy: "every fifth mark larger"}
	read = &analyse.Ruler{Reading: &found, HeaderPerCM: some(81.000007), From: analyse.CalibrationRegion, Ratio: some(0.999225), U: some(0.000508)}
	estimate = &analyse.Ruler{Reading: &found, EstimatedMM: some(0.1235525), EstimatedU: some(0.0000629)}
	return read, estimate, &analyse.Ruler{Reading: &ruler.Reading{Status: ruler.NotDecoded, Note: "JPEG 2000"}}
}

// clocks are of the device of the heart study, with a step between two studies.
func clocks(d *ingest.Device) []analyse.DeviceClock {
	return []analyse.DeviceClock{{Device: d, Studies: 2, Images: 3, Clips: 1, Facts: []analyse.ClockFact{
		{Aspect: analyse.AspectZone, Verdict: analyse.ClockUnknown, Unit: "h", N: 3, Evidence: "none of 3 images states a zone"},
		{Aspect: analyse.AspectStep, Against: "file", Verdict: analyse.ClockLook, Value: some(3601.5), Spread: some(2.0), Unit: "s", N: 12, From: uid(1, 0), To: uid(2, 0), Evidence: "the clock falls back by 60.0 min between two studies"},
	}}}
}

// actions are one of a study, one of a device and one of files named after a patient.
func actions(heart *analyse.Study) []analyse.Action {
	return []analyse.Action{
		{Order: 1, Class: analyse.ActionMisleads, Study: heart, Device: heart.Devices[0], Studies: 1, Times: 1, Problem: "A reported value differs from its own caliper (image 1).", Todo: "Look at the image."},
		{Order: 2, Class: analyse.ActionDevice, Device: heart.Devices[0], Studies: 2, Times: 40, Problem: "An ultrasound picture has no scale: 40 times, in 2 studies.", Todo: "See whether the export strips it."},
		{Order: 3, Class: analyse.ActionFiles, Times: 2, Problem: "A file cannot be read.", Todo: "Export it again.", Files: []string{"/archive/Quastenflosser_Mira/notes.txt", "/archive/ward3/=cmd.dcm"}},
	}
}

// agreement is on the device of the heart study, between its two people.
func agreement(d *ingest.Device) []analyse.Statistic {
	return []analyse.Statistic{
		{Compared: analyse.ReportedRebuilt, Device: d, Measure: "tapse", Observer: "Brook^Lee", Name: "bias", Value: 0.0123456, Low: some(-0.2), High: some(0.22), Unit: physical.MM, N: 12, Studies: 5},
		{Compared: analyse.Observers, Device: d, Measure: "tapse", Observer: "Brook^Lee", Other: "Tidewater^Ann", Name: "standard-deviation", Value: 0.5, Unit: physical.MM, N: 4, Studies: 4},
	}
}

func ledger() []ingest.Entry {
	us, explicit := "1.2.840.10008.5.1.4.1.1.6.1", "1.2.840.10008.1.2.1"
	return []ingest.Entry{
		{Path: "/archive/Quastenflosser_Mira/1.dcm", Bytes: 812345, Outcome: ingest.OutcomeImage, SOPClassUID: us, TransferSyntaxUID: explicit, StudyUID: uid(1, 0), SOPUID: uid(1, 1)},
		{Path: "/archive/Quastenflosser_Mira/2.dcm", Bytes: 20812345, Outcome: ingest.OutcomeImage, SOPClassUID: "1.2.840.10008.5.1.4.1.1.3.1", TransferSyntaxUID: "1.2.840.10008.1.2.4.50", StudyUID: uid(1, 0), SOPUID: uid(1, 2)},
		{Path: "/archive/Quastenflosser_Mira/notes.txt", Bytes: 12, Outcome: ingest.OutcomeNotDICOM, Reason: "no DICM at byte 128, and no element at byte 0"},
		{Path: "/archive/Quastenflosser_Mira/sr.dcm", Bytes: 9000, Outcome: ingest.OutcomeReport, SOPClassUID: "1.2.840.10008.5.1.4.1.1.88.33", TransferSyntaxUID: explicit, StudyUID: uid(1, 0), SOPUID: uid(1, 9)},
		{Path: "/archive/ward3/=cmd.dcm", Bytes: 1024, Outcome: ingest.OutcomeUnreadable, Reason: "element (0028,0010) at byte 904: length 65535 goes beyond the end"},
		{Path: "=ward3/copy.dcm", Bytes: 812345, Outcome: ingest.OutcomeDuplicate, Reason: "the same bytes as another file", SOPClassUID: us, TransferSyntaxUID: explicit, StudyUID: uid(1, 0), SOPUID: uid(1, 1)},
		{Path: "/archive/ward3/h1.dcm", Bytes: 400000, Outcome: ingest.OutcomeImage, SOPClassUID: us, TransferSyntaxUID: explicit, StudyUID: uid(2, 0), SOPUID: uid(2, 1)},
		{Path: "/archive/ward3/h2.dcm", Bytes: 400002, Outcome: ingest.OutcomeConflict, Reason: "carries the SOP Instance UID of another file and holds other bytes; not used", SOPClassUID: us, TransferSyntaxUID: explicit, StudyUID: uid(2, 0), SOPUID: uid(2, 1)},
		{Path: "/archive/ward3/x.dcm", Bytes: 300, Outcome: ingest.OutcomeOther, SOPClassUID: "1.2.840.10008.5.1.4.1.1.66", StudyUID: uid(3, 0), SOPUID: uid(3, 1)},
	}
}

func findings() []analyse.Finding {
	return []analyse.Finding{
		{Severity: analyse.Error, ID: "file-unreadable", Path: "/archive/ward3/=cmd.dcm", Message: "The file could not be read: a length goes beyond the end.", Advice: "Export the file again."},
		{Severity: analyse.Error, ID: "measurement-differs", StudyUID: uid(1, 0), SOPUID: uid(1, 1), Path: "/archive/Quastenflosser_Mira/1.dcm", Message: "Measurement 2: reported 12.30 mm, rebuilt 10.12 mm; the tolerance is 0.35 mm.", Advice: "Open the image, place the caliper again, and correct the report by local policy."},
		{Severity: analyse.Error, ID: "region-outside-image", StudyUID: uid(2, 0), SOPUID: uid(2, 1), Path: "/archive/ward3/h1.dcm", Message: "Region 1 reaches 384 pixels beyond the right edge of " + uid(2, 1) + "; a scale of 0.625 would explain it.", Advice: "Do not rely on values from this image; ask for the export at original size."},
		{Severity: analyse.Warning, ID: "caliper-uncalibrated", StudyUID: uid(2, 0), SOPUID: uid(2, 1), Message: "Measurement 1 lies outside every calibrated region.", Advice: "Measure again inside the picture."},
		{Severity: analyse.Warning, ID: "directory-file-missing", Path: "/archive/Quastenflosser_Mira/DICOMDIR", Message: "the directory names 9 files; not among the files read: 7 (images: 7)", Advice: "Copy the whole medium again.",
			Files: []string{"/archive/Quastenflosser_Mira/IM1", "/archive/NX-4711/IM2", "/archive/ward3/IM3", "/archive/ward3/IM4", "/archive/ward3/IM5", "/archive/ward3/IM6", "/archive/ward3/IM7"}},
		{Severity: analyse.Warning, ID: "item-missing", StudyUID: uid(1, 0), Message: "Item pulmonary-artery-acceleration: none found, 1 needed.", Advice: "Ask whether it was done and not archived."},
		{Severity: analyse.Note, ID: "instance-duplicate", Path: "=ward3/copy.dcm", Message: "The file repeats another one.", Advice: "Nothing, unless copies are unexpected."},
	}
}

func heartStudy() *analyse.Study {
	device := &ingest.Device{Manufacturer: "Harbour Instruments", Model: "Plumb 3", Serial: "SN-5150"}
	s := &analyse.Study{
		UID:      uid(1, 0),
		Header:   &ingest.Study{UID: uid(1, 0), ID: "ECHO-17", AccessionNumber: "ACC-0099", Description: "free text about Quastenflosser"},
		Patient:  &ingest.Patient{Name: "Quastenflosser^Mira", ID: "NX-4711", BirthDate: "20260301", Sex: "F", Age: "001D", WeightKg: some(1.24)},
		Patients: 1, Start: stamp(2, 9, 30, 15), First: stamp(2, 9, 31, 2), Last: stamp(2, 9, 48, 40), DurationS: some(1058.0),
		Device: analyse.DeviceName(device), Devices: []*ingest.Device{device}, Operators: []string{"Tidewater^Ann; Brook^Lee"},
	}
	for i := 1; i <= 2; i++ {
		s.Images = append(s.Images, heartImage(i, s.Patient, device))
	}
	s.Reports = []*ingest.Instance{{SOPInstanceUID: uid(1, 9), Patient: s.Patient}}
	s.Measurements = heartMeasurements()
	s.Indices = []analyse.Index{
		{IndexKind: &analyse.IndexKind{ID: "fractional-shortening", Title: "Fractional shortening of the left ventricle", Formula: "(LVIDd − LVIDs) ÷ LVIDd × 100", Reference: "check-values 1"}, Value: quantity(33.4567, 1.2, physical.Percent), Inputs: []string{"1 lv-internal-diameter-diastole", "2 lv-internal-diameter-systole"}, Compared: compared()},
		{IndexKind: &analyse.IndexKind{ID: "left-ventricular-output", Title: "Left ventricular output", Formula: "VTI × CSA × HR ÷ weight", Reference: "check-values 1"}, Note: "absent: no velocity time integral"},
	}
	s.Items = []*analyse.ItemResult{
		{Protocol: "heart-functional", Item: "four-chamber-view", Kind: "image", Title: "Apical four-chamber view, clip of 2 s", Required: true, Status: analyse.Met, Found: 1, Needed: 1, Evidence: "instance 2"},
		{Protocol: "heart-functional", Item: "lvidd", Kind: "measure", Title: "Left ventricular diameter in diastole, three beats", Required: true, Severity: analyse.Error, Status: analyse.Partial, Found: 1, Needed: 3, Evidence: "measurement 1", Note: "2 more beats needed"},
		{Protocol: "heart-functional", Item: "pulmonary-artery-acceleration", Kind: "measure", Title: "Pulmonary artery acceleration time", Required: true, Severity: analyse.Warning, Status: analyse.Missing, Needed: 1},
		{Protocol: "heart-functional", Item: "duct-doppler", Kind: "image", Title: "Spectral Doppler of the duct, where it is open", Status: analyse.NotApplicable},
		{Protocol: "heart-functional", Item: "operator", Kind: "header", Title: "Who scanned is filled in", Required: true, Status: analyse.NotAssessable, Needed: 1, Note: "=the element was removed by the export"},
	}
	s.Timing = analyse.Timing{Timed: 2, LongestGapS: some(60.0), MedianGapS: some(60.0), GapAfter: s.Images[0], Zone: "+01:00", Night: some(false), Weekend: some(true), ReportH: some(5.25),
		Notes: []string{"verification: the report has no time"}}
	s.Totals = analyse.Totals{Images: 2, Stills: 1, Clips: 1, Measurements: len(s.Measurements), Rebuilt: 4, Differing: 1, Protocols: []string{"heart-functional"}, ItemsNeeded: 3, ItemsMet: 1, Completeness: some(1.0 / 3), Complete: some(false), ReportState: "complete", ReportDelayH: some(5.25), Errors: 1, Warnings: 1}
	return s
}

// compared are rows of a reference table that contradict each other, one of a chart
// of which the week is not told.
func compared() []analyse.Comparison {
	return []analyse.Comparison{
		{Population: "invented newborns", Limits: "mean 34 ± 2 SD of 3", Source: "an invented paper", Low: some(28.0), High: some(40.0), Unit: physical.Percent, Standing: analyse.StandingInside},
		{Population: "other newborns", Limits: "cut-off", Source: "another one", High: some(30.0), Unit: physical.Percent, Standing: analyse.StandingAbove, Close: true, Untold: "age"},
		{Population: "a ward", Limits: "97th centile", Source: "its own chart", Unit: physical.Percent, Standing: analyse.StandingDepending, Untold: "postmenstrual weeks", Chart: "28..30 above, 30..33 inside"},
	}
}

func heartImage(n int, p *ingest.Patient, d *ingest.Device) *analyse.Image {
	raw := ingest.Region{Ordinal: 1, MinX0: some(ingest.Index(64)), MinY0: some(ingest.Index(10)), MaxX1: some(ingest.Index(735)), MaxY1: some(ingest.Index(540)), DeltaX: some(0.0123456789), DeltaY: some(0.0123456789)}
	img := &analyse.Image{
		Instance: &ingest.Instance{Path: fmt.Sprintf("/archive/Quastenflosser_Mira/%d.dcm", n), SOPInstanceUID: uid(1, n), InstanceNumber: some(int64(n)), Patient: p, Device: d,
			Image: &ingest.Image{Rows: 600, Columns: 800, Frames: 1 + 59*(n-1), Acoustic: ingest.Acoustic{Mechanical: some(0.8)}, View: ingest.View{Name: "PLAX", Code: ingest.Code{}}}},
		Acquired: stamp(2, 9, 30+n, 2),
		Picture: &analyse.Picture{Kind: analyse.Still, Modes: []string{"2d"}, View: "PLAX", ViewSource: analyse.ViewOfHeader, DepthMM: some(60.0), Calibration: "region",
			ThermalIndex: some(0.4), ThermalIndexKind: "TIC",
			Regions: []analyse.Region{{Raw: &raw, Format: "2d", DataType: "tissue", UnitsX: "cm", UnitsY: "cm", MMPerPixelX: some(0.123456789), MMPerPixelY: some(0.123456789)}}},
	}
	if n == 2 {
		img.Kind, img.FrameRateHz, img.DurationS, img.Modes = analyse.Clip, some(47.5), some(59/47.5), []string{"2d", "colour"}
		code := ingest.Code{Value: "399214001", Scheme: "SCT", Meaning: "Apical four chamber"}
		img.View, img.Instance.Image.View.Code = code.Meaning, code
	}
	return img
}

func heartMeasurements() []analyse.Measurement {
	line := []ingest.Point{{X: 100.5, Y: -1.25}, {X: 212, Y: 99.125}}
	return []analyse.Measurement{
		{Number: 1, Measure: "lv-internal-diameter-diastole", Label: "Left Ventricle Internal End Diastolic Dimension", Code: "29436-3", Scheme: "LN", Source: analyse.SourceReport, SourceUID: uid(1, 9), SOPUID: uid(1, 1), Frames: []int{1}, Observer: "Brook^Lee", Geometry: ingest.GeometryLine, Points: line, Region: 1, Calibration: analyse.CalibrationRegion, Quantity: analyse.Distance,
			Rebuilt: quantity(15.234567890123, 0.0712, physical.MM), Reported: &analyse.Reported{Value: 15.2, Text: "15.20", Unit: "mm"}, Difference: some(-0.034567890123), Tolerance: some(0.1474), Verdict: analyse.VerdictAgrees},
		{Number: 2, Measure: "lv-internal-diameter-systole", Label: "=HYPERLINK(\"http://example.org\")", Source: analyse.SourcePresentation, SourceUID: uid(1, 8), SOPUID: uid(1, 1), Frames: []int{1}, Geometry: ingest.GeometryLine, Points: []ingest.Point{{X: -3.5, Y: 2}, {X: 4, Y: 1e-7}}, Region: 1, Calibration: analyse.CalibrationRegion, Quantity: analyse.Distance,
			Rebuilt: quantity(10.12, 0.15, physical.MM), Reported: &analyse.Reported{Value: 12.3, Text: "12.30", Unit: "mm"}, Difference: some(2.18), Tolerance: some(0.305), Verdict: analyse.VerdictDiffers},
		{Number: 3, Label: "LA Quastenflosser", Source: analyse.SourcePresentation, SOPUID: uid(1, 1), Geometry: ingest.GeometryEllipse, Points: []ingest.Point{{X: 1, Y: 2}, {X: 3, Y: 4}, {X: 5, Y: 6}, {X: 7, Y: 8}}, Calibration: analyse.CalibrationRegion, Quantity: analyse.Area, Region: 1,
			Rebuilt: quantity(123.4, 12, physical.MM2), Verdict: analyse.VerdictRebuiltOnly},
		{Number: 4, Measure: "heart-rate", Label: "Heart rate", Code: "8867-4", Scheme: "LN", Source: analyse.SourceReport, SourceUID: uid(1, 9), Quantity: analyse.Rate, Calibration: analyse.CalibrationNone, Reported: &analyse.Reported{Value: 0.0000012, Text: "1.2E-06", Unit: "/min"}, Verdict: analyse.VerdictReportedOnly},
		{Number: 5, Label: "interval\twith tab, \"quotes\",\nand a line", Source: analyse.SourceTable, SOPUID: uid(1, 2), Frames: []int{3, 17}, Observer: "Tidewater^Ann", Geometry: ingest.GeometryFrames, Calibration: analyse.CalibrationTiming, Quantity: analyse.Duration,
			Rebuilt: quantity(0.2947, 0, physical.S), Verdict: analyse.VerdictRebuiltOnly},
	}
}

func headStudy() *analyse.Study {
	device := &ingest.Device{Manufacturer: "Fathom Works", Model: "Sounder", Serial: "77"}
	s := &analyse.Study{UID: uid(2, 0), Header: &ingest.Study{UID: uid(2, 0), ID: "+49", AccessionNumber: "-1"}, Patient: &ingest.Patient{Name: "Pfeifhase^Jo", ID: "NX-4712", BirthDate: "2026"}, Start: ingest.Stamp{T: time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)},
		Device: analyse.DeviceName(device), Devices: []*ingest.Device{device}, Operators: []string{"TIDEWATER^ANN"}}
	raw := ingest.Region{Ordinal: 1, DeltaX: some(0.01), DeltaY: some(math.Inf(1))}
	s.Images = []*analyse.Image{{Instance: &ingest.Instance{Path: "/archive/ward3/h1.dcm", SOPInstanceUID: uid(2, 1), Patient: s.Patient, Device: device, Image: &ingest.Image{Rows: 480, Columns: 640, Frames: 1}},
		Picture: &analyse.Picture{Kind: analyse.Still, View: "head-coronal-foramina", ViewID: "head-coronal-foramina", ViewSource: analyse.ViewOfLabel, LabelNote: "Pfeifhase, her sister beside her", Calibration: "region (suspect)", Regions: []analyse.Region{{Raw: &raw, Format: "2d", UnitsX: "cm", UnitsY: "cm", Suspect: "reaches beyond the image", Note: "delta y is not finite"}}}}}
	s.Measurements = []analyse.Measurement{
		{Number: 1, Label: "@risk", Source: analyse.SourceTable, SOPUID: uid(2, 1), Geometry: ingest.GeometryLine, Points: []ingest.Point{{X: 1, Y: 1}, {X: 2, Y: 2}}, Calibration: analyse.CalibrationNone, Verdict: analyse.VerdictNotRebuilt, Reason: "caliper-uncalibrated", Note: "The caliper lies outside every calibrated region of " + uid(2, 1) + "."},
		{Number: 2, Measure: "ventricular-index", Label: "Ventricular index", Source: analyse.SourceTable, SOPUID: uid(2, 1), Geometry: ingest.GeometryLine, Points: []ingest.Point{{X: 1, Y: 1}, {X: 2, Y: 2}}, Region: 1, Calibration: analyse.CalibrationRegion, Quantity: analyse.Distance, Rebuilt: quantity(9.9, 0.2, physical.MM), Reported: &analyse.Reported{Value: 10, Text: "10", Unit: "mm"}, Verdict: analyse.VerdictSuspect, Note: "Region 1 contradicts its image."},
	}
	s.Totals = analyse.Totals{Images: 1, Stills: 1, Measurements: 2, Rebuilt: 1, ReportState: "none", Errors: 1, Warnings: 1}
	return s
}

// bareStudy has nothing but an object of another kind.
func bareStudy() *analyse.Study {
	return &analyse.Study{UID: uid(3, 0), Header: &ingest.Study{UID: uid(3, 0)}, Patient: &ingest.Patient{}, Totals: analyse.Totals{ReportState: "none"}}
}
