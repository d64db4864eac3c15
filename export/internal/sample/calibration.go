package sample

import "leadline/analyse"

// Calibration is the sample as a check of devices.
func Calibration() *analyse.Calibration {
	r := Result()
	heart, head := r.Studies[0], r.Studies[1]
	return &analyse.Calibration{Result: r, Devices: []analyse.DeviceResult{
		{Device: heart.Devices[0], Software: []string{"=4.1", "4.2"}, Transducers: []string{"S8-3"}, Images: 2, Calibrated: 2, Studies: 1, First: heart.Start, Last: heart.Last},
		{Device: head.Devices[0], Images: 1, Calibrated: 1, Studies: 1, First: head.Start, Last: head.Start},
	}}
}
