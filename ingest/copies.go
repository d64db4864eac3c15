package ingest

import (
	"bytes"
	"errors"
	"io"
)

// settleCopies finds the files that carry a SOP Instance UID met before: the same
// bytes make a duplicate, other bytes a conflict. The first file in the order of
// paths stands for the instance; the others keep their ledger row only.
func settleCopies(rows []*row) {
	first := make(map[string]*row, len(rows))
	for _, r := range rows {
		if r.inst == nil {
			continue
		}
		kept, seen := first[r.inst.SOPInstanceUID]
		if !seen {
			first[r.inst.SOPInstanceUID] = r
			continue
		}
		r.inst = nil
		r.entry.Outcome, r.entry.Reason = compare(kept, r)
	}
}

func compare(kept, other *row) (Outcome, string) {
	same, err := sameBytes(kept, other)
	switch {
	case err != nil:
		return OutcomeConflict, "another file has this SOP Instance UID, and the two could not be compared (" + reasonOf(err) + ")"
	case same:
		return OutcomeDuplicate, "the same bytes as the file met before with this SOP Instance UID"
	}
	return OutcomeConflict, "another file met before has this SOP Instance UID and other bytes; this one is not used"
}

// sameBytes compares two files piece by piece.
func sameBytes(a, b *row) (bool, error) {
	if a.entry.Bytes != b.entry.Bytes {
		return false, nil
	}
	fa, err := a.open()
	if err != nil {
		return false, err
	}
	defer fa.Close()
	fb, err := b.open()
	if err != nil {
		return false, err
	}
	defer fb.Close()
	_, ofA := fa.(fingerprint)
	_, ofB := fb.(fingerprint)
	if ofA || ofB {
		return sameFingerprints(fa, fb)
	}
	return sameStreams(fa, fb)
}

// sameFingerprints compares by SHA-256, where one of the two is known by that alone.
func sameFingerprints(a, b io.Reader) (bool, error) {
	da, errA := fingerprintOf(a)
	db, errB := fingerprintOf(b)
	return da == db, errors.Join(errA, errB)
}

func (r *row) open() (io.ReadCloser, error) {
	if r.again != nil {
		return r.again()
	}
	return openNow(r.entry.Path)
}

func sameStreams(a, b io.Reader) (bool, error) {
	pieceA, pieceB := make([]byte, 64<<10), make([]byte, 64<<10)
	for {
		n, errA := io.ReadFull(a, pieceA)
		m, errB := io.ReadFull(b, pieceB)
		if n != m || !bytes.Equal(pieceA[:n], pieceB[:m]) {
			return false, nil
		}
		if errors.Is(errA, io.EOF) || errors.Is(errA, io.ErrUnexpectedEOF) {
			return true, nil
		}
		if errA != nil || errB != nil {
			return false, errors.Join(errA, errB)
		}
	}
}
