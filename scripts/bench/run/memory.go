package main

import (
	"fmt"
	"io"
	"os"
)

// The trees whose audits show how memory grows, in files.
const fewFiles, manyFiles = 20_000, 200_000

// reportLengths is how many measurements the report of a study holds in the trees
// that have reports.
const reportLengths = 12

// memoryTargets audits trees of small invented headers of both sizes. The limits
// are for pictures alone; what a report a study adds is shown beside.
func (b *bench) memoryTargets(report io.Writer) ([]target, error) {
	fmt.Fprint(report, "Audits of small invented headers, 25 files a study, workbook included:\n\n")
	fmt.Fprint(report, "| files | files/s | peak memory, MiB | growth per further file, KiB |\n|---|---|---|---|\n")
	var targets []target
	for _, lengths := range []int{0, reportLengths} {
		few, err := b.audit(fewFiles, lengths)
		if err != nil {
			return nil, err
		}
		many, err := b.audit(manyFiles, lengths)
		if err != nil {
			return nil, err
		}
		growth := 1024 * (many.peakMiB - few.peakMiB) / (manyFiles - fewFiles)
		what := "pictures"
		if lengths > 0 {
			what = fmt.Sprintf("with a report of %d measurements a study", lengths)
		} else {
			targets = memoryLimits(few.peakMiB, growth)
		}
		fmt.Fprintf(report, "| %d, %s | %.0f | %.0f | |\n", fewFiles, what, fewFiles/few.seconds, few.peakMiB)
		fmt.Fprintf(report, "| %d, %s | %.0f | %.0f | %.2f |\n", manyFiles, what, manyFiles/many.seconds, many.peakMiB, growth)
	}
	fmt.Fprintln(report)
	return targets, nil
}

// memoryLimits holds the peak in MiB of few files, and the growth in KiB.
func memoryLimits(peak, growth float64) []target {
	return []target{
		{what: "peak memory of 20,000 files", got: peak, measured: true, want: 150, most: true, unit: "MiB"},
		{what: "growth of memory per further file", got: growth, measured: true, want: 2, most: true, unit: "KiB"},
	}
}

// audit measures one audit of a tree made for it.
func (b *bench) audit(files, lengths int) (measure, error) {
	tree := b.bin("small")
	fmt.Fprintf(os.Stderr, "memory: %d files, %d measurements a study\n", files, lengths)
	if _, err := output(b.bin("tree"), "-small", "-measurements", fmt.Sprint(lengths), "-files", fmt.Sprint(files), "-out", tree); err != nil {
		return measure{}, err
	}
	defer os.RemoveAll(tree)
	m, err := b.measure(b.bin("leadline"), "audit", tree, "-o", b.bin("audit.xlsx"), "--force", "--quiet")
	fmt.Fprintf(os.Stderr, "memory: %.0f MiB\n", m.peakMiB)
	return m, err
}
