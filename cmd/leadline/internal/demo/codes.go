package demo

// Codes of PS3.16, each read in copies of it (reference/dicom-ultrasound.md,
// section 7).
var (
	unitCM     = code{"cm", "UCUM", "centimeter"}
	unitMM     = code{"mm", "UCUM", "millimeter"}
	unitCM2    = code{"cm2", "UCUM", "square centimeter"}
	unitML     = code{"mL", "UCUM", "milliliter"}
	unitMS     = code{"ms", "UCUM", "millisecond"}
	unitCMPerS = code{"cm/s", "UCUM", "centimeter per second"}
	unitMPerS  = code{"m/s", "UCUM", "meter per second"}
	unitOne    = code{"1", "UCUM", "no units"}
	unitPct    = code{"%", "UCUM", "percent"}
	unitBeats  = code{"{H.B.}/min", "UCUM", "heart beats per minute"}

	findingSite = code{"363698007", "SCT", "Finding Site"}
	laterality  = code{"272741003", "SCT", "Laterality"}
	sideLeft    = code{"7771000", "SCT", "Left"}
	sideRight   = code{"24028007", "SCT", "Right"}
	imageMode   = code{"399264008", "SCT", "Image mode"}
	mode2D      = code{"399064001", "SCT", "2D mode"}
	modeM       = code{"399155008", "SCT", "M mode"}
	modePW      = code{"261199008", "SCT", "Doppler Pulsed"}
	modeCW      = code{"261198000", "SCT", "Doppler Continuous Wave"}
	method      = code{"370129005", "SCT", "Measurement Method"}
	discsTwo    = code{"125207", "DCM", "Method of Disks, Biplane"}
	flow        = code{"260674002", "SCT", "Direction of flow"}
	regurgitant = code{"397417004", "SCT", "Regurgitant Flow"}

	leftVentricle  = code{"87878005", "SCT", "Left ventricle"}
	rightVentricle = code{"53085002", "SCT", "Right ventricle"}
	leftAtrium     = code{"82471001", "SCT", "Left atrium"}
	rightAtrium    = code{"73829009", "SCT", "Right atrium"}
	outflowTract   = code{"13418002", "SCT", "Left ventricle outflow tract"}
	aorta          = code{"15825003", "SCT", "Aorta"}
	mitralValve    = code{"91134007", "SCT", "Mitral Valve"}
	tricuspidValve = code{"46030003", "SCT", "Tricuspid valve"}
	pulmonicValve  = code{"39057004", "SCT", "Pulmonary valve"}
	openDuct       = code{"83330001", "SCT", "Patent ductus arteriosus"}
	foramenOvale   = code{"204317008", "SCT", "Patent Foramen Ovale"}
	acaSite        = code{"60176003", "SCT", "Anterior Cerebral Artery"}
	smaSite        = code{"42258001", "SCT", "Superior mesenteric artery"}
	cavaSite       = code{"64131007", "SCT", "Inferior vena cava"}
	brain          = code{"12738006", "SCT", "Brain"}
	abdominalAorta = code{"7832008", "SCT", "Abdominal aorta"}
	callosum       = code{"88442005", "SCT", "Corpus callosum"}
	diaphragmSite  = code{"5798000", "SCT", "Diaphragm"}
	lungSite       = code{"39607008", "SCT", "Lung"}

	// PS3.16 has no code for these two; the scheme is private to the hospital.
	localIndex     = code{"VI", "99NHV", "Ventricular index"}
	localExcursion = code{"DE", "99NHV", "Diaphragm excursion"}

	pediatricEcho  = code{"431852008", "SCT", "Pediatric echocardiography"}
	purposePath    = code{"121055", "DCM", "Path"}
	purposeOutline = code{"121056", "DCM", "Area outline"}
	purposeSource  = code{"121112", "DCM", "Source of Measurement"}
)

// view is a view by name and, where CID 12226 has it, by code.
type view struct {
	name string
	code code
}

var (
	viewLongAxis    = view{"PLAX", code{"399139001", "SCT", "Parasternal long axis"}}
	viewBase        = view{"PSAX base", code{"399239005", "SCT", "Parasternal short axis at the aortic valve level"}}
	viewFourChamber = view{"A4C", code{"399214001", "SCT", "Apical four chamber"}}
	viewTwoChamber  = view{"A2C", code{"399232001", "SCT", "Apical two chamber"}}
	viewFive        = view{name: "A5C"}
	viewSubcostal   = view{"Subcostal", code{"399310008", "SCT", "Subcostal long axis"}}
	viewDuct        = view{name: "Ductal"}
	viewArch        = view{"Suprasternal", code{"399106004", "SCT", "Suprasternal long axis"}}
)

// Image Type value 4, a hexadecimal sum of mode bits (PS3.3 C.8.5.6.1.1).
const (
	bits2D     = "0001"
	bitsMMode  = "0003"
	bitsCW     = "0005"
	bitsPW     = "0009"
	bitsColour = "0011"
	bitsTriple = "0019"
)
