// Command tree writes an archive to measure on: new files with the headers of real
// ultrasound pictures, clips and reports, new UIDs and invented people, and pixel
// data of real sizes that are holes in the file and take no space on the disk.
//
//	go run ./scripts/bench/tree -files 6000 -seed 1 -out DIR
//
// With -small it writes invented ultrasound headers of a few kilobytes instead,
// which need no real files and are quickly written by the hundred thousand; with
// -views too they are the pictures of newborn heart studies, each with its view. A
// year of 30,000 studies with 400,000 files:
//
//	go run ./scripts/bench/tree -small -views -files 400000 -study 13 -days 365 -out DIR
package main

import (
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
)

func main() {
	p := plan{}
	flag.IntVar(&p.files, "files", 6000, "how many files")
	flag.Uint64Var(&p.seed, "seed", 1, "the same seed gives the same files")
	flag.StringVar(&p.out, "out", "", "the folder to make")
	flag.StringVar(&p.data, "data", "../shared/data/real", "where the real files are")
	flag.BoolVar(&p.small, "small", false, "invented headers of a few kilobytes")
	flag.IntVar(&p.measurements, "measurements", 0, "with -small: a report of so many in each study")
	flag.BoolVar(&p.views, "views", false, "with -small: studies of the newborn heart, most of a protocol met")
	flag.IntVar(&p.study, "study", smallStudy, "with -small: files of a study")
	flag.IntVar(&p.days, "days", 30, "over how many days, from 1 September 2026, the studies spread")
	flag.Parse()
	if p.out == "" || p.files < 1 || p.study < 1 || p.days < 1 || flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := p.write(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "tree:", err)
		os.Exit(1)
	}
}

// plan is the tree to write.
type plan struct {
	files     int
	seed      uint64
	out, data string
	small     bool
	// views tells that small studies show the views of a heart; heart are their
	// pictures.
	views bool
	heart [][]source
	// measurements is how many lengths the report of a small study holds; 0 means
	// that it has no report.
	measurements int
	// study is how many files a small study has, days over how many days all spread.
	study, days int
}

// The files of a study, with one report among them.
const (
	studyMin, studyMax = 20, 30
	smallStudy         = 25
)

// write makes the folder, which must not be there yet, and says what is in it.
func (p plan) write(log io.Writer) error {
	p.heart = heartSources()
	sources, err := p.sources()
	if err != nil {
		return err
	}
	if err := os.Mkdir(p.out, 0o755); err != nil {
		return fmt.Errorf("making the tree: %w", err)
	}
	r := rand.New(rand.NewPCG(p.seed, 0))
	sizes := p.studySizes(r)
	counts := map[kind]int{}
	for ordinal, files := range sizes {
		s := newStudy(p, ordinal, len(sizes), r)
		chosen := p.choose(s, sources, files, r)
		if err := p.writeStudy(s, chosen, r); err != nil {
			return err
		}
		for _, src := range chosen {
			counts[src.kind]++
		}
	}
	fmt.Fprintf(log, "%d files in %d studies:", p.files, len(sizes))
	for _, k := range kinds {
		fmt.Fprintf(log, " %d %ss", counts[k], k)
	}
	fmt.Fprintln(log)
	return nil
}

// writeStudy writes one folder of files.
func (p plan) writeStudy(s study, chosen []source, r *rand.Rand) error {
	folder := filepath.Join(p.out, fmt.Sprintf("study%05d", s.ordinal))
	if err := os.Mkdir(folder, 0o755); err != nil {
		return fmt.Errorf("making the tree: %w", err)
	}
	for i, src := range chosen {
		h := src.header.clone()
		s.stamp(h, seriesOf[src.kind], i)
		if err := write(filepath.Join(folder, fmt.Sprintf("IM%04d", i+1)), src, h, r); err != nil {
			return err
		}
	}
	return nil
}

// choose chooses the headers of the files of a study, the report last.
func (p plan) choose(s study, sources map[kind][]source, files int, r *rand.Rand) []source {
	var chosen []source
	if p.small && p.views {
		chosen = heartStudy(p.heart, files, r)
		if p.measurements > 0 && files > 1 {
			chosen[files-1] = smallReport(s, chosen[:files-1], heartLengths, p.measurements)
		}
		return chosen
	}
	for i := range files {
		last := i == files-1
		if last && p.small && p.measurements > 0 && i > 0 {
			return append(chosen, smallReport(s, chosen, lengths, p.measurements))
		}
		chosen = append(chosen, pick(sources, last, r))
	}
	return chosen
}

func (p plan) sources() (map[kind][]source, error) {
	if p.small {
		return smallSources(), nil
	}
	return readSources(p.data)
}

// studySizes shares the files out; the last study may be smaller.
func (p plan) studySizes(r *rand.Rand) []int {
	var sizes []int
	for left := p.files; left > 0; {
		n := studyMin + r.IntN(studyMax-studyMin+1)
		if p.small {
			n = p.study
		}
		n = min(n, left)
		sizes = append(sizes, n)
		left -= n
	}
	return sizes
}

// seriesOf is the number of the series that files of a kind are in.
var seriesOf = map[kind]int{still: 1, strip: 1, clip: 2, report: 3}

// pick chooses the header of a file: a report as the last one of a study, else of
// ten pictures three clips, one strip and six stills.
func pick(sources map[kind][]source, last bool, r *rand.Rand) source {
	k := still
	switch n := r.IntN(10); {
	case last:
		k = report
	case n < 3:
		k = clip
	case n < 4:
		k = strip
	}
	if len(sources[k]) == 0 {
		k = still
	}
	return sources[k][r.IntN(len(sources[k]))]
}
