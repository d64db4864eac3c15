package cache

import (
	"io/fs"
	"path/filepath"
	"strings"
	"time"
)

// Keep keeps a record of the file at path. info is what it was when it was opened,
// and now a time not after that. A file that was changed just before is not kept:
// the next change might not show.
func (c *Cache) Keep(path string, info fs.FileInfo, now time.Time, record []byte) {
	if !settled(info, now) {
		return
	}
	head := keyOf(Absolute(path), info).appendTo(make([]byte, frameBytes, 256))
	if len(head)+len(record) > maxBody {
		return
	}
	putFrame(head, len(head)-frameBytes+len(record), checksum(head[frameBytes:], record))
	c.mu.Lock()
	defer c.mu.Unlock()
	c.write(head, record)
	c.written++
}

// write appends to the new cache, and keeps the first error for Finish.
func (c *Cache) write(parts ...[]byte) {
	for _, part := range parts {
		if c.failed == nil {
			_, c.failed = c.out.Write(part)
		}
	}
}

// Finish completes the new cache: behind what was kept in this run it writes the
// records of the old one that still hold. Those of files that were not met stay
// too, except where the run was whole and they lie below one of its paths: such
// files are gone. changed tells that the new cache is another than the old one, and
// is to take its place; an error, that the new one is not whole and must not.
func (c *Cache) Finish(paths []string, whole bool) (changed bool, err error) {
	if c.unchanged() {
		return false, nil
	}
	changed = c.written > 0 || (c.size == 0 && whole)
	dropped, err := c.carry(paths, whole)
	if err != nil {
		return false, err
	}
	c.write(endFrame(c.written))
	if c.failed == nil {
		c.failed = c.out.Flush()
	}
	return c.failed == nil && (changed || dropped), c.failed
}

// unchanged tells that every record of the old cache holds, and no other is there.
func (c *Cache) unchanged() bool {
	if c.written > 0 || c.size == 0 {
		return false
	}
	for _, p := range c.index {
		if p.state != valid {
			return false
		}
	}
	return true
}

// carry copies what stays of the old cache, and tells whether something does not.
func (c *Cache) carry(paths []string, whole bool) (dropped bool, err error) {
	if c.size == 0 {
		return false, nil
	}
	folders := make([]string, len(paths))
	for i, path := range paths {
		folders[i] = Absolute(path)
	}
	err = records(c.old, c.size, c.program, func(_ int64, body []byte) error {
		k, _, ok := split(body)
		if !ok {
			return ErrDamaged
		}
		s := c.index[c.hash(k.path)].state
		if s == stale || (s == unmet && whole && below(k.path, folders)) {
			dropped = true
			return nil
		}
		var head [frameBytes]byte
		putFrame(head[:], len(body), checksum(body))
		c.write(head[:], body)
		c.written++
		return c.failed
	})
	return dropped, err
}

// below tells that a file lies below one of the folders, or is one of them.
func below(path string, folders []string) bool {
	const separator = string(filepath.Separator)
	for _, folder := range folders {
		if path == folder || strings.HasPrefix(path, strings.TrimSuffix(folder, separator)+separator) {
			return true
		}
	}
	return false
}
