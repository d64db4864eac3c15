// Command stage runs one stage of reading by itself, so that it can be measured
// beside other programs. Each prints one line of name=value.
//
//	stage load  -workers N DIR            ingest alone: every file to its instance
//	stage bytes DIR                       how many bytes the scan reads of each file
//	stage read  -workers N [-bytes N] DIR opening every file and reading N bytes of it;
//	                                      without N as many as the scan reads of it
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"runtime/debug"

	"leadline/ingest"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "stage:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) == 0 {
		return fmt.Errorf("which stage: load, bytes or read")
	}
	flags := flag.NewFlagSet(args[0], flag.ExitOnError)
	workers := flags.Int("workers", 2, "files read at once")
	size := flags.Int("bytes", 0, "how much to read of each file")
	_ = flags.Parse(args[1:]) // exits by itself
	if flags.NArg() != 1 {
		return fmt.Errorf("one folder is expected, %d given", flags.NArg())
	}
	dir := flags.Arg(0)
	switch args[0] {
	case "load":
		return load(dir, *workers)
	case "bytes":
		return countBytes(dir)
	case "read":
		return plainRead(dir, *workers, *size)
	}
	return fmt.Errorf("no stage is called %q: load, bytes or read", args[0])
}

// heapPercent lets the heap grow by 32 MiB before it is collected, as leadline
// itself begins (cmd/leadline/heap.go).
const heapPercent = 800

// load times ingest and says what it found, so that it can be compared with what
// others find.
func load(dir string, workers int) error {
	debug.SetGCPercent(heapPercent)
	clock := startClock()
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{Workers: workers})
	used := clock.stop()
	if err != nil {
		return err
	}
	regions, reports := 0, 0
	for _, inst := range archive.Instances {
		if inst.Image != nil {
			regions += len(inst.Image.Regions)
		}
		if inst.Report != nil {
			reports++
		}
	}
	fmt.Printf("%s files=%d regions=%d reports=%d\n", used, len(archive.Ledger), regions, reports)
	return nil
}
