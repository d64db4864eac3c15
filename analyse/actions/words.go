package actions

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
)

// What a row holds at most, so that it stays a few lines of a page: the sheets
// Findings and Completeness hold all.
const (
	mostFaults = 3
	mostTodos  = mostFaults
	mostImages = 6
)

// problem tells the faults of a row.
func (r *row) problem() string {
	var words []string
	for _, f := range r.faults[:min(len(r.faults), mostFaults)] {
		words = append(words, sentence(f.words+r.where(f)))
	}
	if more := len(r.faults) - mostFaults; more > 0 {
		words = append(words, fmt.Sprintf("And %d more.", more))
	}
	return strings.Join(words, " ")
}

// where tells how often a fault was met: on which images of a study, or in how many
// studies of a device.
func (r *row) where(f fault) string {
	switch {
	case f.times == 1 && f.reason != "" && len(f.images) > 0:
		return " (" + numbers(f.images) + "): " + f.reason
	case f.times == 1 && f.reason != "":
		return ": " + f.reason
	case r.devices > 1:
		return fmt.Sprintf(" (%d devices)", r.devices)
	case r.study == nil && len(r.studies) > 0:
		return fmt.Sprintf(": %s, in %s", times(f.times), analyse.Counted(len(r.studies), "study", "studies"))
	case r.study == nil && f.times > 1:
		return ": " + times(f.times)
	case len(f.images) > 0:
		return " (" + numbers(f.images) + ")"
	case f.times > 1:
		return " (" + times(f.times) + ")"
	}
	return ""
}

// todo tells what to do, each advice once.
func (r *row) todo() string {
	var words []string
	for _, f := range r.faults {
		if s := sentence(f.todo); s != "" && !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return strings.Join(words[:min(len(words), mostTodos)], " ")
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// numbers names images by their number on the device.
func numbers(images []int64) string {
	sorted := slices.Compact(slices.Sorted(slices.Values(images)))
	words := make([]string, 0, mostImages)
	for _, n := range sorted[:min(len(sorted), mostImages)] {
		words = append(words, fmt.Sprint(n))
	}
	list := "images "
	if len(sorted) == 1 {
		list = "image "
	}
	list += strings.Join(words, ", ")
	if more := len(sorted) - mostImages; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}
