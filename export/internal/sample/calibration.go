package sample

import (
	"leadline/analyse"
	"leadline/ingest"
)

// Calibration is the sample as a check of devices: with an exam that is named after a
// patient, a program that sent files, a day and another device in its evidence.
func Calibration() *analyse.Calibration {
	r := Result()
	heart, head := r.Studies[0], r.Studies[1]
	for _, s := range r.Studies {
		for _, img := range s.Images {
			img.Instance.Study = s.Header
		}
	}
	device, other := heart.Devices[0], head.Devices[0]
	first := analyse.DeviceResult{
		Device: device, Software: []string{"=4.1", "4.2"}, Transducers: []string{"S8-3"}, Images: 2, Calibrated: 2, Compared: 2, Studies: 1,
		First: heart.Start, Last: heart.Last, Verdict: analyse.DeviceContradicts,
		Remarks: []analyse.Remark{{Reason: analyse.ReasonSwapped, Verdict: analyse.DeviceContradicts, Text: "regions are those of another device", Since: stamp(2, 0, 0, 0), Other: other}},
		LookAt:  []analyse.LookAt{{Reason: analyse.ReasonSwapped, Image: heart.Images[0], Text: "which one made it?"}},
		Settings: []analyse.Setting{
			{Transducer: "S8-3", Rows: 600, Columns: 800, Width: 672, Height: 531, DepthMM: some(60.0), Exam: "Quastenflosser heart", DataType: "tissue", Values: 2, MMPerPixelX: 0.1234, MMPerPixelY: 0.1234, Low: 0.12, High: 0.125, MAD: 0.001, Outliers: some(1), Images: heart.Images},
		},
		Routes: []analyse.Route{{Number: 1, TransferSyntaxUID: "1.2.840.10008.1.2.1", Writer: &ingest.Writer{Class: uid(9, 9), Version: "W_1", Source: "SN-5150-AE"}, Rows: 600, Columns: 800, Images: 2, First: heart.Start, Last: heart.Last, Resampled: some(0.8), Ratio: some(1.25), Note: "resized"}},
		Scales: []analyse.Scale{{Transducer: "S8-3", Compared: 2, Depths: 1, DepthLow: some(60.0), DepthHigh: some(60.0), Change: analyse.ChangeStep, ChangePercent: some(3.1), Since: stamp(2, 0, 0, 0), SoftwareBefore: "=4.1", SoftwareAfter: "4.2"}},
	}
	second := analyse.DeviceResult{
		Device: other, Images: 1, Calibrated: 1, Studies: 1, First: head.Start, Last: head.Start, Verdict: analyse.DeviceUntold,
		Remarks: []analyse.Remark{{Reason: analyse.ReasonTooFew, Verdict: analyse.DeviceUntold, Text: "too few to compare"}},
		Routes:  []analyse.Route{{Number: 1}},
	}
	return &analyse.Calibration{Result: r, Devices: []analyse.DeviceResult{first, second}}
}
