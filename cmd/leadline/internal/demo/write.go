package demo

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"
)

// Options say what to write.
type Options struct {
	// Studies is how many studies the month has; 0 writes the small archive that is
	// committed as testdata/demo, with larger pictures and every defect.
	Studies int
	// Months spreads the studies of a large archive over so many months, with a bad
	// week and an improvement; up to 1 means one month, without.
	Months int
	// Seed changes every size, name and picture. The same options give the same
	// bytes, with one release of Go (its JPEG and deflate writers may change) and on
	// one kind of processor (pictures are drawn in floating point).
	Seed int64
}

// Summary counts what was written.
type Summary struct {
	Studies, Files int
	Bytes          int64
	// Planted are the rows of truth.csv, truth-calipers.csv, truth-labels.csv and
	// truth-pixels.csv.
	Planted int
}

// Write draws the archive below dir, which it makes. The caliper table, the study
// table and the tables of what an audit must find (truth*.csv) stand in dir beside
// the folders of the studies. Paths in them are relative to dir, with forward
// slashes.
func Write(ctx context.Context, dir string, o Options) (Summary, error) {
	list := plans(o)
	studies := make([]*study, len(list))
	counts := make([]Summary, len(list))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, p := range list {
		group.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			s := p.build(o.Seed, o.Studies > 0)
			n, err := s.write(dir)
			counts[i], studies[i] = n, s.bare()
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return Summary{}, fmt.Errorf("writing the demo archive: %w", err)
	}
	archiveOnce(studies)
	total := Summary{Studies: len(list)}
	for i, n := range counts {
		total.Files += n.Files
		total.Bytes += n.Bytes
		total.Planted += len(studies[i].truth)
	}
	return total, writeTables(dir, o, studies, &total)
}

// bare keeps what the tables need and lets the pictures go.
func (s *study) bare() *study {
	kept := &study{uid: s.uid, truth: s.truth, calipers: s.calipers, protocol: s.protocol, items: s.items}
	for _, r := range s.labels {
		kept.labelCells = append(kept.labelCells, r.cells())
	}
	return kept
}

// archiveOnce drops what a study plants into the archive as a whole and an earlier
// study planted before.
func archiveOnce(studies []*study) {
	seen := map[truthRow]bool{}
	for _, s := range studies {
		s.truth = slices.DeleteFunc(s.truth, func(t truthRow) bool {
			again := t.study == "" && seen[t]
			seen[t] = true
			return again
		})
	}
}

func writeTables(dir string, o Options, studies []*study, total *Summary) error {
	tables := map[string]func([]*study) ([]byte, error){
		truthTable: truthCSV(""), caliperTruth: truthCSV(caliperTable), labelTruth: truthCSV(labelTable),
		pictureTruth: truthCSV(inPicture),
		itemsTable:   itemsCSV, caliperTable: caliperCSV, labelTable: labelsCSV,
	}
	for name, of := range tables {
		content, err := of(studies)
		if err != nil {
			return err
		}
		if err := writeFile(dir, name, content, total); err != nil {
			return err
		}
	}
	strangers := map[string][]byte{
		"exports/README.txt":         []byte("Exports of the hand-held devices, one folder a ward. Not a DICOM file.\n"),
		"zz-recovered/US0004.dcm":    emptyZip,
		"media/ward-a/INVENTORY.TXT": []byte("IM0001 and following: see the sequence in the headers.\n"),
	}
	if o.Months > 1 {
		months, err := monthCSV(o.Months)
		if err != nil {
			return err
		}
		strangers[monthTruth] = months
	}
	for path, content := range strangers {
		if err := writeFile(dir, path, content, total); err != nil {
			return err
		}
	}
	return nil
}

// emptyZip is an archive without entries: the end of central directory record alone.
var emptyZip = append([]byte("PK\x05\x06"), bytes.Repeat([]byte{0}, 18)...)

