package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadline/analyse"
	"leadline/cmd/leadline/internal/demo"
	"leadline/export/atomicfile"
)

type demoOptions struct {
	studies      int
	months       int
	testObject   bool
	seed         int64
	fleet        bool
	force, quiet bool
}

func (o *demoOptions) addFlags(f *pflag.FlagSet) {
	f.IntVar(&o.studies, "studies", 0, "`N` studies; 0 writes the small archive with every planted defect")
	f.IntVar(&o.months, "months", 1, "spread the studies over `M` months, with a bad week and an improvement that truth-month.csv names; needs --studies")
	f.BoolVar(&o.testObject, "test-object", false, "write monthly scans of a test object instead, with its file (test-object.yaml)")
	f.Int64Var(&o.seed, "seed", 0, "another seed `S` gives other people, sizes and pictures; the same gives the same bytes")
	f.BoolVar(&o.fleet, "fleet", false, "write instead the stills of twelve invented devices over 18 months, for leadline calibration; truth-fleet.csv tells what is wrong with them")
	f.BoolVar(&o.force, "force", false, "write into a folder that is not empty")
	f.BoolVar(&o.quiet, "quiet", false, "print nothing")
}

func newDemoCommand(to streams) *cobra.Command {
	var opts demoOptions
	cmd := &cobra.Command{
		Use:   "demo DIR",
		Short: "Write the invented demo archive",
		Long: `Writes an invented month of an invented hospital: heart, lung, head and vessel
studies of several devices, with structured reports, presentation states, a caliper
table (calipers.csv), a study table (labels.csv) and planted defects, each listed in
truth.csv; truth-items.csv tells how every study stands against every item of the
protocol of its kind. Nobody in it exists.`,
		Example: `  leadline demo lambswool-ward --studies 40 --seed 7`,
		Args:    wants("a DIR: the folder to write", 1),
		RunE: returning(func(cmd *cobra.Command, args []string) error {
			return runDemo(cmd.Context(), args[0], opts, to.out)
		}),
	}
	opts.addFlags(cmd.Flags())
	return document(cmd, exitDone, exitUsage, exitNothing, exitInterrupted)
}

// runDemo writes the archive and says what it is.
func runDemo(ctx context.Context, dir string, opts demoOptions, out io.Writer) error {
	kinds := 0
	for _, asked := range []bool{opts.fleet, opts.testObject, opts.studies > 0} {
		if asked {
			kinds++
		}
	}
	if kinds > 1 {
		return &usageError{"--studies, --fleet and --test-object: expected one of them"}
	}
	if opts.studies < 0 {
		return &usageError{fmt.Sprintf("--studies %d: expected a number from 0", opts.studies)}
	}
	if opts.months < 0 || opts.months > 1 && opts.studies == 0 {
		return &usageError{fmt.Sprintf("--months %d: expected a number from 1, and --studies beside any above 1", opts.months)}
	}
	summary, err := writeDemo(ctx, dir, opts)
	if err != nil || opts.quiet {
		return err
	}
	planted := "truth.csv lists %d planted defects and verdicts"
	if opts.fleet {
		planted = "truth-fleet.csv lists the devices, %d of them with a fault"
	}
	_, err = fmt.Fprintf(out, "%s: %s in %d files (%.1f MB); "+planted+"\n",
		dir, analyse.Counted(summary.Studies, "study", "studies"), summary.Files, float64(summary.Bytes)/1e6, summary.Planted)
	return err
}

// writeDemo draws the archive in a hidden folder within dir and moves it up when it
// is whole. With force, in a folder that is not empty, it writes in place.
func writeDemo(ctx context.Context, dir string, opts demoOptions) (demo.Summary, error) {
	draw := func(dir string) (demo.Summary, error) {
		switch {
		case opts.fleet:
			return demo.WriteFleet(ctx, dir, opts.seed)
		case opts.testObject:
			return demo.WriteTestObject(ctx, dir, demo.Options{Seed: opts.seed})
		}
		return demo.Write(ctx, dir, demo.Options{Studies: opts.studies, Months: opts.months, Seed: opts.seed})
	}
	entries, err := os.ReadDir(dir)
	made := errors.Is(err, fs.ErrNotExist)
	switch {
	case len(entries) > 0 && !opts.force:
		return demo.Summary{}, &atomicfile.ExistsError{Path: dir}
	case len(entries) > 0:
		return draw(dir)
	case err != nil && !made:
		return demo.Summary{}, fmt.Errorf("looking at the folder: %w", err)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return demo.Summary{}, fmt.Errorf("making the folder: %w", err)
	}
	if made {
		// Of a folder that is not empty by then, Remove keeps its hands.
		defer os.Remove(dir)
	}
	hidden, err := os.MkdirTemp(dir, ".demo.*.tmp")
	if err != nil {
		return demo.Summary{}, fmt.Errorf("writing into the folder: %w", err)
	}
	defer os.RemoveAll(hidden)
	summary, err := draw(hidden)
	if err != nil {
		return demo.Summary{}, err
	}
	return summary, moveUp(hidden, dir)
}

// moveUp moves what lies in one folder into another on the same file system.
func moveUp(from, to string) error {
	entries, err := os.ReadDir(from)
	if err != nil {
		return fmt.Errorf("listing what was written: %w", err)
	}
	for _, e := range entries {
		if err := os.Rename(filepath.Join(from, e.Name()), filepath.Join(to, e.Name())); err != nil {
			return fmt.Errorf("moving what was written: %w", err)
		}
	}
	return nil
}
