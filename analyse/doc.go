// Package analyse holds the result model: what is said about studies,
// measurements, indices, protocol items and findings. Subpackages do the work:
// physical and stats are arithmetic only; measures names what is measured;
// rebuild, indices, completeness and checks each fill one part of a Study; audit
// calls them in order.
//
// Nothing here reads a file or prints. NaN and infinities never leave it.
package analyse
