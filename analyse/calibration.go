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
}

// DeviceResult is what the archive says of one device: one maker, model and serial
// number.
type DeviceResult struct {
	// Device holds maker, model and serial number; the rest of it is that of the
	// earliest file.
	Device *ingest.Device
	// Software and Transducers are those met, in the order of their first picture.
	Software, Transducers []string
	// Images counts its pictures, Calibrated those with a calibrated region or Pixel
	// Spacing; Studies the studies they are of.
	Images, Calibrated, Studies int
	// First and Last are the days of its first and its last picture; zero where no
	// picture tells.
	First, Last ingest.Stamp
}
