// Package ingest reads an archive of ultrasound studies: it walks folders, reads
// a bounded part of every file, and turns each into one Instance. Every file met
// has one row in the Ledger, whatever it is.
//
// Nothing is judged here: an absent value stays absent, an unreadable one becomes
// a Problem, and values stand as the file gives them. Judgement lives in analyse.
//
// Pixel data are never read.
package ingest

import (
	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// The leaf packages' basic words, so that callers of ingest need not import them.
type (
	// Optional is a value that a file may leave out.
	Optional[T any] = dcm.Optional[T]
	// Code is one coded concept.
	Code = dcm.Code
	// Reference points at an instance and perhaps at frames of it.
	Reference = dcm.Reference
	// Problem is something that could not be read as the standard wants.
	Problem = dcm.Problem
	// Point is a place in continuous image coordinates, in pixels.
	Point = coord.Point
	// Index is a zero-based pixel index.
	Index = coord.Index
)

// Some is a value that is there.
func Some[T any](v T) Optional[T] { return dcm.Some(v) }
