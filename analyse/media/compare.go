// Package media compares media directories (DICOMDIR) with the files that were
// met. The files decide what an archive holds; a directory can only be found to
// contradict them.
//
// It compares paths of the ledger as texts and opens nothing.
package media

import (
	"path"

	"leadline/ingest"
)

// Comparison is one media directory held against the files.
type Comparison struct {
	// Directory is the path of the directory file.
	Directory string
	// Named counts the files that its records name.
	Named int
	// Missing are the files named that were not met.
	Missing []Absent
	// Unlisted are the paths of the DICOM files below the directory's folder that
	// no record names. Files below another directory that lies deeper belong to
	// that one. None where the directory is broken: it may have named them.
	Unlisted []string
	// Contradicting are the paths of the files that are of another SOP class or
	// instance than their record says.
	Contradicting []string
}

// Absent is a file that is named and was not met.
type Absent struct {
	Path string
	// Type is the Directory Record Type.
	Type string
}

// Compare holds every directory against the ledger, in the order of the directories.
func Compare(directories []ingest.Directory, ledger []ingest.Entry) []Comparison {
	if len(directories) == 0 {
		return nil
	}
	met := newFiles(ledger)
	out := make([]Comparison, len(directories))
	below := map[string][]int{} // the directories of a folder
	listed := map[string]bool{} // the files named, and the directories themselves
	for i, d := range directories {
		folder := path.Clean(d.Folder)
		out[i] = records(d, folder, met, listed)
		below[folder] = append(below[folder], i)
		listed[path.Clean(d.Path)] = true
	}
	for i := range ledger {
		file := path.Clean(ledger[i].Path)
		if !isObject(&ledger[i]) || listed[file] {
			continue
		}
		for _, at := range nearest(below, file) {
			if !directories[at].Broken {
				out[at].Unlisted = append(out[at].Unlisted, ledger[i].Path)
			}
		}
	}
	return out
}

// records holds what a directory names against the files met, and marks these.
func records(d ingest.Directory, folder string, met files, listed map[string]bool) Comparison {
	c := Comparison{Directory: d.Path}
	seen := map[string]bool{}
	for _, r := range d.Records {
		// Not path.Join: what is named never leads out of the folder.
		at := under(folder, r.FileID)
		if seen[at] {
			continue
		}
		seen[at] = true
		c.Named++
		e := met.find(at)
		if e == nil {
			c.Missing = append(c.Missing, Absent{Path: at, Type: r.Type})
			continue
		}
		listed[path.Clean(e.Path)] = true
		if contradicts(r.SOPInstanceUID, e.SOPUID) || contradicts(r.SOPClassUID, e.SOPClassUID) {
			c.Contradicting = append(c.Contradicting, e.Path)
		}
	}
	return c
}

// contradicts tells two identifiers apart where both are known.
func contradicts(record, file string) bool { return record != "" && file != "" && record != file }

// isObject tells DICOM objects. What could not be read may be none.
func isObject(e *ingest.Entry) bool {
	return e.Outcome != ingest.OutcomeNotDICOM && e.Outcome != ingest.OutcomeUnreadable
}

// nearest finds the directories that a file belongs to: those of the innermost
// folder above it that has any. Those outside a container know nothing of what
// lies in it.
func nearest(below map[string][]int, file string) []int {
	for folder := path.Dir(file); ; folder = path.Dir(folder) {
		if at := below[folder]; at != nil {
			return at
		}
		if folder == "." || folder == "/" || ingest.IsContainerRoot(folder) || path.Base(folder) == ".." {
			return nil
		}
	}
}

// under is the path of a file below a folder.
func under(folder, file string) string {
	switch folder {
	case ".":
		return file
	case "/":
		return "/" + file
	}
	return folder + "/" + file
}
