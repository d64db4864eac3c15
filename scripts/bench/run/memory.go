package main

import (
	"fmt"
	"io"
	"os"
)

// The trees whose audits show how memory grows, in files.
const fewFiles, manyFiles = 20_000, 200_000

// memoryTargets audits two trees of small invented headers.
func (b *bench) memoryTargets(report io.Writer) ([]target, error) {
	few, err := b.audit(fewFiles)
	if err != nil {
		return nil, err
	}
	many, err := b.audit(manyFiles)
	if err != nil {
		return nil, err
	}
	fmt.Fprintln(report, "Audits of small invented headers, workbook included:")
	fmt.Fprintln(report)
	fmt.Fprintln(report, "| files | files/s | peak memory, MiB |")
	fmt.Fprintln(report, "|---|---|---|")
	fmt.Fprintf(report, "| %d | %.0f | %.0f |\n", fewFiles, fewFiles/few.seconds, few.peakMiB)
	fmt.Fprintf(report, "| %d | %.0f | %.0f |\n", manyFiles, manyFiles/many.seconds, many.peakMiB)
	fmt.Fprintln(report)
	growth := 1024 * (many.peakMiB - few.peakMiB) / (manyFiles - fewFiles)
	return []target{
		{what: "peak memory of 20,000 files", got: few.peakMiB, measured: true, want: 150, most: true, unit: "MiB"},
		{what: "growth per further file", got: growth, measured: true, want: 2, most: true, unit: "KiB"},
	}, nil
}

func (b *bench) audit(files int) (measure, error) {
	tree := b.bin("small")
	fmt.Fprintf(os.Stderr, "memory: %d files\n", files)
	if _, err := output(b.bin("tree"), "-small", "-files", fmt.Sprint(files), "-out", tree); err != nil {
		return measure{}, err
	}
	defer os.RemoveAll(tree)
	return b.measure(b.bin("leadline"), "audit", tree, "-o", b.bin("audit.xlsx"), "--force", "--quiet")
}
