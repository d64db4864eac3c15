package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/term"

	"leadline/ingest"
)

// progress draws one line that says how far a run has come, and clears it at the
// end. The nil progress draws nothing.
type progress struct {
	to    io.Writer
	now   func() time.Time
	start time.Time
	drawn time.Time
	width int
}

// redraw is the shortest time between two drawings: five a second are as many as
// an eye follows and do not slow the reading down.
const redraw = 200 * time.Millisecond

// progressOn is a progress where to is a terminal and quiet was not asked for.
func progressOn(to io.Writer, quiet bool) *progress {
	f, ok := to.(*os.File)
	if quiet || !ok || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return newProgress(to, time.Now)
}

func newProgress(to io.Writer, now func() time.Time) *progress {
	return &progress{to: to, now: now, start: now()}
}

// read draws how far the reading has come: files, rate, and the time left once it
// is known how many files there are.
func (p *progress) read(at ingest.Progress) {
	if p == nil {
		return
	}
	now := p.now()
	if now.Sub(p.drawn) < redraw {
		return
	}
	p.drawn = now
	rate := float64(at.Done) / max(now.Sub(p.start).Seconds(), 1e-3)
	switch {
	case at.Walking:
		p.draw(fmt.Sprintf("read %d of %d files found so far, %.0f a second", at.Done, at.Found, rate))
	default:
		left := time.Duration(float64(at.Found-at.Done) / rate * float64(time.Second))
		p.draw(fmt.Sprintf("read %d of %d files, %.0f a second, %s left", at.Done, at.Found, rate, left.Round(time.Second)))
	}
}

// stage draws what is done after the reading.
func (p *progress) stage(what string) {
	if p != nil {
		p.draw(what)
	}
}

// draw writes over the line that stands there. Blanks do that on every terminal.
func (p *progress) draw(line string) {
	n := utf8.RuneCountInString(line)
	fmt.Fprint(p.to, "\r", line, strings.Repeat(" ", max(0, p.width-n)))
	p.width = n
}

// clear leaves an empty line with the cursor at its beginning.
func (p *progress) clear() {
	if p == nil || p.width == 0 {
		return
	}
	fmt.Fprint(p.to, "\r", strings.Repeat(" ", p.width), "\r")
	p.width = 0
}
