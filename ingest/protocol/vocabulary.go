package protocol

import "cmp"

// The words of the language.
var (
	kinds = []string{string(KindHeader), string(KindImage), string(KindMeasure), string(KindIndex), string(KindReport)}
	needs = []string{"required", "preferred"}
	types = []string{"clip", "still", "any"}
	sides = []string{"left", "right"}
)

// Severities of the findings about an item that falls short.
var Severities = []string{"error", "warning", "note"}

// Planes in which a measurement may be wanted: a picture (greyscale or colour), or
// a strip. Spectral is either kind of Doppler strip.
var Planes = []string{Mode2D, ModeMMode, ModeSpectral, ModePW, ModeCW}

// Modes of an image rule. 2d is greyscale alone; colour includes power Doppler and
// leaves out pictures that also hold a strip; spectral is pulsed or continuous wave.
const (
	Mode2D       = "2d"
	ModeMMode    = "m-mode"
	ModeColour   = "colour"
	ModePW       = "pw"
	ModeCW       = "cw"
	ModeSpectral = "spectral"
	ModeTissue   = "tissue"
)

// Modes lists the modes of an image rule.
var Modes = []string{Mode2D, ModeMMode, ModeColour, ModePW, ModeCW, ModeSpectral, ModeTissue}

// modeTitles are the modes of images that people write otherwise than protocols do.
var modeTitles = map[string]string{
	Mode2D: "2D", ModeMMode: "M-mode", ModePW: "pulsed wave", ModeCW: "continuous wave",
	"colour-m-mode": "colour M-mode", "3d": "3D",
}

// ModeTitle is what people call a mode of an image or of an image rule.
func ModeTitle(mode string) string { return cmp.Or(modeTitles[mode], mode) }

// States of a report rule, each including those before it: any report, Completion
// Flag COMPLETE, Verification Flag VERIFIED.
const (
	StateAny      = "any"
	StateComplete = "complete"
	StateVerified = "verified"
)

// States lists the states of a report rule in ascending order.
var States = []string{StateAny, StateComplete, StateVerified}

// Facts that a header rule may ask for. Those of the patient and the study are
// asked of the study, those of devices and times of every image.
const (
	FactPatientID         = "patient-id"
	FactPatientName       = "patient-name"
	FactPatientBirthDate  = "patient-birth-date"
	FactPatientSex        = "patient-sex"
	FactPatientWeight     = "patient-weight"
	FactPatientSize       = "patient-size"
	FactStudyDate         = "study-date"
	FactStudyTime         = "study-time"
	FactStudyID           = "study-id"
	FactStudyDescription  = "study-description"
	FactAccessionNumber   = "accession-number"
	FactInstitution       = "institution"
	FactOperator          = "operator"
	FactDeviceSerial      = "device-serial-number"
	FactDeviceModel       = "device-model"
	FactDeviceMaker       = "device-manufacturer"
	FactDeviceSoftware    = "device-software"
	FactStationName       = "station-name"
	FactTransducer        = "transducer"
	FactImageTime         = "image-time"
	FactBodyPart          = "body-part"
	FactAcousticIndices   = "acoustic-indices"
	FactSideOfImage       = "image-laterality"
	FactDepth             = "image-depth"
	FactHeartRateOfHeader = "heart-rate"
)

// Facts lists the facts that a header rule may ask for.
var Facts = []string{
	FactPatientID, FactPatientName, FactPatientBirthDate, FactPatientSex, FactPatientWeight, FactPatientSize,
	FactStudyDate, FactStudyTime, FactStudyID, FactStudyDescription, FactAccessionNumber, FactInstitution,
	FactOperator, FactDeviceSerial, FactDeviceModel, FactDeviceMaker, FactDeviceSoftware, FactStationName,
	FactTransducer, FactImageTime, FactBodyPart, FactAcousticIndices, FactSideOfImage, FactDepth, FactHeartRateOfHeader,
}

// FactUnit is the unit of min and max of a fact, empty where it is no number.
func FactUnit(fact string) string { return numericFacts[fact] }

// numericFacts are the facts that may have min and max, with their unit.
var numericFacts = map[string]string{
	FactPatientWeight: "kg", FactPatientSize: "m", FactDepth: "mm", FactHeartRateOfHeader: "/min",
}
