package protocol

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"

	"leadline/ingest/terms"
)

//go:embed builtin/*.yaml
var builtin embed.FS

// maxBytes is the size of a protocol file at most; the built-in ones have some
// ten thousand bytes.
const maxBytes = 1 << 20

// Builtins are the names of the built-in protocols, sorted.
func Builtins() []string {
	files, err := builtin.ReadDir("builtin")
	if err != nil {
		panic("reading the embedded protocols: " + err.Error())
	}
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = strings.TrimSuffix(f.Name(), ".yaml")
	}
	return names
}

// Defaults are the built-in protocols that an audit uses where none is named. The
// others are asked for by name: several of them would be held against the same
// study, and which one a unit follows (6, 10 or 12 zones, a first or a functional
// heart study) is not written in files.
func Defaults() []string { return []string{"newborn-heart-function"} }

// Source is the text of a built-in protocol, remarks included, to be printed,
// copied and changed.
func Source(name string) ([]byte, error) {
	data, err := builtin.ReadFile(path.Join("builtin", name+".yaml"))
	if err != nil {
		return nil, &FileError{
			File: name, Expected: "a built-in protocol: " + strings.Join(Builtins(), ", "),
			Found: "no such name", Nearest: terms.Nearest(name, Builtins()),
		}
	}
	return data, nil
}

// Load reads a built-in protocol by name, or else a file. Everything wrong with
// it is in the error, each as a *FileError, joined.
func Load(nameOrFile string) (*Protocol, error) {
	data, err := dataOf(nameOrFile)
	if err != nil {
		return nil, err
	}
	return Parse(nameOrFile, data)
}

func dataOf(nameOrFile string) ([]byte, error) {
	if data, err := Source(nameOrFile); err == nil {
		return data, nil
	}
	return readFile(nameOrFile)
}

func readFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &FileError{
			File: name, Expected: "a file, or a built-in protocol: " + strings.Join(Builtins(), ", "),
			Found: "neither", Nearest: terms.Nearest(name, Builtins()),
		}
	}
	return contents(name, info, err, aProtocol)
}

// contents are the bytes of a regular file, at most one more than it may have; info
// and err are what os.Stat said of it, what is what it should be.
func contents(name string, info fs.FileInfo, err error, what string) ([]byte, error) {
	if err == nil && !info.Mode().IsRegular() {
		return nil, &FileError{File: name, Expected: "a file", Found: "a folder or a device"}
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", what, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", what, err)
	}
	return data, nil
}
