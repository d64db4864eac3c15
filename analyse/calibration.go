package analyse

import "leadline/ingest"

// Calibration is the outcome of a check of devices: what was read, with the findings
// that speak of scale and timing, and what it says of each device.
type Calibration struct {
	*Result
	Devices []DeviceResult
	// TestObject is nil where no test object was named.
	TestObject *TestObject
	// Acoustic are the output indices of patients' images by exam, device and month.
	Acoustic []AcousticRow
	// AcousticTotals add them against the lowest limit of each exam and index.
	AcousticTotals []AcousticTotal
}

// DeviceVerdict is what a device's own pictures say of its scale.
type DeviceVerdict string

// The verdicts on devices. None of them says that a scale is right: pictures that
// agree with each other may all be wrong.
const (
	// DeviceSteady: what can be compared agrees.
	DeviceSteady DeviceVerdict = "steady"
	// DeviceLook: something differs that may have a good reason.
	DeviceLook DeviceVerdict = "look-at"
	// DeviceContradicts: the same setting has two scales, or a scale is not that of its
	// picture, and nothing in the headers explains it.
	DeviceContradicts DeviceVerdict = "contradicts-itself"
	// DeviceUntold: there is too little to compare, or no serial number to tell units
	// apart.
	DeviceUntold DeviceVerdict = "cannot-be-told"
)

// DeviceVerdicts lists them, the gravest first.
var DeviceVerdicts = []DeviceVerdict{DeviceContradicts, DeviceLook, DeviceUntold, DeviceSteady}

// DeviceResult is what the archive says of one device: one maker, model and serial
// number.
type DeviceResult struct {
	// Device holds maker, model and serial number; the rest of it is that of the
	// earliest file.
	Device *ingest.Device
	// Software and Transducers are those met, in the order of their first picture.
	Software, Transducers []string
	// Images counts its pictures, Calibrated those with a calibrated region or Pixel
	// Spacing, Compared those whose scale was held against that of others; Studies the
	// studies they are of.
	Images, Calibrated, Compared, Studies int
	// First and Last are the days of its first and its last picture; zero where no
	// picture tells.
	First, Last ingest.Stamp
	Verdict     DeviceVerdict
	// Remarks are the evidence, the gravest first.
	Remarks []Remark
	// Errors and Warnings count the findings of single files.
	Errors, Warnings int
	Settings         []Setting
	Routes           []Route
	Scales           []Scale
	// LookAt are the files to look at first.
	LookAt []LookAt
}

// Remark is one piece of evidence. Text holds no date: dates may have to stay out.
type Remark struct {
	Reason RemarkReason
	// Verdict is what it comes to by itself.
	Verdict DeviceVerdict
	Text    string
	// Other is the device that Text speaks of as another, nil where it speaks of none.
	Other *ingest.Device
	// Since is the day from which it holds, zero where it is about no day.
	Since ingest.Stamp
}

// RemarkReason is the kind of a remark, a kebab word.
type RemarkReason string

// The reasons of remarks and of files to look at.
const (
	ReasonResampled    RemarkReason = "route-resampled"
	ReasonRoute        RemarkReason = "route-differs"
	ReasonStep         RemarkReason = "scale-step"
	ReasonDrift        RemarkReason = "scale-drift"
	ReasonSwapped      RemarkReason = "swapped"
	ReasonTwoValues    RemarkReason = "two-scales"
	ReasonOutlier      RemarkReason = "outlier"
	ReasonDepth        RemarkReason = "depth-unfollowed"
	ReasonShape        RemarkReason = "pixel-shape"
	ReasonModel        RemarkReason = "unlike-model"
	ReasonOutside      RemarkReason = "region-outside-image"
	ReasonNoSerial     RemarkReason = "no-serial"
	ReasonUncalibrated RemarkReason = "uncalibrated"
	ReasonTooFew       RemarkReason = "too-few"
	ReasonAgrees       RemarkReason = "agrees"
)

// LookAt is one file that a remark is about.
type LookAt struct {
	Reason RemarkReason
	Image  *Image
	// Text says what is to be compared, without dates and names.
	Text string
}

// Setting is what must have one scale: pictures of one size, one stated depth, one
// exam, one kind of data, in a region of one size.
type Setting struct {
	Transducer    string
	Rows, Columns int
	// Width and Height are those of the region in pixels.
	Width, Height int
	// DepthMM is Depth of Scan Field.
	DepthMM        ingest.Optional[float64]
	Exam, DataType string
	// Values counts the scales that are told apart.
	Values int
	// MMPerPixelX and MMPerPixelY are medians; Low and High the extremes of y.
	MMPerPixelX, MMPerPixelY, Low, High float64
	// MAD is the median absolute deviation of y.
	MAD float64
	// Outliers counts pictures with a modified z above its limit that differ by more
	// than their digits explain; absent where there are too few pictures.
	Outliers ingest.Optional[int]
	Images   []*Image
}

// Route is one way on which pictures of a device came: one program and encoding that
// wrote them, and one size.
type Route struct {
	// Number counts the routes of a device from 1, the one of most pictures first.
	Number            int
	TransferSyntaxUID string
	Lossy, Derived    bool
	Writer            *ingest.Writer
	Rows, Columns     int
	Images            int
	First, Last       ingest.Stamp
	// Resampled is the size of its pictures ÷ that of the route it was compared with,
	// where both axes say the same; Ratio the depth that its regions show ÷ that of
	// the other route at the same stated depth.
	Resampled, Ratio ingest.Optional[float64]
	Note             string
}

// Change is what became of the scale over time.
type Change string

// The changes: ChangeUntold where there is too little to judge by.
const (
	ChangeNone     Change = "none"
	ChangeStep     Change = "step"
	ChangeDrift    Change = "drift"
	ChangeExchange Change = "exchange"
	ChangeUntold   Change = "not judged"
)

// Scale is what the pictures of one transducer on one device say of depth and time.
type Scale struct {
	Transducer string
	Compared   int
	// Depths counts the stated depths, DepthLow and DepthHigh are the extremes, in mm.
	Depths              int
	DepthLow, DepthHigh ingest.Optional[float64]
	// Slope and Intercept (mm) are of the line of the depth shown (region height ×
	// mm per pixel) over the depth stated; low and high are 95 % intervals. ResidualMM
	// is its residual standard deviation.
	Slope, SlopeLow, SlopeHigh, InterceptMM, ResidualMM ingest.Optional[float64]
	Change                                              Change
	// ChangePercent is how much larger the scale became, Since the first day after a
	// step; SoftwareBefore and SoftwareAfter are the versions on both sides of it.
	ChangePercent                 ingest.Optional[float64]
	Since                         ingest.Stamp
	SoftwareBefore, SoftwareAfter string
	// ModelDevices counts the devices of the model and transducer with the same
	// settings, this one included; OffModelPercent is how far its scale is from the
	// median of them.
	ModelDevices    int
	OffModelPercent ingest.Optional[float64]
}
