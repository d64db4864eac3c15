package cache

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strings"
)

// word begins every cache, whatever its version.
const word = "leadline cache "

// formatVersion changes with the layout of the file.
const formatVersion = 1

// heading is the first line of a cache that a program of this fingerprint wrote.
func heading(program string) string {
	return fmt.Sprintf("%s%d %s\n", word, formatVersion, program)
}

// maxHeading bounds the first line of a cache of any version.
const maxHeading = 256

// maxBody bounds one record: a path and what was read of a file.
const maxBody = 48 << 20

// frameBytes stand before each body: its length, and the checksum of length and
// body. At the end stands a frame of length 0 whose checksum is that of the number
// of records, so that a cache cut between two records is not taken for whole.
const frameBytes = 8

// castagnoli is the polynomial of CRC-32C (RFC 3720 12.1), which processors compute.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// checksum is that of a body given in parts, its length included.
func checksum(parts ...[]byte) uint32 {
	length := uint32(0)
	for _, part := range parts {
		length += uint32(len(part))
	}
	sum := crc32.Checksum(binary.LittleEndian.AppendUint32(nil, length), castagnoli)
	for _, part := range parts {
		sum = crc32.Update(sum, castagnoli, part)
	}
	return sum
}

// putFrame fills the frame that stands before a body of this length.
func putFrame(b []byte, length int, sum uint32) {
	binary.LittleEndian.PutUint32(b, uint32(length))
	binary.LittleEndian.PutUint32(b[4:], sum)
}

// endFrame closes a cache of n records.
func endFrame(n uint64) []byte {
	var b [frameBytes]byte
	putFrame(b[:], 0, checksum(binary.LittleEndian.AppendUint64(nil, n)))
	return b[:]
}

// The ways in which a cache is of no use.
var (
	// ErrForeign tells that a file is no cache at all.
	ErrForeign = errors.New("it is not a cache that Leadline wrote")
	// ErrProgram tells that another program wrote it, or another version of this one.
	ErrProgram = errors.New("another version of Leadline wrote it")
	// ErrDamaged tells that not all of it is as it was written.
	ErrDamaged = errors.New("it is damaged")
)

// records reads a cache of size bytes from front to end, and calls visit with the
// place and the body of each record; the body is valid until it returns. What it
// allocates is bounded by the largest body that is there.
func records(r io.ReaderAt, size int64, program string, visit func(at int64, body []byte) error) error {
	in := &front{r: bufio.NewReaderSize(io.NewSectionReader(r, 0, size), int(min(max(size, maxHeading), 1<<20))), rest: size}
	if err := in.heading(program); err != nil {
		return err
	}
	for n := uint64(0); ; n++ {
		at := size - in.rest
		body, last, err := in.body(n)
		if err != nil || last {
			return err
		}
		if err := visit(at, body); err != nil {
			return err
		}
	}
}

// front reads a cache forward; rest is how many bytes are left.
type front struct {
	r    *bufio.Reader
	rest int64
	buf  []byte
}

func (f *front) heading(program string) error {
	want := heading(program)
	head, err := f.r.Peek(int(min(f.rest, maxHeading)))
	switch {
	case err != nil:
		return err
	case strings.HasPrefix(string(head), want):
		f.rest -= int64(len(want))
		_, err := f.r.Discard(len(want))
		return err
	case strings.HasPrefix(string(head), word):
		return ErrProgram
	}
	return ErrForeign
}

// body reads the next record, of which n stand before it; last tells that the end
// stands there instead.
func (f *front) body(n uint64) (body []byte, last bool, err error) {
	head, err := f.read(frameBytes)
	if err != nil {
		return nil, false, err
	}
	length, sum := binary.LittleEndian.Uint32(head), binary.LittleEndian.Uint32(head[4:])
	if length == 0 {
		if f.rest != 0 || string(endFrame(n)) != string(head) {
			return nil, false, ErrDamaged
		}
		return nil, true, nil
	}
	if body, err = f.read(int64(length)); err != nil {
		return nil, false, err
	}
	if checksum(body) != sum {
		return nil, false, ErrDamaged
	}
	return body, false, nil
}

// read returns the next n bytes, valid until the next call.
func (f *front) read(n int64) ([]byte, error) {
	if n > f.rest || n > maxBody {
		return nil, ErrDamaged
	}
	if int64(cap(f.buf)) < n {
		f.buf = make([]byte, n, min(f.rest, 2*n))
	}
	f.rest -= n
	_, err := io.ReadFull(f.r, f.buf[:n])
	return f.buf[:n], err
}
