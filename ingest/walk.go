package ingest

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"leadline/ingest/cache"
)

// met is one file that the walk came to, or one place it could not go on from.
type met struct {
	path string
	// refused says why the file is not opened, with the outcome it has then.
	refused string
	outcome Outcome
}

// walker lists files below the given paths, folder by folder in the order of
// names. It follows links to files and folders, and leaves a folder that it is
// already in.
type walker struct {
	ctx  context.Context
	emit func(met) error
	// roots are the cleaned absolute paths walked before: what lies in one of them
	// is not read twice.
	roots map[string]bool
}

// MissingPathError names a path that was asked for and is not there.
type MissingPathError struct {
	Path string
	// Archive is the archive that the path leads into, empty where it does not.
	Archive string
	Err     error
}

func (e *MissingPathError) Error() string {
	if e.Archive != "" {
		return fmt.Sprintf("%s: a file within an archive is not read alone; give %s", shownPath(e.Path), shownPath(e.Archive))
	}
	if errors.Is(e.Err, fs.ErrNotExist) {
		return fmt.Sprintf("%s: no such file or folder", shownPath(e.Path))
	}
	return fmt.Sprintf("%s: cannot be read: %s", shownPath(e.Path), reasonOf(e.Err))
}

func (e *MissingPathError) Unwrap() error { return e.Err }

func (w *walker) walk(paths []string) error {
	w.roots = make(map[string]bool, len(paths))
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return &MissingPathError{Path: path, Archive: ArchiveOf(path), Err: err}
		}
		if w.within(path) {
			continue
		}
		if err := w.entry(path, info, nil); err != nil {
			return err
		}
		w.roots[cache.Absolute(path)] = true
	}
	return nil
}

// ArchiveOf is the archive of a path that the ledger gives to a file within one,
// empty where there is none of that name.
func ArchiveOf(path string) string {
	for at := 0; ; at += len(inside) {
		next := strings.Index(path[at:], inside)
		if next < 0 {
			return ""
		}
		at += next // a folder may end in the mark too
		if info, err := os.Stat(path[:at]); err == nil && info.Mode().IsRegular() {
			return path[:at]
		}
	}
}

// within tells that path lies in a root walked before, or is one.
func (w *walker) within(path string) bool {
	for at := cache.Absolute(path); ; at = filepath.Dir(at) {
		if w.roots[at] {
			return true
		}
		if at == filepath.Dir(at) {
			return false
		}
	}
}

// known tells that path, met below a root, is a root walked before.
func (w *walker) known(path string) bool { return len(w.roots) > 0 && w.roots[cache.Absolute(path)] }

// entry handles one file or folder; above are the folders it lies in.
func (w *walker) entry(path string, info os.FileInfo, above []os.FileInfo) error {
	if err := w.ctx.Err(); err != nil {
		return err
	}
	switch {
	case w.known(path):
		return nil
	case info.IsDir():
		return w.folder(path, info, above)
	case info.Mode().IsRegular():
		return w.emit(met{path: path})
	}
	return w.emit(met{path: path, outcome: OutcomeNotDICOM, refused: "not a regular file: " + kindOfFile(info.Mode())})
}

// file hands on one regular file, once.
func (w *walker) file(path string) error {
	if err := w.ctx.Err(); err != nil || w.known(path) {
		return err
	}
	return w.emit(met{path: path})
}

func (w *walker) folder(path string, info os.FileInfo, above []os.FileInfo) error {
	for _, a := range above {
		if os.SameFile(a, info) {
			return w.emit(met{path: path, outcome: OutcomeNotDICOM, refused: "a link to a folder that it lies in; not followed"})
		}
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return w.emit(met{path: path, outcome: OutcomeUnreadable, refused: "the folder cannot be listed: " + reasonOf(err)})
	}
	sort.Slice(entries, func(i, j int) bool { return entries[i].Name() < entries[j].Name() })
	above = append(above[:len(above):len(above)], info)
	for _, e := range entries {
		child := filepath.Join(path, e.Name())
		if e.Type().IsRegular() {
			// The reader looks at the file itself; the listing need not.
			if err := w.file(child); err != nil {
				return err
			}
			continue
		}
		childInfo, err := os.Stat(child)
		if err != nil {
			if err := w.emit(met{path: child, outcome: OutcomeUnreadable, refused: "cannot be opened: " + reasonOf(err)}); err != nil {
				return err
			}
			continue
		}
		if err := w.entry(child, childInfo, above); err != nil {
			return err
		}
	}
	return nil
}

func kindOfFile(m os.FileMode) string {
	switch {
	case m&os.ModeNamedPipe != 0:
		return "a named pipe"
	case m&os.ModeSocket != 0:
		return "a socket"
	case m&os.ModeDevice != 0:
		return "a device"
	}
	return "of an unknown kind"
}

// reasonOf is the cause of a file error without the path, which the row names.
func reasonOf(err error) string {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		return pathErr.Err.Error()
	}
	return err.Error()
}
