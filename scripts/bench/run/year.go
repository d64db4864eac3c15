package main

import (
	"fmt"
	"io"
	"os"
)

// A year of a unit: so many files, of 13 a study, over 365 days.
const (
	yearFiles = 400_000
	yearStudy = 13
	yearDays  = 365
)

// What a year of pictures is held to, from a warm cache.
const (
	yearSeconds = 60
	yearMiB     = 1024
)

// yearTargets audits a quarter, a half and the whole of a year, each first without a
// cache that holds and then with it. The limits are for pictures alone.
func (b *bench) yearTargets(report io.Writer) ([]target, error) {
	fmt.Fprintf(report, "A year of newborn heart studies, %d files a study, each picture with its view; workbook, all charts and all tables included:\n\n", yearStudy)
	fmt.Fprint(report, "| files | cache | seconds | processor seconds | peak memory, MiB | growth per further file, KiB |\n|---|---|---|---|---|---|\n")
	var targets []target
	for _, lengths := range []int{0, reportLengths} {
		var last measure
		for _, files := range []int{yearFiles / 4, yearFiles / 2, yearFiles} {
			cold, warm, err := b.twice(files, lengths)
			if err != nil {
				return nil, err
			}
			what, growth := "pictures", ""
			if lengths > 0 {
				what = fmt.Sprintf("a report of %d measurements a study", lengths)
			}
			if files > yearFiles/4 {
				growth = fmt.Sprintf("%.2f", 1024*(warm.peakMiB-last.peakMiB)/float64(files/2))
			}
			fmt.Fprintf(report, "| %d, %s | cold | %.1f | %.1f | %.0f | |\n", files, what, cold.seconds, cold.processor, cold.peakMiB)
			fmt.Fprintf(report, "| %d, %s | warm | %.1f | %.1f | %.0f | %s |\n", files, what, warm.seconds, warm.processor, warm.peakMiB, growth)
			last = warm
		}
		if lengths == 0 {
			targets = yearLimits(last)
		}
	}
	fmt.Fprintln(report)
	return targets, nil
}

// yearLimits holds the audit of the whole year.
func yearLimits(m measure) []target {
	return []target{
		{what: "audit of a year of pictures, warm cache", got: m.seconds, measured: true, want: yearSeconds, most: true, unit: "s"},
		{what: "its peak memory", got: m.peakMiB, measured: true, want: yearMiB, most: true, unit: "MiB"},
	}
}

// twice measures two audits of a tree made for them, which share a new cache.
func (b *bench) twice(files, lengths int) (cold, warm measure, err error) {
	tree, cache := b.bin("year"), b.bin("cache")
	fmt.Fprintf(os.Stderr, "year: %d files, %d measurements a study\n", files, lengths)
	if _, err = output(b.bin("tree"), "-small", "-views", "-measurements", fmt.Sprint(lengths), "-files", fmt.Sprint(files),
		"-study", fmt.Sprint(yearStudy), "-days", fmt.Sprint(yearDays), "-out", tree); err != nil {
		return cold, warm, err
	}
	defer os.RemoveAll(tree)
	defer os.Remove(cache)
	audit := []string{b.bin("leadline"), "audit", tree, "--cache", cache, "-o", b.bin("audit.xlsx"), "--tables", b.bin("tables"), "--force", "--quiet"}
	if cold, err = b.measure(audit...); err != nil {
		return cold, warm, err
	}
	warm, err = b.measure(audit...)
	fmt.Fprintf(os.Stderr, "year: warm %.1f s, %.0f MiB\n", warm.seconds, warm.peakMiB)
	return cold, warm, err
}
