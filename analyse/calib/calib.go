// Package calib checks devices: it calls the other stages in order and computes
// nothing itself. Studies are assembled, the checks that speak of scale and timing
// asked, and the pictures of each device held against each other.
package calib

import (
	"context"
	"time"

	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/analyse/checks"
	"leadline/analyse/clocks"
	"leadline/analyse/devices"
	"leadline/analyse/pictures"
	"leadline/analyse/timing"
	"leadline/ingest"
)

// Options are the settings of Run.
type Options struct {
	// Since and Until keep the studies of these days and between; zero is open.
	Since, Until time.Time
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
	findings, err := checks.Each(ctx, c.Studies, func(s *analyse.Study) []analyse.Finding {
		if opts.FirstFrame != nil {
			pictures.Read(s, opts.FirstFrame)
		}
		s.Timing = timing.Of(s)
		findings := checks.RunOfDevice(s)
		s.Totals.CountFindings(findings)
		return findings
	})
	if err != nil {
		return nil, err
	}
	c.Findings = append(findings, checks.OfArchive(c.Studies)...)
	checks.Sort(c.Findings)
	c.Devices = devices.Of(c.Studies, c.Findings)
	c.Clocks = clocks.Of(c.Studies)
	return c, nil
}
