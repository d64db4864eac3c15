// Package deid holds the rules by which identifying values leave the program:
// kept, numbered, shifted or replaced by keyed pseudonyms, as the identity that
// was asked for allows. Rules are values that a column carries; nothing here
// knows a table.
//
// It is a leaf. It does not clean pixels and writes no DICOM.
package deid
