package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"leadline/analyse/pictures"
	"leadline/export"
	"leadline/export/deid"
	"leadline/ingest"
)

// runOptions are the flags of every command that reads an archive and writes a
// workbook.
type runOptions struct {
	out, tables, cache string
	limits             string
	workers            int
	identity           deid.Identity
	since, until       time.Time
	quiet, force, json bool
	pixels             bool
	failOn             failOn
}

// addFlags adds them; workbook is the name of the workbook where none is given.
func (o *runOptions) addFlags(f *pflag.FlagSet, workbook string) {
	o.identity, o.failOn = deid.Study, failNever
	f.StringVarP(&o.out, "out", "o", workbook, "the workbook, a `FILE` whose name ends in .xlsx")
	f.StringVar(&o.tables, "tables", "", "a folder `DIR` for every table as CSV, one file each")
	f.StringVar(&o.cache, "cache", "", "keep what was read in this `FILE`, so that the next run reads only what changed; it holds patient data")
	f.StringVar(&o.limits, "limits", "", "hold output indices (MI, TI) against this table, a `FILE` in CSV (default: recommendations for newborns)")
	f.IntVar(&o.workers, "workers", 0, "`N` files are read at once; 0 means one per processor")
	f.Var((*identityFlag)(&o.identity), "identity", "what may identify someone in the output")
	f.Var((*dateFlag)(&o.since), "since", "only studies of this day and later (YYYY-MM-DD)")
	f.Var((*dateFlag)(&o.until), "until", "only studies of this day and earlier (YYYY-MM-DD)")
	f.BoolVar(&o.pixels, "pixels", false, "read the first frame of each ultrasound picture and hold its ruler against the scale of the header")
	f.Var(&o.failOn, "fail-on", "exit with 1 when there are findings at or above this")
	f.BoolVar(&o.json, "json", false, "print the summary as JSON")
	f.BoolVar(&o.force, "force", false, "overwrite output that exists")
	f.BoolVar(&o.quiet, "quiet", false, "no progress")
}

func (o *runOptions) validate() error {
	switch {
	case o.workers < 0:
		return &usageError{fmt.Sprintf("--workers %d: expected a number from 0", o.workers)}
	case o.out == "":
		return &usageError{"--out: expected a file name"}
	case !strings.EqualFold(filepath.Ext(o.out), ".xlsx"):
		return &usageError{fmt.Sprintf("--out %s: expected a name that ends in .xlsx, by which spreadsheet programs know a workbook", o.out)}
	case !o.since.IsZero() && !o.until.IsZero() && o.until.Before(o.since):
		return &usageError{"--until is before --since: no study can be of these days"}
	}
	return nil
}

// firstFrame is what unpacks pictures, nil where none are asked for.
func (o *runOptions) firstFrame(archive *ingest.Archive) pictures.Source {
	if !o.pixels {
		return nil
	}
	return archive.FirstFrame
}

// read makes sure that the tables can be written, then reads the archive, which may
// take an hour and must hold something.
func (o *runOptions) read(ctx context.Context, paths []string, tables []export.Table, notices io.Writer, show *progress) (*ingest.Archive, error) {
	if err := checkCache(o, paths); err != nil {
		return nil, err
	}
	if err := checkOutputs(o, paths); err != nil {
		return nil, err
	}
	if err := probeOutputs(o, tables); err != nil {
		return nil, err
	}
	archive, err := readArchive(ctx, paths, o, notices, show)
	if err != nil {
		return nil, err
	}
	return archive, nothingRead(archive)
}
