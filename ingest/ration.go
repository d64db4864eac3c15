package ingest

import (
	"archive/zip"
	"io"
	"sync/atomic"

	"leadline/ingest/dcm"
)

// What is inflated of one archive, with the holes of sparse files and the archives
// within it: so many times its size, and an amount that any may have. Deflate makes a
// thousand of one, and of an archive in an archive a million; pictures are seldom
// made of a tenth. An archive reads on: what is beyond is refused file by file.
const (
	rationTimes = 64
	rationAny   = 2 << 30
)

// ration is what may still be inflated of one archive. It is safe for concurrent use.
type ration struct {
	whole int64
	left  atomic.Int64
}

func newRation(size int64) *ration {
	r := &ration{whole: rationAny + rationTimes*size}
	r.left.Store(r.whole)
	return r
}

// of reads from r as far as the ration reaches.
func (n *ration) of(r io.Reader) io.Reader { return &rationed{r: r, ration: n} }

// mayEnd tells that the files claim more than is left, of which one that is no
// container is inflated at most as far as a container may be.
func (n *ration) mayEnd(files []*zip.File) bool {
	sum := n.left.Load()
	for _, f := range files {
		sum -= int64(min(f.UncompressedSize64, maxNested))
	}
	return sum < 0
}

type rationed struct {
	r      io.Reader
	ration *ration
	at     int64
}

func (r *rationed) Read(b []byte) (int, error) {
	if r.ration.left.Load() < 0 {
		return 0, &dcm.LimitError{What: "bytes inflated of one archive; unpack it", Limit: r.ration.whole, Offset: r.at}
	}
	n, err := r.r.Read(b)
	r.at += int64(n)
	r.ration.left.Add(-int64(n))
	return n, err
}
