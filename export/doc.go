// Package export turns a result into tables: one file per table, in which each
// column is one value that holds its header, its cell, its unit and its text in
// the codebook. The formats below it (csvfile, workbook) write what they are
// given and know no table.
//
// Identity is applied here, cell by cell, by the rules of package deid. No number
// is computed here that analyse did not compute.
package export
