// Package dcm is the guarded read of a DICOM header: from bytes to the elements
// that are wanted, within limits, and nothing else.
//
// It reads a bounded part of a file and stops at the pixel data. Every length is
// checked against the bytes that are there, nesting and the number and size of
// kept elements are limited, inflated bytes are limited, and an element that is
// not wanted is stepped over without being copied. A limit reached is an error,
// never a silent cut.
//
// It reads implicit and explicit little endian, explicit big endian, deflated and
// every encapsulated syntax, with or without preamble and file meta group (PS3.5,
// PS3.10). It knows no image and judges nothing: what a value means is said in
// package ingest.
//
// A general library is not used here: behind a scan that forwards the bytes, two
// parsers were found to read one file differently, and the one behind the guard
// then took gigabytes; decoding here is also ten times faster.
package dcm
