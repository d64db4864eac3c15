// Package rebuild computes measurements again from the pixels their calipers lie
// on and the calibration of the image, and holds them against the values that the
// archive reports.
//
// The way of one measurement: collected from a report, a presentation state or a
// caliper table (collect_*.go); its graphic becomes a geometry (shape.go); unit,
// measure and geometry leave some formulas (formula.go, want.go); one calibration
// is chosen for them (calibrate.go); the value is compared (verdict.go).
//
// A value that cannot be rebuilt is never guessed: the measurement keeps the id of
// the finding that explains it, and a note in words.
package rebuild
