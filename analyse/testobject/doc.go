// Package testobject holds what was measured on scans of a test object (phantom)
// against its true distances: error of each device and target, with its uncertainty,
// verdict against the tolerance, control charts over time, and when the next test is
// due. It reads no file and computes no distance itself.
//
// What it says is no acceptance test: it judges distances that somebody measured in
// archived scans, not the picture.
package testobject
