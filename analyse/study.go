package analyse

import (
	"leadline/analyse/physical"
	"leadline/ingest"
)

// Study is everything said about one study, put together from all folders by
// Study Instance UID.
type Study struct {
	UID string
	// Header is the study header of the first instance, Patient the patient.
	Header  *ingest.Study
	Patient *ingest.Patient
	// Patients counts the different patient identities met; more than 1 is an error.
	Patients int
	Start    ingest.Stamp
	// First and Last are the acquisition times of the first and the last image.
	First, Last ingest.Stamp
	// DurationS is the time from the first to the last image.
	DurationS ingest.Optional[float64]
	// Device names the device that made most images; Devices all of them.
	Device  string
	Devices []*ingest.Device
	// Operators are the names of who scanned. They are people.
	Operators []string

	Images        []*Image
	Reports       []*ingest.Instance
	Presentations []*ingest.Instance
	Others        []*ingest.Instance

	// Uncertainty is what its protocol says of placing errors and tolerances.
	Uncertainty UncertaintyRule

	Measurements []Measurement
	Indices      []Index
	// Items may be shared between studies that stand alike: they must not be changed
	// once the study is judged.
	Items []*ItemResult
	// Acoustic are the output indices above a recommended limit.
	Acoustic []AcousticExcess

	Timing Timing
	Totals Totals
}

// Totals are the counts of one row of studies.csv.
type Totals struct {
	Images, Stills, Clips            int
	Measurements, Rebuilt, Differing int
	// Protocols are the names of the protocols that applied.
	Protocols             []string
	ItemsNeeded, ItemsMet int
	// Completeness is ItemsMet ÷ ItemsNeeded, absent where nothing was needed.
	Completeness ingest.Optional[float64]
	// Complete is absent where no protocol applied.
	Complete ingest.Optional[bool]
	// ReportState is none, partial, complete or verified.
	ReportState             string
	ReportDelayH            ingest.Optional[float64]
	Errors, Warnings, Notes int
}

// CountFindings adds findings to the counts of a study.
func (t *Totals) CountFindings(findings []Finding) {
	for i := range findings {
		switch findings[i].Severity {
		case Error:
			t.Errors++
		case Warning:
			t.Warnings++
		default:
			t.Notes++
		}
	}
}

// ImageKind tells a still from a clip.
type ImageKind string

// The kinds of image: a clip has more than one frame.
const (
	Still ImageKind = "still"
	Clip  ImageKind = "clip"
)

// Image is what is said about one image instance.
type Image struct {
	*ingest.Instance
	*Picture
	Acquired ingest.Stamp
	// Ruler is nil where pictures were not looked at.
	Ruler *Ruler
}

// Picture is what follows from the part of a header that tells of the picture
// alone. Images whose headers agree there share it; it must not be changed once
// the studies are assembled.
type Picture struct {
	Kind ImageKind
	// Modes are 2d, m-mode, cw, pw, colour, power, tissue …; from Image Type
	// value 4 and the regions.
	Modes []string
	// View is the view in words: view code meaning, else view name; the id of the
	// view where labels, an annotation or a report told it.
	View string
	// ViewID is the view in the vocabulary of protocols, ViewSide the side that its
	// words tell; both empty where none is known.
	ViewID, ViewSide string
	// ViewSource is where View was learned, empty where it is.
	ViewSource ViewSource
	// ViewFrom and ModesFrom name the place of what the header does not say: "labels
	// ours.csv, row 3". Empty where it was the header.
	ViewFrom, ModesFrom string
	// Exam is the exam in the words of a label, empty where none tells it.
	Exam string
	// LabelConflict says in words where a label contradicts the header or another
	// label.
	LabelConflict string
	// LabelNote is free text of the labels; it may name a patient.
	LabelNote string
	// FrameRateHz and DurationS are those of a clip; stills have neither.
	FrameRateHz ingest.Optional[float64]
	DurationS   ingest.Optional[float64]
	DepthMM     ingest.Optional[float64]
	// Calibration is region, pixel-spacing or none, with " (suspect)" appended
	// where the calibration contradicts the image.
	Calibration      string
	ThermalIndex     ingest.Optional[float64]
	ThermalIndexKind string
	Regions          []Region
}

// ViewSource is where the view of an image was learned.
type ViewSource string

// The sources of views in images.csv.
const (
	ViewOfHeader     ViewSource = "header"
	ViewOfLabel      ViewSource = "label"
	ViewOfAnnotation ViewSource = "annotation"
	ViewOfReport     ViewSource = "report"
)

