package workbook

import "io"

// belt carries the pieces of a sheet to the archive, which compresses one while the
// next is made.
type belt struct {
	// piece is the one that is being made.
	piece       []byte
	full, empty chan []byte
	// done tells how it ended, once.
	done  chan error
	ended bool
}

// pieceSize is where a piece is handed on; pieces is how many there are.
const (
	pieceSize = 256 << 10
	pieces    = 3
)

// begin opens the part of the archive that a sheet becomes.
func (w *writer) begin(part string) (*belt, error) {
	to, err := w.archive.Create(part)
	if err != nil {
		return nil, err
	}
	if w.empty == nil {
		w.empty = make(chan []byte, pieces)
		for range pieces {
			w.empty <- make([]byte, 0, pieceSize+pieceSize/8)
		}
	}
	b := &belt{full: make(chan []byte, pieces), empty: w.empty, done: make(chan error, 1)}
	b.piece = <-b.empty
	go b.run(to)
	w.belt = b
	return b, nil
}

// run writes what comes, until no more comes or writing fails.
func (b *belt) run(to io.Writer) {
	for piece := range b.full {
		if _, err := to.Write(piece); err != nil {
			b.done <- err
			return
		}
		b.empty <- piece[:0]
	}
	b.done <- nil
}

// filled hands the piece on where it is large enough.
func (b *belt) filled() error {
	if len(b.piece) < pieceSize {
		return nil
	}
	b.full <- b.piece // there is room for all
	select {
	case b.piece = <-b.empty:
		return nil
	case err := <-b.done:
		b.ended = true
		return err
	}
}

// end hands on the last piece and waits until the sheet is in the archive.
func (w *writer) end() error {
	b := w.belt
	if b == nil || b.ended {
		return nil
	}
	b.ended = true
	b.full <- b.piece
	close(b.full)
	return <-b.done
}
