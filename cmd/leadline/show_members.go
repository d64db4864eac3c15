package main

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// mostShown is how many files of an archive are printed without being named: what a
// person reads through. More would bury a terminal.
const mostShown = 20

// asked are the files that a show was asked for. Of an archive a single member can be
// named by the path that the ledger gives it; the others are read with it, as a report
// needs its images, and not printed.
type asked struct {
	// read are the files to read, members by the name of their archives.
	read []string
	// members are the paths of those named, by archive.
	members map[string][]string
	// whole are the files that were named themselves.
	whole []string
}

func askedFor(files []string) asked {
	a := asked{members: map[string][]string{}}
	for _, file := range files {
		archive := ingest.ArchiveOf(file)
		if archive == "" {
			a.read, a.whole = append(a.read, file), append(a.whole, file)
			continue
		}
		met := a.named(archive)
		a.members[met] = append(a.members[met], met+strings.TrimPrefix(file, archive))
	}
	return a
}

// named is the name under which an archive is read: the first of several for one file.
func (a *asked) named(archive string) string {
	for _, name := range a.read {
		if sameFile(name, archive) {
			return name
		}
	}
	a.read = append(a.read, archive)
	return archive
}

// entries are the places in the ledger of what is to be printed, in its order.
func (a *asked) entries(ledger []ingest.Entry) ([]int, error) {
	var at []int
	met, within := map[string]bool{}, map[string]int{}
	for i := range ledger {
		path := ledger[i].Path
		met[path] = true
		archive := ingest.ArchiveOf(path)
		if archive != "" {
			within[archive]++
		}
		if a.wanted(path, archive) {
			at = append(at, i)
		}
	}
	for _, archive := range a.read {
		for _, path := range a.members[archive] {
			if !met[path] {
				return nil, fmt.Errorf("%s: no such file in %s", path, archive)
			}
		}
	}
	for _, file := range a.whole {
		if n := within[file]; n > mostShown {
			return nil, &usageError{fmt.Sprintf("%s holds %s, too many to print: name one as %s!/FOLDER/FILE, as the table files.csv of an audit does", file, analyse.Counted(n, "file", "files"), file)}
		}
	}
	return at, nil
}

// wanted tells whether a file is printed: all but the archives, and the members of
// them, of which only some are.
func (a *asked) wanted(path, archive string) bool {
	if archive == "" {
		return len(a.members[path]) == 0 || slices.Contains(a.whole, path)
	}
	return slices.Contains(a.whole, archive) || slices.Contains(a.members[archive], path)
}
