package analyse

import "leadline/ingest"

// TestVerdict is what the scans of a test object say of a device.
type TestVerdict string

// The verdicts of targets.csv, in the order of how much they ask for.
const (
	TestFail        TestVerdict = "fail"
	TestUndecided   TestVerdict = "cannot-be-told"
	TestNever       TestVerdict = "never-tested"
	TestNotMeasured TestVerdict = "not-measured"
	TestPass        TestVerdict = "pass"
)

// TestVerdicts lists all of them in that order.
var TestVerdicts = []TestVerdict{TestFail, TestUndecided, TestNever, TestNotMeasured, TestPass}

// TestScope is which tests a row of targets.csv is about.
type TestScope string

// The scopes: the newest test alone, or all of them together.
const (
	ScopeLatest TestScope = "latest"
	ScopeAll    TestScope = "all"
)

// TestObject is what the scans of one test object say.
type TestObject struct {
	// Name and Title are those of its file.
	Name, Title string
	// Scans counts the studies that are scans of it, Unassigned the lengths measured
	// in them that belong to no target.
	Scans, Unassigned int
	// LikePatients counts the scans whose header has a birth date or a weight, as those
	// of patients have.
	LikePatients int
	Devices      []DeviceTest
	Targets      []TargetResult
	// Charts are an individuals chart and a chart of the exponentially weighted moving
	// average of the errors of each device and target.
	Charts []Chart
	// Material says in words which speed of sound was reckoned with.
	Material string
}

// DeviceTest sums up what the tests of one device with one transducer say.
type DeviceTest struct {
	Device *ingest.Device
	// Verdict is the worst of the newest tests of its targets.
	Verdict TestVerdict
	Tests   int
	Last    ingest.Stamp
	// NextDue is when the next test is due; Overdue tells that this was before the
	// newest study of the archive. Both are absent without an interval.
	NextDue ingest.Stamp
	Overdue ingest.Optional[bool]
	// Failing are the titles of the targets that fail, Signalled of those whose charts
	// signal after their baseline.
	Failing, Signalled []string
	Note               string
}

// TargetResult is how one device with one transducer measures one target. Lengths
// are in millimetres. Errors are corrected less true distance.
type TargetResult struct {
	Device *ingest.Device
	// Target is its id, empty where the device was never tested.
	Target, Title, Direction string
	Scope                    TestScope
	// First and Last are the days of the tests, Tests counts them and Values what was
	// measured in them.
	First, Last   ingest.Stamp
	Tests, Values int
	// TrueMM is the true distance, TrueU its expanded uncertainty.
	TrueMM, TrueU ingest.Optional[float64]
	// MeasuredMM is the mean as the scanner has it; CorrectedMM the same for the
	// speed of sound of the material.
	MeasuredMM, CorrectedMM ingest.Optional[float64]
	// SpeedMS is the speed of sound of the material in the newest test.
	SpeedMS ingest.Optional[float64]
	// Error is the bias; Low and High its 95 % interval from the spread of the tests
	// alone; U its expanded uncertainty, in which true distance and speed are, too.
	Error, Low, High, U ingest.Optional[float64]
	// WithinSD is the standard deviation of repeats within a test with its interval,
	// BetweenSD that of the tests.
	WithinSD, WithinLow, WithinHigh, BetweenSD ingest.Optional[float64]
	ToleranceMM                                ingest.Optional[float64]
	ToleranceSource                            string
	Verdict                                    TestVerdict
	NextDue                                    ingest.Stamp
	Overdue                                    ingest.Optional[bool]
	Note                                       string
}
