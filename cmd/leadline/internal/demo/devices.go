package demo

// hospital and its department are invented.
const (
	hospital   = "St. Alma's Children's Hospital, Nordhaven"
	department = "Newborn Unit"
	maker      = "Orrin & Vale Soundings"
	// summer is the zone of the hospital in the month of the archive.
	summer = "+0200"
)

// device is one hand-held of the unit, with the way it exports.
type device struct {
	model, serial, software, station string
	transducer, transducerType       string
	probe                            probe
	// aspect is how many times narrower than high its pixels are.
	aspect float64
	// The sizes of its pictures in pixels.
	stillColumns, stillRows int
	clipColumns, clipRows   int
	frameTimeMS             float64
	ruler                   scaleLook
	// zone is Timezone Offset From UTC, empty where the device does not write it.
	zone string
	// stills, clips and reports are the transfer syntaxes it writes, by turns.
	stills, clips, reports []string
	// bare files have no extension, as on DICOM media.
	bare bool
	root string
}

var devices = []device{
	{
		zone: summer, model: "Tern 2", serial: "OV2-00417", software: "3.2.1", station: "NICU-1",
		transducer: "P8-3", transducerType: "SECTOR_PHASED", probe: phased, aspect: 1,
		stillColumns: 320, stillRows: 240, clipColumns: 208, clipRows: 156, frameTimeMS: 50,
		stills: []string{jpegBaseline, rleLossless, explicitLE}, clips: []string{jpegBaseline}, reports: []string{explicitLE},
		bare: true, root: "media/ward-a",
	},
	{
		zone: summer, model: "Tern 2", serial: "OV2-00533", software: "3.2.1", station: "NICU-2",
		transducer: "P8-3", transducerType: "SECTOR_PHASED", probe: phased, aspect: 1,
		stillColumns: 288, stillRows: 216, clipColumns: 200, clipRows: 150, frameTimeMS: 40, ruler: scaleLook{left: true, dots: true},
		stills: []string{jpegBaseline, implicitLE, jpegBaseline, deflatedLE}, clips: []string{jpegBaseline}, reports: []string{implicitLE},
		root: "exports/nicu-2",
	},
	{
		zone: summer, model: "Tern 4", serial: "OV4-01120", software: "4.0.0", station: "DELIVERY",
		transducer: "C9-2", transducerType: "CURVED LINEAR", probe: curved, aspect: 1.1,
		stillColumns: 304, stillRows: 228, clipColumns: 200, clipRows: 152, frameTimeMS: 66.667,
		stills: []string{jpegBaseline, explicitLE}, clips: []string{jpegBaseline}, reports: []string{deflatedLE, explicitLE},
		root: "exports/delivery room",
	},
	{
		model: "Petrel L", serial: "OPL-0088", software: "1.9", station: "OUTPATIENTS",
		transducer: "L15-6", transducerType: "LINEAR", probe: linear, aspect: 1,
		stillColumns: 256, stillRows: 208, clipColumns: 160, clipRows: 136, frameTimeMS: 66.667, ruler: scaleLook{half: true},
		stills: []string{rleLossless, explicitBE, jpegBaseline}, clips: []string{jpegBaseline}, reports: []string{explicitBE, explicitLE},
		bare: true, root: "media/outpatients",
	},
	{
		zone: summer, model: "Petrel L", serial: "OPL-0101", software: "1.9\\1.9.2", station: "WARD-B",
		transducer: "L15-6", transducerType: "LINEAR", probe: linear, aspect: 1,
		stillColumns: 256, stillRows: 192, clipColumns: 168, clipRows: 128, frameTimeMS: 50, ruler: scaleLook{left: true, half: true},
		stills: []string{deflatedLE, jpegBaseline}, clips: []string{jpegBaseline}, reports: []string{explicitLE},
		root: "exports/ward-b",
	},
}
