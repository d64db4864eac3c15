// Package workbook writes a Book as one .xlsx file: an overview, the tables in the
// order a person reads them, and how it was computed.
//
// Sheets are streamed: memory does not grow with the rows. The same Book gives the
// same bytes. What the format cannot hold (more rows than a sheet, longer text than
// a cell) goes on in a further sheet, or is cut with a mark; nothing is dropped in
// silence.
package workbook
