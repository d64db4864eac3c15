// Package calib checks devices: it calls the other stages in order and computes
// nothing itself. Studies are assembled, the checks that speak of scale and timing
// asked, the pictures of each device held against each other, and the scans of a test
// object against its true distances.
package calib

import (
	"context"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/analyse/acoustic"
	"leadline/analyse/assemble"
	"leadline/analyse/checks"
	"leadline/analyse/clocks"
	"leadline/analyse/devices"
	"leadline/analyse/measures"
	"leadline/analyse/pictures"
	"leadline/analyse/rebuild"
	"leadline/analyse/testobject"
	"leadline/analyse/timing"
	"leadline/analyse/views"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// Options are the settings of Run.
type Options struct {
	// Since and Until keep the studies of these days and between; zero is open.
	Since, Until time.Time
	// TestObject is the test object whose scans are judged; nil where none is named.
	TestObject *protocol.TestObject
	// Calipers are those of caliper tables, Measures the words that codes and labels
	// of its scans lead to; nil are those that come with the program.
	Calipers []ingest.CaliperRow
	Measures *measures.Catalogue
	// Labels say what images show and of which exam they are, where headers do not.
	Labels []ingest.LabelRow
	// Acoustic are the limits that output indices are held against.
	Acoustic *acoustic.Limits
	// Inputs are the paths that were read, for the overview.
	Inputs []string
	// FirstFrame unpacks pictures; nil where none shall be looked at.
	FirstFrame pictures.Source
}

// Run checks the devices of an archive. The result is the same for the same archive
// and options, in whatever order files were read. Errors are the context's only.
func Run(ctx context.Context, archive *ingest.Archive, opts Options) (*analyse.Calibration, error) {
	c := &analyse.Calibration{Result: assemble.Result(archive, opts.Inputs, assemble.Period{Since: opts.Since, Until: opts.Until})}
	c.Pictures = opts.FirstFrame != nil
	calipers, lostCalipers := assemble.Calipers(opts.Calipers, archive)
	labels, lostLabels := assemble.Labels(opts.Labels, archive)
	findings, err := checks.Each(ctx, c.Studies, func(s *analyse.Study) []analyse.Finding {
		views.Settle(s, labels[s.UID])
		return study(s, opts, calipers[s.UID])
	})
	if err != nil {
		return nil, err
	}
	c.Findings = checks.Sorted(append(findings, checks.OfArchive(c.Studies), checks.CaliperImagesNotFound(lostCalipers), checks.LabelImagesNotFound(lostLabels))...)
	c.Devices = devices.Of(c.Studies, c.Findings)
	c.Clocks = clocks.Of(c.Studies)
	if opts.TestObject != nil {
		c.TestObject = testobject.Judge(c.Studies, opts.TestObject)
	}
	if opts.Acoustic != nil {
		c.Acoustic = opts.Acoustic.Rows(slices.DeleteFunc(slices.Clone(c.Studies), opts.isScan))
		c.AcousticTotals = acoustic.Totals(c.Acoustic)
	}
	return c, nil
}

func (o *Options) isScan(s *analyse.Study) bool {
	return o.TestObject != nil && testobject.IsScan(s, o.TestObject)
}

// study asks the checks of one study. Of a scan of the test object it rebuilds what was
// measured; of a patient, output indices are held against their limits, and what was
// measured is not looked at.
func study(s *analyse.Study, opts Options, calipers []ingest.CaliperRow) []analyse.Finding {
	if opts.FirstFrame != nil {
		pictures.Read(s, opts.FirstFrame)
	}
	s.Timing = timing.Of(s)
	if opts.isScan(s) {
		s.Measurements = rebuild.Measurements(s, calipers, opts.Measures)
	} else {
		opts.Acoustic.Apply(s)
	}
	findings := checks.RunOfDevice(s)
	s.Totals.CountFindings(findings)
	return findings
}

// CheckTestObject wants every measure that the file of a test object names to be a
// known length; nil are the measures that come with the program. Each that is not is
// a *protocol.FileError with its place, joined.
func CheckTestObject(o *protocol.TestObject, words *measures.Catalogue) error {
	return testobject.Check(o, words.All())
}
