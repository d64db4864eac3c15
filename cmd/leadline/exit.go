package main

import (
	"context"
	"errors"
	"fmt"

	"leadline/ingest"
	"leadline/ingest/protocol"
)

// The exit statuses. Nothing else in the program decides on one.
const (
	exitDone        = 0
	exitFindings    = 1
	exitUsage       = 2
	exitNothing     = 3
	exitInterrupted = 130
)

// statusText says what a status means, for help texts.
var statusText = map[int]string{
	exitDone:        "done",
	exitFindings:    "done, and there are findings at or above --fail-on",
	exitUsage:       "wrong usage, or a broken protocol, test object, caliper, study, reference, measures or limits file",
	exitNothing:     "nothing could be read or written, or output exists (see --force)",
	exitInterrupted: "interrupted; no half file is left",
}

// errFindings ends an audit that was asked to fail on findings. All is written.
var errFindings = errors.New("there are findings at or above --fail-on")

// runError is an error of a run function, as opposed to one of the command line.
type runError struct{ error }

func (e *runError) Unwrap() error { return e.error }

// usageError is a command line that no flag parser can refuse.
type usageError struct{ message string }

func (e *usageError) Error() string { return e.message }

// statusOf turns what a command returned into the exit status. What cobra refuses
// itself is not marked as coming from a run function, and is wrong usage.
func statusOf(err error) int {
	var (
		ran   *runError
		usage *usageError
		table *ingest.TableError
		file  *protocol.FileError
	)
	switch {
	case err == nil:
		return exitDone
	case !errors.As(err, &ran):
		return exitUsage
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.As(err, &usage), errors.As(err, &table), errors.As(err, &file):
		return exitUsage
	}
	return exitNothing
}

// explain is the message for an error. Wrong usage points at the help.
func explain(err error, command string) string {
	var (
		ran   *runError
		usage *usageError
	)
	switch {
	case errors.Is(err, context.Canceled):
		return "leadline: interrupted"
	case !errors.As(err, &ran), errors.As(err, &usage):
		return fmt.Sprintf("leadline: %v\nSee %s --help.", err, command)
	}
	return fmt.Sprintf("leadline: %v", err)
}
