package ingest

import (
	"leadline/ingest/presentation"
	"leadline/ingest/report"
)

// Instance is one DICOM file that was read: an image, a report, a presentation
// state, or an object of another kind, of which only the identity is kept.
//
// Patient, Study, Series, Device, Writer and Image are shared between the instances that
// agree on every field of them; they must not be changed.
type Instance struct {
	Path              string
	Bytes             int64
	SOPClassUID       string
	SOPInstanceUID    string
	TransferSyntaxUID string
	CharacterSet      string
	InstanceNumber    Optional[int64]
	// Content is when the picture or the report content was made, Acquisition
	// when its data were taken.
	Content, Acquisition Stamp
	// Created is when the object was made, which may be the export.
	Created Stamp

	Patient *Patient
	Study   *Study
	Series  *Series
	Device  *Device
	Writer  *Writer

	// At most one of these is set; none for objects of another kind.
	Image        *Image
	Report       *report.Document
	Presentation *presentation.State

	// Problems are elements that could not be read as the standard wants.
	Problems []Problem
}

// Patient is what a file says about the patient. Name, ID and the dates identify
// a person: they may leave the program only with full identity.
type Patient struct {
	Name, ID, BirthDate, BirthTime string
	// Sex is M, F, O or empty; Age is DICOM's nnnD, nnnW, nnnM or nnnY.
	Sex, Age string
	// SizeM is in metres, WeightKg in kilograms, as the file gives them.
	SizeM, WeightKg Optional[float64]
}

// Study is what a file says about its study.
type Study struct {
	UID, ID, AccessionNumber, Description string
	Start                                 Stamp
	ProcedureCode                         Code
	RequestedProcedure                    string
	Institution, Department               string
}

// Series is what a file says about its series.
type Series struct {
	UID, Modality, Description, ProtocolName string
	Number                                   Optional[int64]
	Start                                    Stamp
	BodyPart, Laterality                     string
	PerformedProcedure                       string
	PerformedProtocol                        Code
	// Operators are the names of who scanned, joined by "; ". They are people.
	Operators string
}

// Device is the system that made an instance. Serial is the console's or
// handset's number; Transducer is the probe as the maker names it.
type Device struct {
	Manufacturer, Model, Serial, Software, Station string
	Transducer, TransducerType                     string
}

// Writer is the program that wrote the file, as its file meta group says (PS3.10
// 7.1): the device itself, or whatever exported the file after it.
type Writer struct {
	// Class is the Implementation Class UID, Version the Implementation Version
	// Name, Source the Application Entity Title that wrote the file.
	Class, Version, Source string
}

// Image is what an image file says about its picture or clip.
type Image struct {
	Rows, Columns int
	// Frames is 1 where the file does not say.
	Frames                         int
	SamplesPerPixel, BitsAllocated int
	Photometric                    string
	ImageType                      []string
	ImageLaterality                string
	Timing                         Timing
	Regions                        []Region
	// RegionsBare tells that region elements stand in the file without the
	// sequence that should hold them; they are not used.
	RegionsBare bool
	Spacing     Spacing
	Acoustic    Acoustic
	View        View
	// DepthMM is Depth of Scan Field in millimetres, FocusCM Focus Depth in cm.
	DepthMM, FocusCM Optional[float64]
	// BurnedIn is Burned In Annotation, YES, NO or empty (unknown).
	BurnedIn, RecognizableFeatures string
	Lossy                          Lossy
	ColourData                     Optional[int64]
	AnatomicRegions                []Code
	Processing, OutputPower        string
	// PixelData tells what the file holds of the pixels, without reading them.
	PixelData PixelData
}

// PixelData is the state of the pixel data element.
type PixelData string

// What can be said of pixel data without reading them.
const (
	PixelsWhole  PixelData = "whole"
	PixelsAbsent PixelData = "absent"
	PixelsCut    PixelData = "cut"
)

// Spacing is the pixel spacing family (PS3.3 10.7.1): row spacing (vertical)
// first, column spacing (horizontal) second, in millimetres.
type Spacing struct {
	Pixel, Imager, NominalScanned       Optional[[2]float64]
	CalibrationType, CalibrationMeaning string
	// AspectRatio is vertical to horizontal pixel size, two integers.
	AspectRatio Optional[[2]int]
}

// Acoustic holds the output indices of the display standard; they have no unit.
type Acoustic struct {
	Mechanical, Bone, Cranial, SoftTissue, SoftTissueFocus, SoftTissueSurface Optional[float64]
}

// View is what a file says about the view and the stage of a staged protocol.
type View struct {
	Name, StageName           string
	Number, StageNumber       Optional[int64]
	ViewsInStage, StagesTotal Optional[int64]
	Code, StageCode           Code
	Modifiers                 []Code
	// OverlayLabel and OverlayDescription are those of the first overlay plane (PS3.3
	// C.9.2, group 6000): free text.
	OverlayLabel, OverlayDescription string
}

// Lossy is the history of lossy compression; Compressed is 00, 01 or empty.
type Lossy struct {
	Compressed string
	Ratios     []float64
	Methods    []string
	Derivation string
}
