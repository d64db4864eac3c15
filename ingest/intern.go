package ingest

import (
	"hash/maphash"
	"sync"
)

// interner keeps one copy of each patient, study, series, device and writer header: an
// archive repeats them in every file. They are found by their hash, because a map keyed
// by the headers would hold each a second time.
type interner struct {
	seed     maphash.Seed
	mu       sync.Mutex
	patients map[uint64]*Patient
	studies  map[uint64]*Study
	serieses map[uint64]*Series
	devices  map[uint64]*Device
	writers  map[uint64]*Writer
}

func newInterner() *interner {
	return &interner{
		seed: maphash.MakeSeed(), patients: map[uint64]*Patient{}, studies: map[uint64]*Study{},
		serieses: map[uint64]*Series{}, devices: map[uint64]*Device{}, writers: map[uint64]*Writer{},
	}
}

func (n *interner) patient(v Patient) *Patient { return intern(n, n.patients, v) }
func (n *interner) study(v Study) *Study       { return intern(n, n.studies, v) }
func (n *interner) series(v Series) *Series    { return intern(n, n.serieses, v) }
func (n *interner) device(v Device) *Device    { return intern(n, n.devices, v) }

func (n *interner) writer(v Writer) *Writer { return intern(n, n.writers, v) }

// intern returns the one like v, which it becomes where there is none. Of two with one
// hash, the second is kept under the next number that is free.
func intern[T comparable](n *interner, seen map[uint64]*T, v T) *T {
	at := maphash.Comparable(n.seed, v)
	n.mu.Lock()
	defer n.mu.Unlock()
	for ; seen[at] != nil; at++ {
		if *seen[at] == v {
			return seen[at]
		}
	}
	seen[at] = &v
	return &v
}
