package ingest

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"leadline/ingest/cache"
	"leadline/ingest/dcm"
)

// Options are the settings of Load.
type Options struct {
	// Workers is how many files are read at once; 0 means one per processor.
	Workers int
	// Progress, where set, is called now and then from one goroutine at a time.
	Progress func(Progress)
	// Cache, where set, has what an earlier run read and takes what this one reads:
	// a file that has not changed is not opened. Finishing it is the caller's.
	Cache *cache.Cache
	// Pictures keeps how each image is opened again, so that FirstFrame can read it.
	Pictures bool
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
	l := &loader{run: ctx, opts: opts, pool: newPool()}
	if err := l.walkAndRead(ctx, paths); err != nil {
		return nil, err
	}
	return l.archive(), nil
}

// loader is the state of one Load.
type loader struct {
	run    context.Context
	opts   Options
	pool   *pool
	walked atomic.Bool

	mu    sync.Mutex
	rows  [][]row
	done  int
	found int
	bytes int64

	// nesting is held while a compressed container within another is in memory,
	// which is nested.
	nesting sync.Mutex
	nested  []byte
	// tasks are parts of a container that a worker offers to those without a file;
	// idle is closed when none is left to offer any.
	tasks   chan task
	reading atomic.Int32
	idle    chan struct{}
	// directories are the media directories met, in no order yet.
	directories []Directory
}

// row is what became of one file.
type row struct {
	entry Entry
	inst  *Instance
	// again opens the bytes once more where the path alone does not: in a container.
	again opener
	// direct tells that again reads no more than the file itself.
	direct bool
}

// walkAndRead walks and reads; what it read is in no order yet.
func (l *loader) walkAndRead(ctx context.Context, paths []string) error {
	group, ctx := errgroup.WithContext(ctx)
	files := make(chan []met, inFlight/batch)
	group.Go(func() error {
		defer close(files)
		defer l.walked.Store(true)
		return l.list(ctx, paths, files)
	})
	l.tasks, l.idle = make(chan task), make(chan struct{})
	l.reading.Store(int32(l.opts.Workers))
	for range l.opts.Workers {
		group.Go(func() error { return l.work(ctx, files) })
	}
	return group.Wait()
}

// batch is how many files are handed on at once: one by one, the workers would
// spend their time on waking each other. Fewer are where none wait to be read, so
// that of a few large archives each worker has one.
const batch = 32

func (l *loader) list(ctx context.Context, paths []string, files chan<- []met) error {
	var some []met
	hand := func() error {
		l.mu.Lock()
		l.found += len(some)
		l.mu.Unlock()
		select {
		case files <- some:
			some = nil
			return nil
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	w := &walker{ctx: ctx, emit: func(m met) error {
		if some = append(some, m); len(some) < batch && len(files) > 0 {
			return nil
		}
		return hand()
	}}
	if err := w.walk(paths); err != nil {
		return err
	}
	return hand()
}

// worker reads files one after the other. Its rows are in pieces, so that a large
// archive is not copied as it grows.
type worker struct {
	*loader
	ctx     context.Context
	scanner dcm.Scanner
	builder builder
	kept    *memory
	rows    [][]row
	// made counts the rows.
	made int
}

// piece is how many rows are kept together.
const piece = 1024

func (l *loader) work(ctx context.Context, files <-chan []met) error {
	w := &worker{loader: l, ctx: ctx, builder: builder{pool: l.pool}, kept: newMemory(l.opts.Cache)}
	for open := true; open && ctx.Err() == nil; {
		select {
		case some, more := <-files:
			open = more
			w.readAll(some)
		case t := <-l.tasks:
			w.help(t)
		}
	}
	w.helpTheOthers()
	l.mu.Lock()
	defer l.mu.Unlock()
	l.rows = append(l.rows, w.rows...)
	return ctx.Err()
}

func (w *worker) readAll(files []met) {
	for _, m := range files {
		if w.ctx.Err() != nil {
			return
		}
		before := w.made
		bytes := w.read(m)
		w.account(w.made-before, 1, bytes)
	}
}

// add keeps a row.
func (w *worker) add(r row) {
	last := len(w.rows) - 1
	if last < 0 || len(w.rows[last]) == piece {
		w.rows, last = append(w.rows, make([]row, 0, piece)), last+1
	}
	w.rows[last] = append(w.rows[last], r)
	w.made++
}

// account counts the rows that were made of files and members, of which so many
// were found before, with the bytes of the files, and tells how far the run has
// come.
func (w *worker) account(rows, known int, bytes int64) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.done += rows
	w.found += rows - known // a container was found to hold more
	w.bytes += bytes
	if w.opts.Progress != nil {
		w.opts.Progress(Progress{Done: w.done, Found: w.found, Walking: !w.walked.Load(), Bytes: w.bytes})
	}
}

// archive puts what was read in the order of paths and settles copies. From here on
// paths are only shown.
func (l *loader) archive() *Archive {
	rows := make([]*row, 0, l.done)
	for _, some := range l.rows {
		for i := range some {
			rows = append(rows, &some[i])
		}
	}
	slices.SortStableFunc(rows, inOrderOfPaths)
	settleCopies(rows)
	var pictures map[*Instance]opener
	if l.opts.Pictures {
		pictures = picturesOf(rows)
	}
	a := &Archive{Ledger: make([]Entry, 0, len(rows)), Instances: make([]*Instance, 0, len(rows)), Directories: inOrder(l.directories), pictures: pictures}
	for _, r := range rows {
		r.entry.Path = shownPath(r.entry.Path)
		if r.inst != nil {
			r.inst.Path = r.entry.Path
		}
		a.Ledger = append(a.Ledger, r.entry)
		if r.inst != nil {
			a.Instances = append(a.Instances, r.inst)
		}
	}
	return a
}

// inOrderOfPaths compares two rows. A folder may be named like an archive with a mark
// behind it, so that two files have one path; their order shall not depend on which
// was read first.
func inOrderOfPaths(a, b *row) int {
	if c := strings.Compare(a.entry.Path, b.entry.Path); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(a.entry.Bytes, b.entry.Bytes), strings.Compare(a.entry.SOPUID, b.entry.SOPUID), strings.Compare(a.entry.Reason, b.entry.Reason))
}
