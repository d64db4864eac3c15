package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"leadline/analyse"
	"leadline/analyse/overview"
	"leadline/export"
	"leadline/export/deid"
)

// calibrationSummary is what a check of devices prints. Its JSON keys are promised:
// none is renamed or removed.
type calibrationSummary struct {
	Inputs  []string     `json:"inputs"`
	Files   fileCounts   `json:"files"`
	Studies readStudies  `json:"studies"`
	Devices deviceCounts `json:"devices"`
	// TestObject is there where a test object was named.
	TestObject *testObjectCounts `json:"test_object,omitempty"`
	Findings   findingCounts     `json:"findings"`
	Workbook   string            `json:"workbook"`
	Tables     string            `json:"tables,omitempty"`
	Identity   deid.Identity     `json:"identity"`
	Caution    string            `json:"caution"`
	overview   overview.Overview // the same counts in their order, for the text
}

type readStudies struct {
	Total   int    `json:"total"`
	LeftOut int    `json:"left_out"`
	Since   string `json:"since,omitempty"`
	Until   string `json:"until,omitempty"`
	Images  int    `json:"images"`
}

type deviceCounts struct {
	Total     int                           `json:"total"`
	ByVerdict map[analyse.DeviceVerdict]int `json:"by_verdict"`
	// LookAt counts the files to look at.
	LookAt int `json:"look_at"`
}

func devicesOf(c *analyse.Calibration) deviceCounts {
	counts := deviceCounts{Total: len(c.Devices), ByVerdict: map[analyse.DeviceVerdict]int{}}
	for _, v := range analyse.DeviceVerdicts {
		counts.ByVerdict[v] = 0
	}
	for i := range c.Devices {
		counts.ByVerdict[c.Devices[i].Verdict]++
		counts.LookAt += len(c.Devices[i].LookAt)
	}
	return counts
}

func (c deviceCounts) verdicts() string {
	var parts []string
	for _, v := range analyse.DeviceVerdicts {
		if c.ByVerdict[v] > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", export.Words(string(v)), c.ByVerdict[v]))
		}
	}
	if c.LookAt > 0 {
		parts = append(parts, fmt.Sprintf("files to look at %d", c.LookAt))
	}
	return strings.Join(parts, ", ")
}

// testObjectCounts counts the scans of a test object and the devices by verdict.
type testObjectCounts struct {
	Name      string                      `json:"name"`
	Scans     int                         `json:"scans"`
	ByVerdict map[analyse.TestVerdict]int `json:"devices_by_verdict"`
}

func testObjectOf(o *analyse.TestObject) *testObjectCounts {
	if o == nil {
		return nil
	}
	c := &testObjectCounts{Name: o.Name, Scans: o.Scans, ByVerdict: map[analyse.TestVerdict]int{}}
	for _, v := range analyse.TestVerdicts {
		c.ByVerdict[v] = 0
	}
	for i := range o.Devices {
		c.ByVerdict[o.Devices[i].Verdict]++
	}
	return c
}

// text names the devices by verdict, in the order of how much a verdict asks for.
func (c *testObjectCounts) text() string {
	var said []string
	for _, v := range analyse.TestVerdicts {
		if n := c.ByVerdict[v]; n > 0 {
			said = append(said, fmt.Sprintf("%s %d", export.Words(string(v)), n))
		}
	}
	return fmt.Sprintf("%s of %s; devices: %s", analyse.Agree(c.Scans, "scan", "scans"), c.Name, strings.Join(said, ", "))
}

func calibrationSummaryOf(c *analyse.Calibration, o overview.Overview, opts calibrationOptions) calibrationSummary {
	return calibrationSummary{
		Inputs: c.Inputs, Files: filesOf(o),
		Studies: readStudies{Total: o.Studies, LeftOut: c.LeftOut, Since: c.Since, Until: c.Until, Images: o.Images},
		Devices: devicesOf(c), TestObject: testObjectOf(c.TestObject),
		Findings: findingsOf(o),
		Workbook: opts.out, Tables: opts.tables, Identity: opts.identity, Caution: caution,
		overview: o,
	}
}

// text is the summary for a person, in a fixed order.
func (s calibrationSummary) text() string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "Files\t%d\t%s\n", s.Files.Total, outcomes(s.overview))
	fmt.Fprintf(w, "Studies\t%d\t%s%s\n", s.Studies.Total, analyse.Counted(s.Studies.Images, "picture", "pictures"), leftOut(s.Studies.LeftOut))
	fmt.Fprintf(w, "Devices\t%d\t%s\n", s.Devices.Total, s.Devices.verdicts())
	if o := s.TestObject; o != nil {
		fmt.Fprintf(w, "Test object\t%d\t%s\n", o.Scans, o.text())
	}
	s.Findings.print(w)
	printOutputs(w, s.Workbook, s.Tables)
	w.Flush()
	printIdentity(&b, s.Identity)
	return b.String()
}
