// Leadline audits archives of newborn ultrasound studies. This package is the
// command line: flags, exit statuses, progress. It computes nothing about images
// and knows no DICOM tag; what a command does is in the packages that it calls,
// and another Go program can call those without it.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	boundHeap()
	os.Exit(run())
}

// run is the program without its exit.
func run() int {
	ctx, stop := interruptible()
	defer stop()
	return execute(ctx, os.Args[1:], streams{out: os.Stdout, err: os.Stderr})
}

// interruptible is a context that the first signal ends, which asks for an
// orderly end; a second signal ends the program at once.
func interruptible() (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}
