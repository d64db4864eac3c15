package cache

import (
	"bufio"
	"encoding/binary"
	"hash/maphash"
	"io"
	"os"
	"sync"
)

// Cache is what an earlier run kept, and what this one does. Its methods may be
// called at once from several goroutines, Finish when all others are done.
type Cache struct {
	program string
	old     io.ReaderAt
	size    int64
	seed    maphash.Seed

	mu sync.Mutex
	// index holds the records of the old cache by the hash of their paths. Where two
	// share one, the later counts, and the file of the other is read again.
	index map[uint64]place
	out   *bufio.Writer
	// written counts the records of the new cache; failed is why it is not whole.
	written uint64
	failed  error

	rejected int
}

// place is where a record lies in the old cache, and what is known of it.
type place struct {
	at     int64
	length uint32
	state  state
}

// state is what a run found out about a record.
type state uint8

const (
	unmet state = iota // its file was not met so far
	valid              // its file has not changed
	stale              // its file is another now, or cannot be looked at
)

// Open reads the cache that r holds, of size bytes, and writes a new one to out.
// r is read until Finish. program is the fingerprint of the program, see Program.
//
// Where the old cache is of no use, ignored says why (ErrForeign, ErrProgram,
// ErrDamaged, or an error of reading), and the cache returned holds nothing yet.
func Open(r io.ReaderAt, size int64, program string, out io.Writer) (c *Cache, ignored error) {
	c = &Cache{program: program, old: r, size: size, seed: maphash.MakeSeed(), out: bufio.NewWriterSize(out, 128<<10)}
	c.write([]byte(heading(program)))
	if size == 0 {
		return c, nil
	}
	c.index = map[uint64]place{}
	err := records(r, size, program, func(at int64, body []byte) error {
		k, _, ok := split(body)
		if !ok {
			return ErrDamaged
		}
		c.index[c.hash(k.path)] = place{at: at, length: uint32(len(body))}
		return nil
	})
	if err != nil {
		c.index, c.size = nil, 0
	}
	return c, err
}

func (c *Cache) hash(path string) uint64 { return maphash.String(c.seed, path) }

// Find looks at the file at path, without opening it, and returns its record where
// one was kept and the file is still the same, with the size it has, in bytes. The
// record lies in the buffer, which is made larger where it has to be.
func (c *Cache) Find(path string, buffer *[]byte) (record []byte, size int64, ok bool) {
	full := Absolute(path)
	hash := c.hash(full)
	c.mu.Lock()
	p, ok := c.index[hash]
	c.mu.Unlock()
	if !ok {
		return nil, 0, false
	}
	body, err := c.body(p, buffer)
	if err != nil {
		c.Reject(path)
		return nil, 0, false
	}
	k, record, _ := split(body)
	if k.path != full {
		return nil, 0, false
	}
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() || keyOf(full, info) != k {
		c.mark(hash, stale)
		return nil, 0, false
	}
	c.mark(hash, valid)
	return record, k.size, true
}

// Reject says that the record of the file at path cannot be used, though it was
// whole when the cache was opened.
func (c *Cache) Reject(path string) {
	c.mark(c.hash(Absolute(path)), stale)
	c.mu.Lock()
	defer c.mu.Unlock()
	c.rejected++
}

// Rejected counts the records that could not be used.
func (c *Cache) Rejected() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.rejected
}

func (c *Cache) mark(hash uint64, s state) {
	c.mu.Lock()
	defer c.mu.Unlock()
	p, ok := c.index[hash]
	if !ok {
		return
	}
	p.state = s
	c.index[hash] = p
}

// body reads a record once more, and its checksum with it.
func (c *Cache) body(p place, buffer *[]byte) ([]byte, error) {
	n := frameBytes + int(p.length)
	if cap(*buffer) < n {
		*buffer = make([]byte, n+n/2)
	}
	b := (*buffer)[:n]
	if got, err := c.old.ReadAt(b, p.at); got < n {
		return nil, err
	}
	if checksum(b[frameBytes:]) != binary.LittleEndian.Uint32(b[4:]) {
		return nil, ErrDamaged
	}
	return b[frameBytes:], nil
}
