// Package stats is arithmetic on series of values: agreement of two methods,
// repeatability, agreement of observers, shares, control charts and their run rules,
// outliers, lines, changes over time. It
// knows no measurement and no file.
//
// Intervals are 95 % confidence intervals for independent values; several values of
// one child are not independent, which only the caller can know.
package stats
