package main

import (
	"fmt"
	"io"
	"strings"
)

// target is one figure that Leadline is held to.
type target struct {
	what string
	// got is the figure; measured tells that there is one.
	got      float64
	measured bool
	want     float64
	// most tells that want is an upper limit, not a lower one.
	most bool
	unit string
	// note is a second way to see the figure.
	note string
}

func (t target) reached() bool {
	if t.most {
		return t.got <= t.want
	}
	return t.got >= t.want
}

// ratio is how often quick runs in the time of slow.
func ratio(all []*contestant, what, quick, slow string, want float64, most bool) target {
	t := target{what: what, want: want, most: most}
	q, s := find(all, quick), find(all, slow)
	if !q.ran || !s.ran {
		return t
	}
	t.got, t.measured = s.best.seconds/q.best.seconds, true
	if q.best.processor > 0 {
		t.note = fmt.Sprintf("%.2f by processor time", s.best.processor/q.best.processor)
	}
	return t
}

func find(all []*contestant, name string) *contestant {
	for _, c := range all {
		if c.name == name {
			return c
		}
	}
	return &contestant{}
}

func speedTargets(all []*contestant, scan measure) []target {
	twice := ratio(all, "ingest, two workers to one", ingestTwo, ingestOne, 1.6, false)
	twice.note = "" // the processor time is the same
	return []target{
		ratio(all, "audit to pydicom's two processes", auditRun, pydicomRun, 5, false),
		ratio(all, "ingest with two workers to gdcmscanner, which has one", ingestTwo, gdcmRun, 2.5, false),
		ratio(all, "plain open and read of the same bytes to ingest", readSame, ingestTwo, 3, true),
		twice,
		{
			what: "most bytes read of an image whose header is no longer than that",
			got:  scan.said["largest"] / 1024, measured: scan.said["ordinary"] > 0, want: 32, most: true, unit: "KiB",
			note: fmt.Sprintf("%.0f of %.0f files; mean of all files %.1f KiB", scan.said["ordinary"], scan.said["files"], scan.said["mean"]/1024),
		},
	}
}

// printTargets writes every target and returns how many were missed.
func printTargets(w io.Writer, targets []target) (missed int) {
	fmt.Fprintln(w, "| held to | figure | wanted | |")
	fmt.Fprintln(w, "|---|---|---|---|")
	for _, t := range targets {
		sign, verdict := "at least", "reached"
		if t.most {
			sign = "at most"
		}
		figure := strings.TrimSpace(fmt.Sprintf("%.2f %s", t.got, t.unit))
		switch {
		case !t.measured:
			figure, verdict = "", "not measured"
		case !t.reached():
			verdict = "**missed**"
			missed++
		}
		if t.note != "" {
			figure += " (" + t.note + ")"
		}
		fmt.Fprintf(w, "| %s | %s | %s %g %s | %s |\n", t.what, figure, sign, t.want, t.unit, verdict)
	}
	fmt.Fprintln(w)
	return missed
}
