package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"leadline/export/atomicfile"
	"leadline/ingest"
	"leadline/ingest/cache"
)

// readArchive reads the archive, with a cache where one was asked for. What a run
// that was interrupted has read stays in the cache.
func readArchive(ctx context.Context, paths []string, opts *runOptions, notices io.Writer, show *progress) (*ingest.Archive, error) {
	reading := ingest.Options{Workers: opts.workers, Progress: show.read, Pictures: opts.pixels}
	if opts.cache == "" {
		return ingest.Load(ctx, paths, reading)
	}
	kept, err := openCache(opts.cache, notices)
	if err != nil {
		return nil, err
	}
	defer kept.abort()
	reading.Cache = kept.cache
	archive, err := ingest.Load(ctx, paths, reading)
	show.clear()
	kept.finish(paths, err == nil)
	return archive, err
}

// cacheFile is the cache of one run: the old one, which is read, and the new one,
// which is written beside it.
type cacheFile struct {
	path    string
	old     *os.File
	next    *atomicfile.File
	cache   *cache.Cache
	notices io.Writer
}

func openCache(path string, notices io.Writer) (_ *cacheFile, err error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // the link stays
	}
	program, err := cache.Program()
	if err != nil {
		return nil, err
	}
	k := &cacheFile{path: path, notices: notices}
	if k.next, err = atomicfile.Create(path, true); err != nil {
		return nil, fmt.Errorf("making the cache: %w", err)
	}
	var size int64
	if k.old, size, err = openOld(path); err != nil {
		k.abort()
		return nil, fmt.Errorf("reading the cache: %w", err)
	}
	var ignored error
	k.cache, ignored = cache.Open(k.old, size, program, k.next)
	if errors.Is(ignored, cache.ErrForeign) {
		err = k.setAside()
	} else if ignored != nil {
		k.notice("%v, so every file is read and it is made anew", ignored)
	}
	if err != nil {
		k.abort()
	}
	return k, err
}

// openOld opens the cache of an earlier run; there may be none.
func openOld(path string) (*os.File, int64, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, nil
	}
	if err != nil {
		return nil, 0, err
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, 0, err
	}
	return f, info.Size(), nil
}

// setAside keeps a file that is no cache from being overwritten: its name may have
// been given by mistake.
func (k *cacheFile) setAside() error {
	aside := k.path + ".old"
	for n := 2; exists(aside); n++ {
		aside = fmt.Sprintf("%s.old%d", k.path, n)
	}
	if err := os.Rename(k.path, aside); err != nil {
		return fmt.Errorf("--cache %s: %w, and cannot be set aside: %w", k.path, cache.ErrForeign, err)
	}
	k.notice("%v; it is now %s, and every file is read", cache.ErrForeign, aside)
	return nil
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// finish gives the new cache its name. Whatever goes wrong here costs the next run
// time and this one nothing, so it is said and is no error.
func (k *cacheFile) finish(paths []string, whole bool) {
	changed, err := k.cache.Finish(paths, whole)
	if k.old != nil {
		k.old.Close() // some systems rename over no open file
	}
	if n := k.cache.Rejected(); n > 0 {
		k.notice("%d of its records could not be used; those files were read", n)
	}
	if err == nil && changed {
		err = k.next.Commit()
	}
	if err != nil {
		k.notice("it could not be written and is as it was: %v", err)
	}
}

// abort leaves the old cache as it is. After finish it does nothing.
func (k *cacheFile) abort() {
	k.next.Abort()
	if k.old != nil {
		k.old.Close()
	}
}

func (k *cacheFile) notice(format string, args ...any) {
	fmt.Fprintf(k.notices, "leadline: cache %s: %s\n", k.path, fmt.Sprintf(format, args...))
}

// checkCache refuses a cache that would be counted among the files of the archive,
// or that is something else.
func checkCache(opts *runOptions, paths []string) error {
	if opts.cache == "" {
		return nil
	}
	info, err := os.Stat(opts.cache)
	if err == nil && !info.Mode().IsRegular() {
		return &usageError{fmt.Sprintf("--cache %s: it is there and not a file, expected a file name", opts.cache)}
	}
	if samePlace(opts.cache, opts.out) {
		return &usageError{fmt.Sprintf("--cache %s: the workbook has this name", opts.cache)}
	}
	for _, path := range paths {
		if liesBelow(opts.cache, path) {
			return &usageError{fmt.Sprintf("--cache %s: it lies below %s, which is read; keep it elsewhere", opts.cache, path)}
		}
	}
	return nil
}

// samePlace tells that two names stand for one file, which may not be there yet.
func samePlace(a, b string) bool {
	return filepath.Base(a) == filepath.Base(b) && sameFile(filepath.Dir(a), filepath.Dir(b)) || sameFile(a, b)
}

func sameFile(a, b string) bool {
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(infoA, infoB)
}

// liesBelow tells that a file, which may not be there yet, is or would be in a
// folder or one below it, or is the same file; links count for what they lead to.
func liesBelow(file, folder string) bool {
	if sameFile(file, folder) {
		return true
	}
	dir := filepath.Dir(file)
	for !exists(dir) && dir != filepath.Dir(dir) {
		dir = filepath.Dir(dir) // folders that are yet to be made
	}
	dir, err := filepath.EvalSymlinks(dir)
	if err == nil {
		dir, err = filepath.Abs(dir)
	}
	for err == nil {
		if sameFile(dir, folder) {
			return true
		}
		up := filepath.Dir(dir)
		if up == dir {
			break
		}
		dir = up
	}
	return false
}
