package main

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// nothingError tells that an archive holds nothing to audit. It counts what was
// met by reason and names no file: names of folders may be names of patients.
type nothingError struct {
	files   int
	reasons map[string]int
	// listed tells that media directories were among them.
	listed bool
}

func (e *nothingError) Error() string {
	if e.files == 0 {
		return "nothing to read: no file below the paths"
	}
	list := make([]string, 0, len(e.reasons))
	for reason := range e.reasons {
		list = append(list, reason)
	}
	slices.SortFunc(list, func(a, b string) int {
		if e.reasons[a] != e.reasons[b] {
			return e.reasons[b] - e.reasons[a]
		}
		return strings.Compare(a, b)
	})
	var b strings.Builder
	fmt.Fprintf(&b, "nothing to read: no DICOM object of a study among %s below the paths", analyse.Counted(e.files, "file", "files"))
	for i, reason := range list {
		if i == shownReasons {
			b.WriteString("\n  and " + analyse.Counted(len(list)-i, "more reason", "more reasons"))
			break
		}
		fmt.Fprintf(&b, "\n  %d: %s", e.reasons[reason], reason)
	}
	if e.listed {
		b.WriteString("\nA media directory only names files: give the folder that it lies in.")
	}
	return b.String()
}

// shownReasons is how many reasons the message names.
const shownReasons = 5

// nothingRead is a *nothingError where no file is a DICOM object of a study.
func nothingRead(archive *ingest.Archive) error {
	if len(archive.Instances) > 0 {
		return nil
	}
	e := &nothingError{files: len(archive.Ledger), reasons: map[string]int{}, listed: len(archive.Directories) > 0}
	for _, entry := range archive.Ledger {
		reason := entry.Reason
		if reason == "" {
			reason = string(entry.Outcome)
		}
		e.reasons[reason]++
	}
	return e
}
