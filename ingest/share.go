package ingest

import (
	"context"
	"sync"
)

// task is a part of a container that any worker can do.
type task func(*worker)

// handful is how many members of a container are given away at once.
const handful = 16

// share does n things, in any order: by itself, and by workers that wait for work.
// It returns when all are done, or fewer where the context has ended.
func (w *worker) share(ctx context.Context, n int, do func(w *worker, i int)) {
	var away sync.WaitGroup
	for from := 0; from < n && ctx.Err() == nil; from += handful {
		some := func(w *worker) {
			for i := from; i < min(from+handful, n) && ctx.Err() == nil; i++ {
				do(w, i)
			}
		}
		away.Add(1)
		select {
		case w.tasks <- func(other *worker) { defer away.Done(); some(other) }:
		default: // nobody waits
			some(w)
			away.Done()
		}
	}
	away.Wait()
}

// alone does n things by itself, in their order.
func (w *worker) alone(ctx context.Context, n int, do func(w *worker, i int)) {
	for i := 0; i < n && ctx.Err() == nil; i++ {
		do(w, i)
	}
}

// help does another worker's task.
func (w *worker) help(t task) {
	before := w.made
	t(w)
	w.account(w.made-before, 0, 0)
}

// helpTheOthers takes tasks until no worker is left that could offer one.
func (w *worker) helpTheOthers() {
	if w.reading.Add(-1) == 0 {
		close(w.idle)
	}
	for {
		select {
		case t := <-w.tasks:
			w.help(t)
		case <-w.idle:
			return
		}
	}
}
