package main

import (
	"context"
	"fmt"

	"leadline/analyse"
	"leadline/export"
	"leadline/export/atomicfile"
	"leadline/export/csvfile"
	"leadline/export/workbook"
)

// probeOutputs finds out before the archive is read that an output exists or
// cannot be written. It leaves nothing behind.
func probeOutputs(opts auditOptions) error {
	f, err := atomicfile.Create(opts.out, opts.force)
	if err != nil {
		return err
	}
	f.Abort()
	if opts.tables == "" {
		return nil
	}
	names := csvfile.Names(export.Tables(&analyse.Result{}, export.Options{}))
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
func writeOutputs(ctx context.Context, result *analyse.Result, opts auditOptions) error {
	book := export.NewBook(result, export.Options{Identity: opts.identity, Version: version})
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
