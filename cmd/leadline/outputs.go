package main

import (
	"context"
	"fmt"

	"leadline/export"
	"leadline/export/atomicfile"
	"leadline/export/csvfile"
	"leadline/export/workbook"
)

// export are the settings of an export that the flags name.
func (o *runOptions) export() export.Options {
	return export.Options{Identity: o.identity, Version: version}
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

// writeOutputs writes the tables, then the workbook, each beside its target and
// renamed when whole. Interrupted before, it writes nothing.
func writeOutputs(ctx context.Context, book *export.Book, opts *runOptions) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if opts.tables != "" {
		if err := csvfile.WriteDir(ctx, opts.tables, book.Tables, opts.force); err != nil {
			return fmt.Errorf("writing the tables: %w", err)
		}
	}
	if err := workbook.Write(ctx, opts.out, book, opts.force); err != nil {
		return fmt.Errorf("writing the workbook: %w", err)
	}
	return nil
}
