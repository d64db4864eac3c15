package main

import (
	"errors"
	"time"

	"leadline/analyse/overview"
	"leadline/export/deid"
)

// identityFlag is --identity.
type identityFlag deid.Identity

func (f *identityFlag) String() string { return string(*f) }
func (f *identityFlag) Type() string   { return "none|study|full" }
func (f *identityFlag) Set(s string) error {
	id, err := deid.ParseIdentity(s)
	if err == nil {
		*f = identityFlag(id)
	}
	return err
}

// dateFlag is a day, of no time zone: it is held against study dates as they are
// written. The zero time means that none was given.
type dateFlag time.Time

func (f *dateFlag) Type() string { return "DATE" }
func (f *dateFlag) String() string {
	if time.Time(*f).IsZero() {
		return ""
	}
	return time.Time(*f).Format(time.DateOnly)
}
func (f *dateFlag) Set(s string) error {
	day, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return errors.New("expected a day as YYYY-MM-DD")
	}
	*f = dateFlag(day)
	return nil
}

// failOn is the least severity of a finding that fails a run.
type failOn string

const (
	failError   failOn = "error"
	failWarning failOn = "warning"
	failNever   failOn = "never"
)

func (f *failOn) String() string { return string(*f) }
func (f *failOn) Type() string   { return "error|warning|never" }
func (f *failOn) Set(s string) error {
	switch word := failOn(s); word {
	case failError, failWarning, failNever:
		*f = word
		return nil
	}
	return errors.New("expected error, warning or never")
}

// reached tells that a result holds findings that fail the run.
func (f failOn) reached(o overview.Overview) bool {
	switch f {
	case failError:
		return o.Errors > 0
	case failWarning:
		return o.Errors > 0 || o.Warnings > 0
	}
	return false
}
