package ingest

import (
	"io"
	"io/fs"
	"time"

	"leadline/ingest/cache"
	"leadline/ingest/dcm"
)

// memory is one worker's way to the cache. What is kept of a file is what its scan
// returned, error included, so that the row and the instance come of the same code
// whether the file was opened or not. The nil memory keeps and knows nothing.
//
// Containers are not kept: reading one again is reading all of it.
type memory struct {
	cache  *cache.Cache
	reader dcm.RecordReader
	// buffer holds a record that was found, record one that is to be kept.
	buffer, record []byte
	// now is when the file at hand was opened, or shortly before.
	now     time.Time
	watched watched
	keeping bool
}

// mostHeld is how large a buffer stays from file to file, so that one long report
// does not hold its memory for the whole run.
const mostHeld = 1 << 20

// emptied is b without its content, and without its memory where that is more than
// is held.
func emptied(b []byte) []byte {
	if cap(b) > mostHeld {
		return nil
	}
	return b[:0]
}

func newMemory(c *cache.Cache) *memory {
	if c == nil {
		return nil
	}
	return &memory{cache: c}
}

// recall adds the row of a file from what is kept of it, and returns its size.
func (w *worker) recall(own Entry) (size int64, ok bool) {
	m := w.kept
	if m == nil {
		return 0, false
	}
	m.buffer = emptied(m.buffer)
	record, size, ok := m.cache.Find(own.Path, &m.buffer)
	if !ok {
		return 0, false
	}
	header, outcome, err := m.reader.Read(record)
	if err != nil {
		m.cache.Reject(own.Path)
		return 0, false
	}
	own.Bytes = size
	own, inst := w.judge(own, header, outcome)
	w.add(row{entry: own, inst: inst})
	return size, true
}

// begin is called before a file is opened.
func (m *memory) begin() {
	if m == nil {
		return
	}
	m.now = time.Now()
	m.record = emptied(m.record)
}

// watch stands between the scan and a file of size bytes: what the disk failed to
// give is no property of the file, and nothing is kept of such a reading.
func (m *memory) watch(r io.ReaderAt, size int64) io.ReaderAt {
	if m == nil {
		return r
	}
	m.watched = watched{r: r, size: size}
	return &m.watched
}

// take makes the record of a scan, before anything else looks at the header.
func (m *memory) take(header *dcm.File, outcome error) {
	if m == nil {
		return
	}
	m.record, m.keeping = dcm.AppendRecord(m.record[:0], header, outcome)
	m.keeping = m.keeping && !m.watched.failed
}

// keep keeps the record taken of the file at path, which was so when it was opened.
// It comes after the judgement: of a file that is not survived nothing is kept.
func (m *memory) keep(path string, info fs.FileInfo) {
	if m != nil && m.keeping {
		m.cache.Keep(path, info, m.now, m.record)
	}
}

// watched notes that bytes which should be in a file could not be read.
type watched struct {
	r      io.ReaderAt
	size   int64
	failed bool
}

func (w *watched) ReadAt(b []byte, off int64) (int, error) {
	n, err := w.r.ReadAt(b, off)
	if int64(n) < min(int64(len(b)), w.size-off) {
		w.failed = true
	}
	return n, err
}
