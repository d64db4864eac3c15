package ingest

import "sync"

// interner keeps one copy of each patient, study, series, device and writer header: an
// archive repeats them in every file.
type interner struct {
	mu       sync.Mutex
	patients map[Patient]*Patient
	studies  map[Study]*Study
	serieses map[Series]*Series
	devices  map[Device]*Device
	writers  map[Writer]*Writer
}

func newInterner() *interner {
	return &interner{
		patients: map[Patient]*Patient{}, studies: map[Study]*Study{},
		serieses: map[Series]*Series{}, devices: map[Device]*Device{}, writers: map[Writer]*Writer{},
	}
}

func (n *interner) patient(v Patient) *Patient { return intern(&n.mu, n.patients, v) }
func (n *interner) study(v Study) *Study       { return intern(&n.mu, n.studies, v) }
func (n *interner) series(v Series) *Series    { return intern(&n.mu, n.serieses, v) }
func (n *interner) device(v Device) *Device    { return intern(&n.mu, n.devices, v) }

func (n *interner) writer(v Writer) *Writer { return intern(&n.mu, n.writers, v) }

func intern[T comparable](mu *sync.Mutex, seen map[T]*T, v T) *T {
	mu.Lock()
	defer mu.Unlock()
	if p, ok := seen[v]; ok {
		return p
	}
	p := &v
	seen[v] = p
	return p
}
