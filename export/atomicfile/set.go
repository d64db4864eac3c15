package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Set is the files of one folder, which appear together at the end.
type Set struct {
	dir   string
	force bool
	made  bool
	files []*File
}

// CreateSet makes the folder dir (mode 0700) where it is not there, and checks
// that none of the names is taken unless force is given.
func CreateSet(dir string, names []string, force bool) (*Set, error) {
	s := &Set{dir: dir, force: force}
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return nil, fmt.Errorf("making the folder %s: %w", dir, reason(err))
		}
		s.made = true
	case err != nil:
		return nil, fmt.Errorf("looking at %s: %w", dir, reason(err))
	case !info.IsDir():
		return nil, fmt.Errorf("writing into %s: it is a file, expected a folder", dir)
	}
	for _, name := range names {
		if err := check(filepath.Join(dir, name), force); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// Create opens the next file of the set.
func (s *Set) Create(name string) (*File, error) {
	f, err := Create(filepath.Join(s.dir, name), s.force)
	if err == nil {
		s.files = append(s.files, f)
	}
	return f, err
}

// Commit finishes all files, then names all.
func (s *Set) Commit() error {
	for _, f := range s.files {
		if err := f.finish(); err != nil {
			return err
		}
	}
	for _, f := range s.files {
		if err := f.place(); err != nil {
			return err
		}
	}
	return nil
}

// Abort removes what was not committed, and the folder where the set made it and
// it is empty. After a Commit it does nothing.
func (s *Set) Abort() {
	kept := false
	for _, f := range s.files {
		kept = kept || f.done
		f.Abort()
	}
	if s.made && !kept {
		os.Remove(s.dir)
	}
}
