// Package demo draws and writes an invented archive: one month of newborn
// ultrasound of a hospital that does not exist, with pictures drawn from the same
// geometry that their calibration states, reports whose numbers are computed from
// the calipers they carry, and planted defects. Each defect is listed with the
// finding or the verdict it must raise in truth.csv beside the archive, so that an
// audit can be counted against what was planted.
//
// Goals: files that other toolkits accept, pictures that look like ultrasound,
// the same bytes for the same options. Not a goal: anatomy to measure from, or
// any likeness to a real maker, place or person.
//
// The arithmetic here (value.go) is written apart from analyse on purpose: the
// two must agree, and a test compares them.
package demo
