package export

import (
	"leadline/analyse"
	"leadline/analyse/overview"
	"leadline/export/deid"
)

// NewCalibrationBook prepares a check of devices for writing. Its tables are files,
// devices, the files to look at, scales, settings, routes, targets, charts, acoustic,
// regions, clocks, findings, then the codebook. The check must not change while they are
// written.
func NewCalibrationBook(c *analyse.Calibration, opts Options) *Book {
	if opts.Identity == "" {
		opts.Identity = deid.Study
	}
	w := newWriter(c.Result, deid.New(opts.Identity, opts.Key))
	tables := []Table{
		w.files(), w.deviceTable(c.Devices, c.TestObject), w.lookAtTable(c.Devices), w.scaleTable(c.Devices), w.settingTable(c.Devices), w.routeTable(c.Devices),
		w.targets(c.TestObject), w.charts(chartsOf(c), true), w.acoustic(c.Acoustic), w.regions(), w.clocks(), w.findings(),
	}
	if c.Pictures {
		tables = append(tables, w.rulers())
	}
	return &Book{
		Identity: opts.Identity,
		Title:    "Leadline check of devices",
		Tables:   append(tables, codebook(w.rules, tables)),
		Overview: w.calibrationOverview(c, overview.Of(c.Result), opts.Version),
		Method:   calibrationMethod(),
		Meeting:  w.controlCharts(c.TestObject),
		writer:   w,
	}
}

// chartsOf are the charts of a check of devices: those of the test object.
func chartsOf(c *analyse.Calibration) []analyse.Chart {
	if c.TestObject == nil {
		return nil
	}
	return c.TestObject.Charts
}

// CalibrationTables makes the tables of a check of devices; see Book for what else
// there is.
func CalibrationTables(c *analyse.Calibration, opts Options) []Table {
	return NewCalibrationBook(c, opts).Tables
}
