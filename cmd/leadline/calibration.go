package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadline/analyse"
	"leadline/analyse/calib"
	"leadline/analyse/overview"
	"leadline/export"
)

type calibrationOptions struct {
	runOptions
	phantom                    string
	calipers, measures, labels []string
}

func (o *calibrationOptions) addFlags(f *pflag.FlagSet) {
	o.runOptions.addFlags(f, "calibration.xlsx")
	f.StringVar(&o.phantom, "phantom", "", "judge the scans of this test object, a `FILE` in YAML")
	f.StringArrayVar(&o.calipers, "calipers", nil, "a caliper table of scans of the test object, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.measures, "measures", nil, "labels, codes and measures of your own, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.labels, "labels", nil, "a study table that says what images show and of which exam they are, a `FILE` in CSV; repeatable")
}

func newCalibrationCommand(to streams) *cobra.Command {
	var opts calibrationOptions
	cmd := &cobra.Command{
		Use:   "calibration PATH...",
		Short: "Check the devices that made the pictures and write a workbook",
		Long: `Reads every file below the paths, also inside ZIP and tar archives, holds the
pictures of each device against each other, asks the checks of scale and timing, and
holds what was measured on a test object (--phantom) against its true distances, and
writes a workbook with one row for each device. A short summary goes to standard
output, progress to standard error on a terminal. Pictures are not read, unless
--pixels asks for their rulers.`,
		Example: `  leadline calibration lambswool-ward -o devices.xlsx --tables device-tables
  leadline calibration lambswool-ward test-scans --phantom gel-block.yaml`,
		Args: wants("a PATH: the folder, file or archive to read", 0),
		RunE: returning(func(cmd *cobra.Command, args []string) error {
			return runCalibration(cmd.Context(), args, opts, to, progressOn(to.err, opts.quiet))
		}),
	}
	opts.addFlags(cmd.Flags())
	return document(cmd, exitDone, exitFindings, exitUsage, exitNothing, exitInterrupted)
}

// runCalibration looks for everything that would stop it before it reads the archive.
func runCalibration(ctx context.Context, paths []string, opts calibrationOptions, to streams, show *progress) error {
	defer show.clear()
	if err := opts.validate(); err != nil {
		return err
	}
	run, err := opts.load(paths)
	if err != nil {
		return err
	}
	tables := export.CalibrationTables(&analyse.Calibration{Result: &analyse.Result{Pictures: opts.pixels}}, export.Options{})
	archive, err := opts.read(ctx, paths, tables, to.err, show)
	if err != nil {
		return err
	}
	show.stage("checking the devices")
	run.FirstFrame = opts.firstFrame(archive)
	c, err := calib.Run(ctx, archive, run)
	if err != nil {
		return err
	}
	show.stage("writing")
	if err := writeOutputs(ctx, export.NewCalibrationBook(c, opts.export()), &opts.runOptions); err != nil {
		return err
	}
	show.clear()
	return concludeCalibration(c, opts, to.out)
}

func concludeCalibration(c *analyse.Calibration, opts calibrationOptions, out io.Writer) error {
	o := overview.Of(c.Result)
	s := calibrationSummaryOf(c, o, opts)
	if err := printSummary(out, s, opts.json); err != nil {
		return fmt.Errorf("printing the summary: %w", err)
	}
	if opts.failOn.reached(o) {
		return errFindings
	}
	return nil
}
