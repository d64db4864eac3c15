// Package references holds values against reference tables: limits of a measure or
// an index in a named population. A row is shown where the ages and weights it asks
// for are met or cannot be told; it is left out where the header contradicts them.
//
// It gives no verdict on a patient. Rows of different sources are never blended,
// and nothing is extrapolated beyond the ages and weights of a row.
package references
