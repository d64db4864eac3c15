package audit

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/analyse/media"
	"leadline/ingest"
)

// directoryFindings says where media directories and the files met disagree: one
// finding for a directory and kind of disagreement, however many files it is about.
func directoryFindings(archive *ingest.Archive) []analyse.Finding {
	var findings []analyse.Finding
	for _, c := range media.Compare(archive.Directories, archive.Ledger) {
		raise := func(check *analyse.Check, files []string, message string) {
			if len(files) > 0 {
				findings = append(findings, checks.Stamp(check, analyse.Finding{Path: c.Directory, Message: message, Files: files}))
			}
		}
		absent, kinds := absentFiles(c.Missing)
		raise(&checks.DirectoryFileMissing, absent,
			fmt.Sprintf("the directory names %s; not among the files read: %d (%s)", analyse.Counted(c.Named, "file", "files"), len(absent), kinds))
		raise(&checks.DirectoryFileUnlisted, c.Unlisted,
			fmt.Sprintf("DICOM files below the directory's folder that it does not name: %d", len(c.Unlisted)))
		raise(&checks.DirectoryRecordContradicts, c.Contradicting,
			fmt.Sprintf("the directory names %s; other objects than it says: %d", analyse.Counted(c.Named, "file", "files"), len(c.Contradicting)))
	}
	return findings
}

// recordKinds are the Directory Record Types (PS3.3 F.5) that an audit tells apart;
// a type is text of a file and is not repeated.
var recordKinds = []struct{ recordType, words string }{
	{"IMAGE", "images"}, {"SR DOCUMENT", "reports"}, {"PRESENTATION", "presentation states"}, {"", "of other kinds"},
}

// absentFiles lists the paths of missing files and counts their kinds in words.
func absentFiles(missing []media.Absent) (paths []string, kinds string) {
	counts := make([]int, len(recordKinds))
	for _, m := range missing {
		paths = append(paths, m.Path)
		counts[kindOf(m.Type)]++
	}
	var words []string
	for i, n := range counts {
		if n > 0 {
			words = append(words, fmt.Sprintf("%s: %d", recordKinds[i].words, n))
		}
	}
	return paths, strings.Join(words, ", ")
}

// kindOf is the index of a record type; the last stands for all others.
func kindOf(recordType string) int {
	for i, k := range recordKinds {
		if k.recordType == recordType {
			return i
		}
	}
	return len(recordKinds) - 1
}
