// Package atomicfile writes files beside their targets and renames them when they
// are whole, so that an interrupted run leaves no half file. Files are created
// with mode 0600.
//
// It does not make several renames one: where the machine stops between two
// commits of a Set, some targets are new and whole, the others untouched.
package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// ExistsError tells that a target is there and may not be overwritten.
type ExistsError struct{ Path string }

func (e *ExistsError) Error() string {
	return e.Path + " exists; --force overwrites it"
}

// File is a file that is being written beside its target.
type File struct {
	*os.File
	path  string
	force bool
	done  bool
}

// Create opens a temporary file in the folder of path. Without force an existing
// path is refused with *ExistsError, at once and again on Commit.
func Create(path string, force bool) (*File, error) {
	if err := check(path, force); err != nil {
		return nil, err
	}
	tmp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.tmp")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("writing %s: there is no folder %s", path, filepath.Dir(path))
	}
	if err != nil {
		return nil, fmt.Errorf("creating a file beside %s: %w", path, reason(err))
	}
	return &File{File: tmp, path: path, force: force}, nil
}

// check refuses a target that may not be written.
func check(path string, force bool) error {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("looking at %s: %w", path, reason(err))
	case info.IsDir():
		return fmt.Errorf("writing %s: it is a folder, expected a file name", path)
	case !force:
		return &ExistsError{Path: path}
	}
	return nil
}

// Commit closes the file and gives it its name.
func (f *File) Commit() error {
	if err := f.finish(); err != nil {
		return err
	}
	return f.place()
}

// finish brings all bytes to the disk and closes the temporary file.
func (f *File) finish() error {
	if err := errors.Join(f.Sync(), f.File.Close()); err != nil {
		f.Abort()
		return fmt.Errorf("writing %s: %w", f.path, reason(err))
	}
	return nil
}

// place renames the finished file.
func (f *File) place() error {
	err := f.rename()
	if err != nil {
		f.Abort()
		return err
	}
	f.done = true
	return nil
}

// rename takes the target's name; without force in a way that never replaces a
// file that came there meanwhile, where the file system has hard links.
func (f *File) rename() error {
	if !f.force {
		err := os.Link(f.Name(), f.path)
		switch {
		case err == nil:
			return os.Remove(f.Name())
		case errors.Is(err, fs.ErrExist):
			return &ExistsError{Path: f.path}
		}
		if err := check(f.path, false); err != nil {
			return err
		}
	}
	if err := os.Rename(f.Name(), f.path); err != nil {
		return fmt.Errorf("naming %s: %w", f.path, reason(err))
	}
	return nil
}

// Abort removes the temporary file; after a Commit it does nothing, so it can be
// deferred.
func (f *File) Abort() {
	if f.done {
		return
	}
	f.done = true
	f.File.Close()
	os.Remove(f.Name())
}

// reason is the cause of a file error without the path, which the message names.
func reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
