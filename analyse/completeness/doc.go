// Package completeness holds a study against a protocol: does the protocol apply,
// and how does the study stand against each item, with the evidence named and, for
// what falls short, the nearest miss.
//
// It decides whether things are there, never whether they are good. What the files
// do not say is not-assessable, never missing. No patient data enters a result.
package completeness
