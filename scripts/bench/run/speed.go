package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// contestant is one program that reads the tree.
type contestant struct {
	name string
	args []string
	// probe is a command that fails where the program is not installed.
	probe []string
	// peer tells that it extracts what ingest does: what it counts must be equal.
	peer bool
	// absent tells that it is not installed, best what its quickest run took.
	absent, ran bool
	best        measure
}

// The names under which results are compared.
const (
	auditRun   = "leadline audit, all of it, workbook included"
	ingestTwo  = "its ingest alone, 2 workers"
	ingestOne  = "its ingest alone, 1 worker"
	pydicomRun = "pydicom, 2 processes, regions and reports"
	dcmdumpRun = "dcmdump, 2 processes, all elements"
	gdcmRun    = "gdcmscanner, five top-level tags"
	readSame   = "open and read the bytes that ingest reads, 2 workers"
	readFixed  = "open and read 16 KiB, 2 workers"
)

func (b *bench) contestants(tree string) []*contestant {
	stage := b.bin("stage")
	return []*contestant{
		{name: auditRun, args: []string{b.bin("leadline"), "audit", tree, "-o", b.bin("audit.xlsx"), "--force", "--quiet"}},
		{name: ingestTwo, args: []string{stage, "load", "-workers", "2", tree}, peer: true},
		{name: ingestOne, args: []string{stage, "load", "-workers", "1", tree}, peer: true},
		{name: pydicomRun, args: []string{"/usr/bin/python3", "scripts/bench/peer.py", tree}, probe: []string{"/usr/bin/python3", "-c", "import pydicom"}, peer: true},
		{
			// dcmdump says a word on standard error about many real files.
			name: dcmdumpRun, probe: []string{"dcmdump", "--version"},
			args: []string{"sh", "-c", `find "$0" -type f -print0 | xargs -0 -P 2 -n 100 dcmdump >/dev/null 2>&1`, tree},
		},
		{
			name: gdcmRun, probe: []string{"gdcmscanner", "--version"},
			args: []string{"gdcmscanner", "-r", "-d", tree, "-t", "8,16", "-t", "8,18", "-t", "20,d", "-t", "8,60", "-t", "8,70"},
		},
		{name: readSame, args: []string{stage, "read", "-workers", "2", tree}},
		{name: readFixed, args: []string{stage, "read", "-workers", "2", "-bytes", "16384", tree}},
	}
}

// speed runs all on one tree, in turn and several times, and keeps the quickest run
// of each. The round before the first warms the cache and counts for nobody.
func (b *bench) speed(report io.Writer) ([]target, error) {
	tree := b.tree
	if tree == "" {
		tree = b.bin("files")
		if _, err := output(b.bin("tree"), "-files", fmt.Sprint(b.files), "-out", tree); err != nil {
			return nil, err
		}
	}
	all := b.contestants(tree)
	for _, c := range all {
		c.absent = len(c.probe) > 0 && exec.Command(c.probe[0], c.probe[1:]...).Run() != nil
	}
	for round := range b.repeat + 1 {
		for _, c := range all {
			if err := b.turn(c, round); err != nil {
				return nil, err
			}
		}
	}
	scan, err := b.measure(b.bin("stage"), "bytes", tree)
	if err != nil {
		return nil, err
	}
	files := int(scan.said["files"])
	if err := sameCounts(all, files); err != nil {
		return nil, err
	}
	printSpeed(report, all, files, b.repeat)
	return speedTargets(all, scan), nil
}

// turn runs one contestant once. Before the first round only the quick ones run: to
// warm the cache once is enough.
func (b *bench) turn(c *contestant, round int) error {
	if c.absent || round == 0 && c.name == pydicomRun {
		return nil
	}
	fmt.Fprintf(os.Stderr, "round %d of %d: %s\n", round, b.repeat, c.name)
	m, err := b.measure(c.args...)
	if err != nil {
		return err
	}
	if round > 0 && (!c.ran || m.seconds < c.best.seconds) {
		peak := max(c.best.peakMiB, m.peakMiB)
		c.best, c.ran = m, true
		c.best.peakMiB = peak
	}
	return nil
}

// sameCounts wants everybody who counts to have found the same files, regions and
// reports: a reader that is quick because it reads less would not be compared.
func sameCounts(all []*contestant, files int) error {
	var first *contestant
	for _, c := range all {
		if !c.ran || !c.peer {
			continue
		}
		if first == nil {
			first = c
		}
		for _, what := range []string{"files", "regions", "reports"} {
			if c.best.said[what] != first.best.said[what] {
				return fmt.Errorf("%s found %.0f %s, %s %.0f", c.name, c.best.said[what], what, first.name, first.best.said[what])
			}
		}
		if int(c.best.said["files"]) != files {
			return fmt.Errorf("%s read %.0f files of %d", c.name, c.best.said["files"], files)
		}
	}
	return nil
}

func printSpeed(w io.Writer, all []*contestant, files, repeat int) {
	fmt.Fprintf(w, "%d files with real headers, pixel data of 0.3 to 30 MB, warm cache; quickest of %d runs in turn, highest memory.\n\n", files, repeat)
	fmt.Fprintln(w, "| program | files/s | processor ms per file | bytes read per file | peak memory, MiB |")
	fmt.Fprintln(w, "|---|---|---|---|---|")
	for _, c := range all {
		if !c.ran {
			fmt.Fprintf(w, "| %s | not installed | | | |\n", c.name)
			continue
		}
		m := c.best
		read := fmt.Sprint(m.readBytes / int64(files))
		if filepath.Base(c.args[1]) == "read" {
			read = "" // it first asks ingest how many to read
		}
		fmt.Fprintf(w, "| %s | %.0f | %.3f | %s | %.0f |\n",
			c.name, float64(files)/m.seconds, 1000*m.processor/float64(files), read, m.peakMiB)
	}
	fmt.Fprintln(w)
}
