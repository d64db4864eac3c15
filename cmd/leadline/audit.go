package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/analyse/overview"
	"leadline/export/deid"
)

type auditOptions struct {
	out, tables, cache   string
	protocols, calipers  []string
	references, measures []string
	compare              []string
	minCell              int
	workers              int
	identity             deid.Identity
	since, until         time.Time
	quiet, force, json   bool
	failOn               failOn
}

func (o *auditOptions) addFlags(f *pflag.FlagSet) {
	o.identity, o.failOn = deid.Study, failNever
	f.StringVarP(&o.out, "out", "o", "audit.xlsx", "the workbook, a `FILE`")
	f.StringVar(&o.tables, "tables", "", "a folder `DIR` for every table as CSV, one file each")
	f.StringArrayVar(&o.protocols, "protocol", nil, "check against this protocol, built in or your own: `NAME|FILE`; repeatable (default: newborn-heart-function)")
	f.StringArrayVar(&o.calipers, "calipers", nil, "a caliper table, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.measures, "measures", nil, "labels, codes and measures of your own, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.references, "references", nil, "hold values against this reference table, `builtin|FILE` in CSV; repeatable (default: builtin; a FILE alone replaces it)")
	f.StringArrayVar(&o.compare, "compare", nil, "compare with an earlier audit, the folder `DIR` of its tables; repeatable")
	f.IntVar(&o.minCell, "min-cell", 0, "leave counts below `N`, and what gives them away, out of the tables of many studies")
	f.StringVar(&o.cache, "cache", "", "keep what was read in this `FILE`, so that the next run reads only what changed; it holds patient data")
	f.IntVar(&o.workers, "workers", 0, "`N` files are read at once; 0 means one per processor")
	f.Var((*identityFlag)(&o.identity), "identity", "what may identify someone in the output")
	f.Var((*dateFlag)(&o.since), "since", "only studies of this day and later (YYYY-MM-DD)")
	f.Var((*dateFlag)(&o.until), "until", "only studies of this day and earlier (YYYY-MM-DD)")
	f.Var(&o.failOn, "fail-on", "exit with 1 when there are findings at or above this")
	f.BoolVar(&o.json, "json", false, "print the summary as JSON")
	f.BoolVar(&o.force, "force", false, "overwrite output that exists")
	f.BoolVar(&o.quiet, "quiet", false, "no progress")
}

func newAuditCommand(to streams) *cobra.Command {
	var opts auditOptions
	cmd := &cobra.Command{
		Use:   "audit PATH...",
		Short: "Audit every study below the paths and write a workbook",
		Long: `Reads every file below the paths, also inside ZIP and tar archives, rebuilds each
measurement from its caliper and calibration, compares it with the reported value,
holds every study against the protocols, and writes a workbook. A short summary goes
to standard output, progress to standard error on a terminal. Pictures are not read.`,
		Example: `  leadline audit lambswool-ward --calipers lambswool-ward/calipers.csv \
      -o september.xlsx --tables september-tables`,
		Args: cobra.MinimumNArgs(1),
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
	if err := checkCache(opts, paths); err != nil {
		return err
	}
	if err := probeOutputs(opts); err != nil {
		return err
	}
	archive, err := readArchive(ctx, paths, opts, to.err, show)
	if err != nil {
		return err
	}
	if err := nothingRead(archive); err != nil {
		return err
	}
	show.stage("judging the studies")
	result, err := audit.Run(ctx, archive, run)
	if err != nil {
		return err
	}
	show.stage("writing")
	if err := writeOutputs(ctx, result, opts); err != nil {
		return err
	}
	show.clear()
	return conclude(result, opts, to.out)
}

func (o *auditOptions) validate() error {
	switch {
	case o.workers < 0:
		return &usageError{fmt.Sprintf("--workers %d: expected a number from 0", o.workers)}
	case o.minCell < 0:
		return &usageError{fmt.Sprintf("--min-cell %d: expected a number from 0", o.minCell)}
	case o.out == "":
		return &usageError{"--out: expected a file name"}
	case !o.since.IsZero() && !o.until.IsZero() && o.until.Before(o.since):
		return &usageError{"--until is before --since: no study can be of these days"}
	}
	return nil
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
