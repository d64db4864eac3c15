package ingest

import (
	"context"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"leadline/ingest/dcm"
)

// Options are the settings of Load.
type Options struct {
	// Workers is how many files are read at once; 0 means one per processor.
	Workers int
	// Progress, where set, is called now and then from one goroutine at a time.
	Progress func(Progress)
}

// Progress is how far Load has come. Found grows while Walking.
type Progress struct {
	Done, Found int
	Walking     bool
	Bytes       int64
}

// inFlight bounds the files that are listed and not yet read.
const inFlight = 1024

// Load reads every file below the paths and returns one ledger entry for each,
// and an Instance for each that is a DICOM object of a study. Both are in the
// order of the paths, whatever the number of workers.
//
// A file that cannot be read is a ledger entry with its reason, never an error.
// Errors are: a path that is not there (*MissingPathError), and the context's.
func Load(ctx context.Context, paths []string, opts Options) (*Archive, error) {
	if opts.Workers <= 0 {
		opts.Workers = runtime.GOMAXPROCS(0)
	}
	l := &loader{opts: opts, shared: newInterner()}
	if err := l.readAll(ctx, paths); err != nil {
		return nil, err
	}
	return l.archive(), nil
}

// loader is the state of one Load.
type loader struct {
	opts   Options
	shared *interner
	walked atomic.Bool

	mu    sync.Mutex
	rows  []row
	found int
	bytes int64
}

// row is what became of one file.
type row struct {
	entry Entry
	inst  *Instance
	// again opens the bytes once more where the path alone does not: in a container.
	again opener
}

// readAll walks and reads; what it read is in no order yet.
func (l *loader) readAll(ctx context.Context, paths []string) error {
	group, ctx := errgroup.WithContext(ctx)
	files := make(chan met, inFlight)
	group.Go(func() error {
		defer close(files)
		defer l.walked.Store(true)
		return l.list(ctx, paths, files)
	})
	for range l.opts.Workers {
		group.Go(func() error { return l.work(ctx, files) })
	}
	return group.Wait()
}

func (l *loader) list(ctx context.Context, paths []string, files chan<- met) error {
	w := &walker{ctx: ctx, seen: map[string]bool{}, emit: func(m met) error {
		l.mu.Lock()
		l.found++
		l.mu.Unlock()
		select {
		case files <- m:
			return nil
		case <-ctx.Done():
			return ctx.Err()
		}
	}}
	return w.walk(paths)
}

func (l *loader) work(ctx context.Context, files <-chan met) error {
	var scanner dcm.Scanner
	for m := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		l.done(l.read(&scanner, m))
	}
	return ctx.Err()
}

func (l *loader) done(rows []row) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.rows = append(l.rows, rows...)
	l.found += len(rows) - 1 // a container was found to hold more
	l.bytes += rows[0].entry.Bytes
	if l.opts.Progress != nil {
		l.opts.Progress(Progress{Done: len(l.rows), Found: l.found, Walking: !l.walked.Load(), Bytes: l.bytes})
	}
}

// archive puts what was read in the order of paths and settles copies.
func (l *loader) archive() *Archive {
	sort.SliceStable(l.rows, func(i, j int) bool { return l.rows[i].entry.Path < l.rows[j].entry.Path })
	settleCopies(l.rows)
	a := &Archive{Ledger: make([]Entry, 0, len(l.rows))}
	for _, r := range l.rows {
		a.Ledger = append(a.Ledger, r.entry)
		if r.inst != nil {
			a.Instances = append(a.Instances, r.inst)
		}
	}
	return a
}
