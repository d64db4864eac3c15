package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"golang.org/x/sync/errgroup"

	"leadline/ingest/dcm"
)

// scanned is what the scan of one file read of it.
type scanned struct {
	bytes int64
	// ordinary tells an image whose header is no longer than ordinaryHeader: a
	// longer one cannot be read with fewer bytes than it has.
	ordinary bool
}

const ordinaryHeader = 32 << 10

// pixelDataTag is the tag of the pixel data in a little endian file, which is how
// the tree is written.
var pixelDataTag = []byte{0xE0, 0x7F, 0x10, 0x00}

// scanAll scans every file of a tree and notes the bytes read of each.
func scanAll(dir string) (map[string]scanned, error) {
	all := map[string]scanned{}
	var scanner dcm.Scanner
	err := eachFile(dir, func(path string) error {
		file, err := os.Open(path)
		if err != nil {
			return err
		}
		defer file.Close()
		info, err := file.Stat()
		if err != nil {
			return err
		}
		header, err := scanner.Scan(file, info.Size())
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		beginning := make([]byte, min(ordinaryHeader, info.Size()))
		if _, err := file.ReadAt(beginning, 0); err != nil {
			return err
		}
		all[path] = scanned{bytes: header.BytesRead, ordinary: bytes.Contains(beginning, pixelDataTag)}
		return nil
	})
	return all, err
}

func eachFile(dir string, do func(path string) error) error {
	return filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		return do(path)
	})
}

func countBytes(dir string) error {
	all, err := scanAll(dir)
	if err != nil {
		return err
	}
	var sum, ordinary, largest int64
	for _, s := range all {
		sum += s.bytes
		if s.ordinary {
			ordinary++
			largest = max(largest, s.bytes)
		}
	}
	fmt.Printf("files=%d mean=%.0f ordinary=%d largest=%d\n",
		len(all), float64(sum)/float64(max(len(all), 1)), ordinary, largest)
	return nil
}

// plainRead times listing the tree, opening every file and reading its beginning:
// what no reader of these files can be faster than.
func plainRead(dir string, workers, size int) error {
	var same map[string]scanned
	if size == 0 {
		var err error
		if same, err = scanAll(dir); err != nil {
			return err
		}
		for _, s := range same {
			size = max(size, int(s.bytes))
		}
	}
	clock := startClock()
	var group errgroup.Group
	paths := make(chan string, 1024)
	group.Go(func() error {
		defer close(paths)
		return eachFile(dir, func(path string) error { paths <- path; return nil })
	})
	files := make([]int, workers)
	for w := range workers {
		group.Go(func() error {
			buffer := make([]byte, size)
			for path := range paths {
				want := buffer
				if s, ok := same[path]; ok {
					want = buffer[:s.bytes]
				}
				if err := readBeginning(path, want); err != nil {
					return err
				}
				files[w]++
			}
			return nil
		})
	}
	err := group.Wait()
	used := clock.stop()
	sum := 0
	for _, n := range files {
		sum += n
	}
	fmt.Printf("%s files=%d\n", used, sum)
	return err
}

func readBeginning(path string, into []byte) error {
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = file.ReadAt(into, 0)
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}
