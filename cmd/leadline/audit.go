package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/analyse/overview"
	"leadline/export"
)

type auditOptions struct {
	runOptions
	protocols, calipers  []string
	references, measures []string
	labels               []string
	compare              []string
	minCell              int
}

func (o *auditOptions) addFlags(f *pflag.FlagSet) {
	o.runOptions.addFlags(f, "audit.xlsx")
	f.StringArrayVar(&o.protocols, "protocol", nil, "check against this protocol, built in or your own: `NAME|FILE`; repeatable (default: newborn-heart-function)")
	f.StringArrayVar(&o.calipers, "calipers", nil, "a caliper table, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.labels, "labels", nil, "a study table that says what images show and of which exam they are, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.measures, "measures", nil, "labels, codes and measures of your own, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.references, "references", nil, "hold values against this reference table, `builtin|FILE` in CSV; repeatable (default: builtin; a FILE alone replaces it)")
	f.StringArrayVar(&o.compare, "compare", nil, "compare with an earlier audit, the folder `DIR` of its tables; repeatable")
	f.IntVar(&o.minCell, "min-cell", 0, "leave counts of studies below `N`, and what gives them away, out of what counts over many studies; 0 leaves out none")
}

func newAuditCommand(to streams) *cobra.Command {
	var opts auditOptions
	cmd := &cobra.Command{
		Use:   "audit PATH...",
		Short: "Audit every study below the paths and write a workbook",
		Long: `Reads every file below the paths, also inside ZIP and tar archives, rebuilds each
measurement from its caliper and calibration, compares it with the reported value,
holds every study against the protocols, and writes a workbook. A short summary goes
to standard output, progress to standard error on a terminal. Pictures are not read,
unless --pixels asks for their rulers.`,
		Example: `  leadline audit lambswool-ward --calipers lambswool-ward/calipers.csv \
      -o september.xlsx --tables september-tables`,
		Args: wants("a PATH: the folder, file or archive to read", 0),
		RunE: returning(func(cmd *cobra.Command, args []string) error {
			return runAudit(cmd.Context(), args, opts, to, progressOn(to.err, opts.quiet))
		}),
	}
	opts.addFlags(cmd.Flags())
	return document(cmd, exitDone, exitFindings, exitUsage, exitNothing, exitInterrupted)
}

// runAudit looks for everything that would stop it before it reads the archive,
// which may take an hour: flags, protocols, tables, outputs.
func runAudit(ctx context.Context, paths []string, opts auditOptions, to streams, show *progress) error {
	defer show.clear()
	if err := opts.validate(); err != nil {
		return err
	}
	run, err := opts.load(paths)
	if err != nil {
		return err
	}
	archive, err := opts.read(ctx, paths, export.Tables(&analyse.Result{Pictures: opts.pixels}, export.Options{}), to.err, show)
	if err != nil {
		return err
	}
	show.stage("judging the studies")
	run.FirstFrame = opts.firstFrame(archive)
	result, err := audit.Run(ctx, archive, run)
	if err != nil {
		return err
	}
	show.stage("writing")
	if err := writeOutputs(ctx, export.NewBook(result, opts.export()), &opts.runOptions); err != nil {
		return err
	}
	show.clear()
	return conclude(result, opts, to.out)
}

func (o *auditOptions) validate() error {
	if o.minCell < 0 {
		return &usageError{fmt.Sprintf("--min-cell %d: expected a number from 0", o.minCell)}
	}
	for _, dir := range o.compare {
		if sameFile(dir, o.tables) {
			return &usageError{fmt.Sprintf("--tables %s: --compare reads the earlier audit there, which would be overwritten", o.tables)}
		}
	}
	return o.runOptions.validate()
}

// conclude prints the summary and says whether the findings fail the run.
func conclude(result *analyse.Result, opts auditOptions, out io.Writer) error {
	o := overview.Of(result)
	if err := printSummary(out, summaryOf(result, o, opts), opts.json); err != nil {
		return fmt.Errorf("printing the summary: %w", err)
	}
	if opts.failOn.reached(o) {
		return errFindings
	}
	return nil
}
