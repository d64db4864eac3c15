package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadline/analyse/audit"
	"leadline/export"
	"leadline/export/deid"
	"leadline/ingest"
)

type showOptions struct {
	identity  deid.Identity
	json      bool
	calipers  []string
	protocols []string
	measures  []string
}

func (o *showOptions) addFlags(f *pflag.FlagSet) {
	o.identity = deid.Study
	f.Var((*identityFlag)(&o.identity), "identity", "what may identify someone in the output")
	f.StringArrayVar(&o.calipers, "calipers", nil, "a caliper table, a `FILE` in CSV; repeatable")
	f.StringArrayVar(&o.protocols, "protocol", nil, "take placing errors and tolerances from this protocol: `NAME|FILE`; repeatable")
	f.StringArrayVar(&o.measures, "measures", nil, "labels, codes and measures of your own, a `FILE` in CSV; repeatable")
	f.BoolVar(&o.json, "json", false, "print as JSON, with the column names of the tables as keys")
}

func newShowCommand(to streams) *cobra.Command {
	var opts showOptions
	cmd := &cobra.Command{
		Use:   "show FILE...",
		Short: "Print what one file holds",
		Long: `Prints what a file holds: study, device, timing, a drawing of where the
calibrated regions lie, the tree of a report, what is wrong with it, and each
measurement with every step from pixels to value, uncertainty and verdict, in
lines that a calculator can follow and a mail can hold. Several files are read
together, so that a report given with its images has its measurements rebuilt;
the steps stand with the image that the caliper lies on. With the last file of a
study come the indices that follow from the files given, each with what every
error adds to its uncertainty; what several calipers share counts once. A file in a
ZIP or tar archive is named as in files.csv of an audit (export.zip!/a/b.dcm); the
whole archive is then read with it. Nothing about the patient is printed unless
--identity full.`,
		Example: `  leadline show lambswool-ward/media/outpatients/20260901-002/IM0001
  leadline show report.dcm image.dcm --calipers second-reader.csv`,
		Args: wants("a FILE to show", 0),
		RunE: returning(func(cmd *cobra.Command, args []string) error {
			return runShow(cmd.Context(), args, opts, to.out)
		}),
	}
	opts.addFlags(cmd.Flags())
	return document(cmd, exitDone, exitUsage, exitNothing, exitInterrupted)
}

// errNoneShown ends a show of files none of which belongs to a study; what they are
// is printed.
var errNoneShown = errors.New("none of the files is a DICOM object of a study")

func runShow(ctx context.Context, files []string, opts showOptions, out io.Writer) error {
	for _, file := range files {
		if info, err := os.Stat(file); err == nil && info.IsDir() {
			return &usageError{file + " is a folder; show takes files, audit takes folders"}
		}
	}
	ask := askedFor(files)
	run, err := opts.load(ask.read)
	if err != nil {
		return err
	}
	archive, err := ingest.Load(ctx, ask.read, ingest.Options{})
	if err != nil {
		return err
	}
	at, err := ask.entries(archive.Ledger)
	if err != nil {
		return err
	}
	archive.Directories = nil // a medium's list is held against the whole medium, not against one file
	result, err := audit.Run(ctx, archive, run)
	if err != nil {
		return err
	}
	work := explainer{archive: archive, run: run, result: result}
	// One key for all files, so that one study has one pseudonym.
	key := make([]byte, 32)
	rand.Read(key)
	var views []fileView
	for k, i := range at {
		entry := &result.Ledger[i]
		one := excerptOf(result, entry, lastOfStudy(result.Ledger, at[k+1:], entry.StudyUID))
		inst := instanceAt(archive, entry.Path)
		book := export.NewBook(one, export.Options{Identity: opts.identity, Key: key})
		v := viewOf(book, inst, entry.Path)
		v.explain(one, entry.SOPUID, &work)
		views = append(views, v)
	}
	if err := printViews(out, views, opts.json); err != nil {
		return fmt.Errorf("printing: %w", err)
	}
	if len(archive.Instances) == 0 {
		return errNoneShown
	}
	return nil
}

// lastOfStudy tells that none of the later files is of the same study.
func lastOfStudy(ledger []ingest.Entry, later []int, study string) bool {
	return !slices.ContainsFunc(later, func(i int) bool { return ledger[i].StudyUID == study })
}

// load reads what the flags name. Without a protocol none is applied: some files of
// a study do not tell what it lacks.
func (o *showOptions) load(files []string) (audit.Options, error) {
	run := audit.Options{Inputs: files}
	var err error
	if run.Measures, err = loadMeasures(o.measures); err != nil {
		return run, err
	}
	if run.Protocols, err = loadProtocols(o.protocols, run.Measures); err != nil {
		return run, err
	}
	run.Calipers, err = loadCalipers(o.calipers)
	return run, err
}

func instanceAt(archive *ingest.Archive, path string) *ingest.Instance {
	for _, inst := range archive.Instances {
		if inst.Path == path {
			return inst
		}
	}
	return nil
}

func printViews(out io.Writer, views []fileView, asJSON bool) error {
	if asJSON {
		return printJSON(out, views)
	}
	for i := range views {
		if i > 0 {
			if _, err := fmt.Fprintln(out); err != nil {
				return err
			}
		}
		if _, err := io.WriteString(out, views[i].text()); err != nil {
			return err
		}
	}
	return nil
}