// Ultrasound tells that an image is one, by its modality or its regions, or that its
// header does not say what it is.
func (i *Image) Ultrasound() bool {
	return i.StatedUltrasound() || i.Series == nil || i.Series.Modality == "" || len(i.Regions) > 0
}

// StatedUltrasound tells that the header calls the image one, by its modality (PS3.3
// C.7.3.1.1.1): of others nothing may be asked that only ultrasound has.
func (i *Image) StatedUltrasound() bool { return i.Series != nil && i.Series.Modality == "US" }

// Side is the side that the image shows, left or right, empty where none is told:
// what a label says, else Image Laterality, else the laterality of the series, else
// what the words for the view say.
func (i *Image) Side() string {
	if i.ViewSource == ViewOfLabel && i.ViewSide != "" {
		return i.ViewSide
	}
	switch i.Laterality() {
	case "L":
		return "left"
	case "R":
		return "right"
	}
	return i.ViewSide
}

// Laterality is Image Laterality, else the Laterality of the series, as the file
// writes it.
func (i *Image) Laterality() string {
	if l := i.Instance.Image.ImageLaterality; l != "" || i.Series == nil {
		return l
	}
	return i.Series.Laterality
}

// Region is what is said about one region of an image; units in words (cm, s,
// cm/s …), millimetres per pixel only for axes that are lengths.
type Region struct {
	Raw                      *ingest.Region
	Format, DataType         string
	UnitsX, UnitsY           string
	MMPerPixelX, MMPerPixelY ingest.Optional[float64]
	// RulerRatio is ruler ÷ header; absent until pixels are read.
	RulerRatio ingest.Optional[float64]
	// Calibrated tells that at least one axis has a physical unit and a scale.
	Calibrated bool
	// Suspect is empty, or says in words how the calibration contradicts its image.
	Suspect string
	Note    string
}

// Index is one derived quantity. Value is nil where it could not be derived;
// Note says why then.
type Index struct {
	*IndexKind
	Value *physical.Quantity
	// Inputs name the measurements it was computed from, by number and measure. Studies
	// may share them.
	Inputs []string
	Note   string
	// Compared holds the value against published limits, row by row.
	Compared []Comparison
}

// IndexKind is what is said about an index, whatever the study.
type IndexKind struct {
	ID, Title          string
	Formula, Reference string
}

// ItemStatus is how a study stands against one protocol item.
type ItemStatus string

// The statuses of completeness.csv.
const (
	Met           ItemStatus = "met"
	Partial       ItemStatus = "partial"
	Missing       ItemStatus = "missing"
	NotAssessable ItemStatus = "not-assessable"
	NotApplicable ItemStatus = "not-applicable"
)

// ItemResult is one protocol item applied to one study.
type ItemResult struct {
	Protocol, Item string
	// Kind is header, image, measure, index or report.
	Kind     string
	Title    string
	Required bool
	// Severity is that of a finding that the item falls short.
	Severity Severity
	Status   ItemStatus
	// Found and Needed count; Evidence names images (instance numbers) or
	// measurements; Note says what fell short or could not be judged.
	Found, Needed int
	Evidence      string
	Note          string
}

// ProtocolUse is one protocol of a run and what it applied to.
type ProtocolUse struct {
	Name, Title, Version string
	Sources              []string
	// Applied and Complete count studies.
	Applied, Complete int
}

// ProtocolTitle is what people call a protocol; its name where only an earlier audit
// knows it.
func (r *Result) ProtocolTitle(name string) string {
	for i := range r.Protocols {
		if r.Protocols[i].Name == name {
			return r.Protocols[i].Title
		}
	}
	return name
}

// Result is the outcome of an audit.
type Result struct {
	Ledger  []ingest.Entry
	Studies []*Study
	// Pictures tells that pictures were looked at.
	Pictures bool
	// Findings are all findings, of studies and of the archive, most severe first.
	Findings  []Finding
	Protocols []ProtocolUse
	// Agreement says over all studies how well values agree.
	Agreement []Statistic
	// Month is what all studies together say of protocols, week by week.
	Month Month
	// Clocks say over all studies how well the clocks of each device are set.
	Clocks []DeviceClock
	// Actions are what to do about the findings, the first first.
	Actions []Action
	// Inputs are the paths that were read, Since and Until the dates kept, as given.
	Inputs       []string
	Since, Until string
	// LeftOut counts the studies outside the dates.
	LeftOut int
	// OutOfRange are those studies, assembled only: their files are in the ledger,
	// and their patients' names must not show in paths.
	OutOfRange []*Study
}