// write makes the files of the study.
func (s *study) write(dir string) (Summary, error) {
	var n Summary
	s.place()
	encoded := map[*object][]byte{}
	for _, o := range s.images {
		content, err := o.encode()
		if err != nil {
			return n, err
		}
		encoded[o] = content
		if o.mangle != nil {
			content = o.mangle(content)
		}
		if err := writeFile(dir, o.path, content, &n); err != nil {
			return n, err
		}
	}
	if err := s.writeDocuments(dir, &n); err != nil {
		return n, err
	}
	if s.medium != nil {
		content, err := s.medium.encode()
		if err != nil {
			return n, err
		}
		if err := writeFile(dir, s.medium.path(), content, &n); err != nil {
			return n, err
		}
	}
	return n, s.writeCopies(dir, encoded, &n)
}

func (o *object) encode() ([]byte, error) {
	d, err := o.dataSet()
	if err != nil {
		return nil, fmt.Errorf("making image %d: %w", o.instance, err)
	}
	content, err := encode(d, o.sopClass(), o.uid, o.syntax)
	if err != nil {
		return nil, fmt.Errorf("encoding image %d: %w", o.instance, err)
	}
	return content, nil
}

func (s *study) writeDocuments(dir string, n *Summary) error {
	for _, r := range s.reports {
		d, err := r.dataSet()
		if err != nil {
			return fmt.Errorf("making a report: %w", err)
		}
		content, err := encode(d, r.sopClass, r.uid, r.syntax)
		if err != nil {
			return fmt.Errorf("encoding a report: %w", err)
		}
		if err := writeFile(dir, r.path, content, n); err != nil {
			return err
		}
	}
	for _, t := range s.states {
		d, err := t.dataSet()
		if err != nil {
			return fmt.Errorf("making a presentation state: %w", err)
		}
		content, err := encode(d, greyscaleState, t.uid, explicitLE)
		if err != nil {
			return fmt.Errorf("encoding a presentation state: %w", err)
		}
		if err := writeFile(dir, t.path, content, n); err != nil {
			return err
		}
	}
	return nil
}

func (s *study) writeCopies(dir string, encoded map[*object][]byte, n *Summary) error {
	for _, c := range s.copies {
		content := encoded[c.of]
		if c.change != nil {
			o := *c.of
			c.change(&o)
			var err error
			if content, err = o.encode(); err != nil {
				return err
			}
		}
		if c.keep > 0 {
			content = content[:c.keep]
		}
		s.truth = append(s.truth, c.truth(s))
		if err := writeFile(dir, c.path, content, n); err != nil {
			return err
		}
	}
	return nil
}

// place gives every file its path, the way its device exports.
func (s *study) place() {
	folder := path.Join(s.device.root, s.start.Format("20060102")+fmt.Sprintf("-%03d", s.ordinal+1))
	k := 0
	next := func(kind string) string {
		k++
		at := folder
		if s.split && k > len(s.images)/2 {
			at = path.Join("late-sent", fmt.Sprintf("%03d", s.ordinal+1))
		}
		if s.device.bare {
			return path.Join(at, fmt.Sprintf("IM%04d", k))
		}
		return path.Join(at, fmt.Sprintf("%s%05d.dcm", kind, k))
	}
	for _, o := range s.images {
		o.path = next("US")
	}
	for _, r := range s.reports {
		r.path = next("SR")
	}
	for _, t := range s.states {
		t.path = next("PR")
	}
	if s.medium != nil {
		s.medium.place(folder)
	}
	for i := range s.copies {
		if s.small {
			s.copies[i].path = strings.Replace(s.copies[i].path, "/", fmt.Sprintf("/%04d-", s.ordinal+1), 1)
		}
	}
}

func writeFile(dir, path string, content []byte, n *Summary) error {
	full := filepath.Join(dir, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		return fmt.Errorf("making a folder: %w", err)
	}
	if err := os.WriteFile(full, content, 0o644); err != nil {
		return fmt.Errorf("writing a file: %w", err)
	}
	n.Files++
	n.Bytes += int64(len(content))
	return nil
}

// PatientTokens lists every name, patient id, birth date (as in the files and as
// YYYY-MM-DD) and free-text phrase of the small archive. None of them may reach a
// log, an error, or an output without full identity.
func PatientTokens() []string {
	var list []string
	for _, p := range plans(Options{}) {
		list = append(list, p.patient.tokens()...)
	}
	return list
}

// StaffTokens lists the names of operators and readers, parts included.
func StaffTokens() []string {
	var list []string
	for _, name := range append([]string{reader}, operators...) {
		list = append(list, name, strings.Split(name, "^")[0])
	}
	return list
}
