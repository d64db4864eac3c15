package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"leadline/export/deid"
)

// cancelAt is a terminal that interrupts the run when a line is drawn that holds a
// text.
type cancelAt struct {
	text   string
	cancel func()
	seen   bool
}

func (c *cancelAt) Write(line []byte) (int, error) {
	if bytes.Contains(line, []byte(c.text)) {
		c.seen = true
		c.cancel()
	}
	return len(line), nil
}

// TestInterrupted interrupts an audit at each of its stages, and wants the status
// of an interruption, and every output as it was before: no half file, no
// temporary one.
func TestInterrupted(t *testing.T) {
	for _, stage := range []string{"read 1 of", "judging", "writing"} {
		for _, existing := range []bool{false, true} {
			t.Run(strings.Fields(stage)[0]+map[bool]string{true: ", over existing output"}[existing], func(t *testing.T) {
				dir := t.TempDir()
				opts := auditOptions{runOptions: runOptions{
					out: filepath.Join(dir, "audit.xlsx"), tables: filepath.Join(dir, "tables"),
					identity: deid.Study, failOn: failNever, force: existing,
				}}
				if existing {
					write(t, opts.out, "old")
					write(t, filepath.Join(opts.tables, "files.csv"), "old")
				}
				before := contents(t, dir)
				ctx, cancel := context.WithCancel(context.Background())
				defer cancel()
				screen := &cancelAt{text: stage, cancel: cancel}
				var out bytes.Buffer
				err := runAudit(ctx, []string{demoDir}, opts, streams{out: &out, err: io.Discard}, newProgress(screen, time.Now))
				if !screen.seen {
					t.Fatalf("no line with %q was drawn", stage)
				}
				if !errors.Is(err, context.Canceled) {
					t.Fatalf("the run ended with %v", err)
				}
				if got := statusOf(&runError{err}); got != exitInterrupted {
					t.Errorf("status %d, expected %d", got, exitInterrupted)
				}
				if out.Len() > 0 {
					t.Errorf("a summary was printed: %s", out.String())
				}
				if after := contents(t, dir); !slices.Equal(before, after) {
					t.Errorf("before the run:\n%q\nafter it:\n%q", before, after)
				}
			})
		}
	}
}

// TestInterruptedCache interrupts an audit that has a cache while it reads and after
// that, and wants what was read to be in the cache, nothing else to be left, and the
// next run to write what one without a cache writes.
func TestInterruptedCache(t *testing.T) {
	few := settledCopy(t, filepath.Join(demoDir, "exports", "delivery room"))
	run := func(ctx context.Context, dir, cache string, show *progress) error {
		opts := auditOptions{runOptions: runOptions{out: filepath.Join(dir, "audit.xlsx"), cache: cache, identity: deid.Study, failOn: failNever, workers: 1}}
		return runAudit(ctx, []string{few}, opts, streams{out: io.Discard, err: io.Discard}, show)
	}
	without := t.TempDir()
	if err := run(t.Context(), without, "", nil); err != nil {
		t.Fatal(err)
	}
	for _, stage := range []string{"read 1 of", "judging"} {
		t.Run(strings.Fields(stage)[0], func(t *testing.T) {
			dir := t.TempDir()
			cache := filepath.Join(dir, "kept")
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			err := run(ctx, dir, cache, newProgress(&cancelAt{text: stage, cancel: cancel}, time.Now))
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("the run ended with %v", err)
			}
			if left := contents(t, dir); len(left) != 1 || !strings.Contains(left[0], "SR00005.dcm") {
				t.Errorf("%d files left, expected the cache with what was read", len(left))
			}
			if err := run(t.Context(), dir, cache, nil); err != nil {
				t.Fatal(err)
			}
			if err := os.Remove(cache); err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(contents(t, dir), contents(t, without)) {
				t.Error("the next run wrote another workbook than one without a cache")
			}
		})
	}
}

// TestInterruptedDemo wants nothing left of a demo archive that was interrupted.
func TestInterruptedDemo(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := runDemo(ctx, filepath.Join(dir, "month"), demoOptions{studies: 2}, &bytes.Buffer{})
	if got := statusOf(&runError{err}); got != exitInterrupted {
		t.Errorf("status %d (%v), expected %d", got, err, exitInterrupted)
	}
	if left := contents(t, dir); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// TestSignals wants the context of the program to end with the signals of Ctrl-C
// and of a machine that shuts down.
func TestSignals(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM} {
		ctx, stop := interruptible()
		if err := syscall.Kill(os.Getpid(), s); err != nil {
			t.Fatal(err)
		}
		<-ctx.Done()
		stop()
	}
}

// settledCopy copies a folder, whose files were changed last long ago: of the
// repository's own, that depends on when and by which clock they were checked out, and
// what was changed just before it is read does not go into a cache.
func settledCopy(t *testing.T, from string) string {
	t.Helper()
	to := t.TempDir()
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	longAgo := time.Date(2026, 10, 1, 12, 0, 0, 0, time.UTC)
	err := filepath.WalkDir(to, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		return os.Chtimes(path, longAgo, longAgo)
	})
	if err != nil {
		t.Fatal(err)
	}
	return to
}

func write(t *testing.T, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
}

// contents lists the files below dir, hidden ones too, with what they hold.
func contents(t *testing.T, dir string) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		content := []byte("a folder")
		if !d.IsDir() {
			content, err = os.ReadFile(path)
		}
		list = append(list, strings.TrimPrefix(path, dir)+": "+string(content))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}
