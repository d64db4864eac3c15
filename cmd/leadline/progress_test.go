package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"leadline/ingest"
)

// TestProgress draws what a terminal would see over a run whose clock is ours.
func TestProgress(t *testing.T) {
	var screen bytes.Buffer
	now := time.Date(2026, 9, 1, 8, 0, 0, 0, time.UTC)
	p := newProgress(&screen, func() time.Time { return now })
	after := func(d time.Duration, at ingest.Progress) string {
		screen.Reset()
		now = now.Add(d)
		p.read(at)
		return screen.String()
	}
	// 100 files in 1 s.
	if got, want := after(time.Second, ingest.Progress{Done: 100, Found: 400, Walking: true}), "\rread 100 of 400 files found so far, 100 a second"; got != want {
		t.Errorf("drew %q, expected %q", got, want)
	}
	// No more often than five times a second.
	if got := after(199*time.Millisecond, ingest.Progress{Done: 150, Found: 400, Walking: true}); got != "" {
		t.Errorf("drew %q after 0.199 s", got)
	}
	// 200 files in 2 s, so 300 more take 3 s; blanks cover the longer line before.
	got := after(801*time.Millisecond, ingest.Progress{Done: 200, Found: 500})
	want := "\rread 200 of 500 files, 100 a second, 3s left"
	if strings.TrimRight(got, " ") != want || len(got) < len("\rread 100 of 400 files found so far, 100 a second") {
		t.Errorf("drew %q, expected %q and blanks", got, want)
	}
	screen.Reset()
	p.clear()
	if got := screen.String(); !strings.HasPrefix(got, "\r  ") || !strings.HasSuffix(got, "\r") || strings.TrimSpace(got) != "" {
		t.Errorf("cleared with %q", got)
	}
	screen.Reset()
	p.clear()
	if screen.Len() > 0 {
		t.Error("cleared twice")
	}
}

// TestNoProgress wants nothing drawn where the error stream is no terminal.
func TestNoProgress(t *testing.T) {
	var errs bytes.Buffer
	p := progressOn(&errs, false)
	p.read(ingest.Progress{Done: 1, Found: 1})
	p.stage("writing")
	p.clear()
	if p != nil || errs.Len() > 0 {
		t.Errorf("drew %q", errs.String())
	}
}
