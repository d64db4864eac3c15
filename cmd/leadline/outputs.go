package main

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"

	"leadline/export"
	"leadline/export/atomicfile"
	"leadline/export/csvfile"
	"leadline/export/workbook"
)

// export are the settings of an export that the flags name.
func (o *runOptions) export() export.Options {
	return export.Options{Identity: o.identity, Version: version}
}

// checkOutputs refuses outputs that would take each other's name, or lie in a folder
// that is read: nothing in an archive is changed, and the next run would count them
// among its files.
func checkOutputs(opts *runOptions, paths []string) error {
	if opts.tables != "" && samePlace(opts.tables, opts.out) {
		return &usageError{fmt.Sprintf("--tables %s: the workbook has this name", opts.tables)}
	}
	for _, output := range []struct{ flag, name string }{{"--out", opts.out}, {"--tables", opts.tables}} {
		for _, path := range paths {
			if output.name != "" && liesBelow(output.name, path) {
				return &usageError{fmt.Sprintf("%s %s: it lies below %s, which is read; write it elsewhere", output.flag, output.name, path)}
			}
		}
	}
	return nil
}

// probeOutputs finds out before the archive is read that an output exists or
// cannot be written. It leaves nothing behind.
func probeOutputs(opts *runOptions, tables []export.Table) error {
	f, err := atomicfile.Create(opts.out, opts.force)
	if err != nil {
		return err
	}
	f.Abort()
	if opts.tables == "" {
		return nil
	}
	names := csvfile.Names(tables)
	set, err := atomicfile.CreateSet(opts.tables, names, opts.force)
	if err != nil {
		return err
	}
	defer set.Abort()
	_, err = set.Create(names[0])
	return err
}

// writeOutputs writes the tables and the workbook at once, each beside its target and
// renamed when whole; an error of one stops the other. Interrupted before, it writes
// nothing.
func writeOutputs(ctx context.Context, book *export.Book, opts *runOptions) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	both, ctx := errgroup.WithContext(ctx)
	if opts.tables != "" {
		both.Go(func() error {
			if err := csvfile.WriteDir(ctx, opts.tables, book.Tables, opts.force); err != nil {
				return fmt.Errorf("writing the tables: %w", err)
			}
			return nil
		})
	}
	both.Go(func() error {
		if err := workbook.Write(ctx, opts.out, book, opts.force); err != nil {
			return fmt.Errorf("writing the workbook: %w", err)
		}
		return nil
	})
	return both.Wait()
}
