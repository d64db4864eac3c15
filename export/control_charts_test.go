package export_test

import (
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/export"
	"leadline/export/deid"
	"leadline/export/internal/sample"
	"leadline/ingest"
)

// tested is the sample with a test object that its first device fails.
func tested() *analyse.Calibration {
	c := sample.Calibration()
	device := c.Devices[0].Device
	chart := func(subject string, p ...analyse.ChartPoint) analyse.Chart {
		return analyse.Chart{Kind: analyse.ChartIndividuals, Subject: subject, Title: subject, Device: device, Unit: "mm", Points: p}
	}
	value, limits := analyse.ChartPoint{Value: ingest.Some(0.1)}, analyse.ChartPoint{Value: ingest.Some(0.1), Centre: ingest.Some(0.0)}
	signal, based := limits, limits
	signal.Signals, based.Signals, based.Baseline = []string{"beyond-limits"}, []string{"beyond-limits"}, true
	c.TestObject = &analyse.TestObject{
		Title: "Gel block", Scans: 3,
		Devices: []analyse.DeviceTest{{Device: device, Verdict: analyse.TestPass}, {Device: device, Verdict: analyse.TestFail}, {Device: device, Verdict: analyse.TestUndecided}},
		Charts:  []analyse.Chart{chart("short", value), chart("based", based), chart("quiet", limits), chart("drifts", limits), chart("drifts", signal)},
	}
	return c
}

// The charts of a test object are drawn, those of a target that signals after its
// baseline first and together; none with identity none, and no sheet without tests.
func TestControlCharts(t *testing.T) {
	for _, identity := range deid.Identities {
		m := export.NewCalibrationBook(tested(), export.Options{Identity: identity, Key: []byte("k")}).Meeting
		var got []string
		for _, c := range m.Charts {
			name, subject, _ := strings.Cut(c.Title, ": ")
			if !strings.Contains(name, c.Device.Model) {
				t.Errorf("identity %s: %q names no device", identity, c.Title)
			}
			got = append(got, subject)
		}
		want := "drifts drifts based quiet short"
		if identity == deid.None {
			want = ""
		}
		if strings.Join(got, " ") != want || m.Most < len(m.Charts) {
			t.Errorf("identity %s: %v, want %s", identity, got, want)
		}
	}
	for _, o := range []*analyse.TestObject{nil, {Scans: 1}} {
		c := tested()
		if c.TestObject = o; export.NewCalibrationBook(c, export.Options{}).Meeting != nil {
			t.Errorf("%+v: charts drawn", o)
		}
	}
}

// The row that is signed names what the test object says, the worst of the device's
// transducers; and the overview does not say that none was scanned.
func TestTestObjectIsNamed(t *testing.T) {
	for scanned, c := range map[bool]*analyse.Calibration{true: tested(), false: sample.Calibration()} {
		b := export.NewCalibrationBook(c, export.Options{Identity: deid.Study})
		said := ""
		for _, s := range b.Overview {
			said += strings.Join(s.Paragraphs, " ")
		}
		if strings.Contains(said, "No test object was scanned") == scanned {
			t.Errorf("scanned %v: %s", scanned, said)
		}
		want := map[bool][]string{true: {"fail", ""}, false: {"", ""}}[scanned]
		for _, table := range b.Tables {
			if table.Name != "devices" {
				continue
			}
			at, n := -1, 0
			for i, column := range table.Columns {
				if column.Name == "test_object" {
					at = i
				}
			}
			for row := range table.Rows {
				if got := row[at].Text; got != want[n] {
					t.Errorf("scanned %v, device %d: %q", scanned, n, got)
				}
				n++
			}
		}
	}
}
