package cache

import (
	"encoding/binary"
	"io/fs"
	"path/filepath"
	"reflect"
	"time"
)

// key tells a file from others and from itself at another time. The number of the
// device is not part of it: network and removable disks get another one each time
// they are mounted, and every file would count as changed.
type key struct {
	path     string // absolute and clean
	size     int64
	modified int64 // nanoseconds since 1970
	inode    uint64
}

func keyOf(path string, info fs.FileInfo) key {
	return key{path: path, size: info.Size(), modified: info.ModTime().UnixNano(), inode: inodeOf(info)}
}

// inodeOf is the number of a file on its disk, 0 where the system gives none. It
// is asked for by name, since the type that holds it differs from system to system.
func inodeOf(info fs.FileInfo) uint64 {
	stat := reflect.Indirect(reflect.ValueOf(info.Sys()))
	if stat.Kind() != reflect.Struct {
		return 0
	}
	if ino := stat.FieldByName("Ino"); ino.IsValid() && ino.CanUint() {
		return ino.Uint()
	}
	return 0
}

// settling is how long a file must have been left alone before its modification
// time tells versions of it apart: the coarsest clocks in use tick in two seconds
// (FAT; from memory), and one who changes a file twice in a tick leaves one time.
const settling = 2 * time.Second

// settled tells that a change of the file at the time now or later shows.
func settled(info fs.FileInfo, now time.Time) bool { return now.Sub(info.ModTime()) > settling }

// keyBytes is the fixed part of a key in a record: size, time, inode.
const keyBytes = 3 * 8

// appendTo writes the key: the fixed part, the length of the path, the path.
func (k key) appendTo(b []byte) []byte {
	b = binary.LittleEndian.AppendUint64(b, uint64(k.size))
	b = binary.LittleEndian.AppendUint64(b, uint64(k.modified))
	b = binary.LittleEndian.AppendUint64(b, k.inode)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(k.path)))
	return append(b, k.path...)
}

// split is the key at the beginning of a record's body, and what stands behind it.
func split(body []byte) (k key, rest []byte, ok bool) {
	if len(body) < keyBytes+4 {
		return key{}, nil, false
	}
	k.size = int64(binary.LittleEndian.Uint64(body))
	k.modified = int64(binary.LittleEndian.Uint64(body[8:]))
	k.inode = binary.LittleEndian.Uint64(body[16:])
	n := int64(binary.LittleEndian.Uint32(body[keyBytes:]))
	rest = body[keyBytes+4:]
	if n == 0 || n > int64(len(rest)) {
		return key{}, nil, false
	}
	k.path = string(rest[:n])
	return k, rest[n:], true
}

// Absolute is the path that a key holds: cleaned and absolute, or only cleaned where
// the working folder cannot be told.
func Absolute(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		return full
	}
	return filepath.Clean(path)
}
