package ingest

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"leadline/ingest/cache"
)

// BenchmarkLoad reads the demo archive's files over and over, as if the month had
// 2,000 files, with one and two workers. Copies share their identity, so it reads
// headers and compares none.
func BenchmarkLoad(b *testing.B) {
	dir := benchmarkTree(b)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			for b.Loop() {
				l := &loader{opts: Options{Workers: workers}, pool: newPool()}
				if err := l.walkAndRead(context.Background(), []string{dir}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(benchmarkFiles)*float64(b.N)/b.Elapsed().Seconds(), "files/s")
		})
	}
}

// BenchmarkCache reads the same files without a cache, with an empty one and with a
// full one, by one worker.
func BenchmarkCache(b *testing.B) {
	dir := benchmarkTree(b)
	read := func(b *testing.B, c *cache.Cache) {
		l := &loader{opts: Options{Workers: 1, Cache: c}, pool: newPool()}
		if err := l.walkAndRead(context.Background(), []string{dir}); err != nil {
			b.Fatal(err)
		}
	}
	run := func(b *testing.B, old []byte, out io.Writer) {
		c, ignored := cache.Open(bytes.NewReader(old), int64(len(old)), "program", out)
		if ignored != nil {
			b.Fatal(ignored)
		}
		read(b, c)
		if _, err := c.Finish([]string{dir}, true); err != nil {
			b.Fatal(err)
		}
	}
	var full bytes.Buffer
	run(b, nil, &full)
	for _, c := range []struct {
		name string
		once func(*testing.B)
	}{
		{"none", func(b *testing.B) { read(b, nil) }},
		{"empty", func(b *testing.B) { run(b, nil, io.Discard) }},
		{"full", func(b *testing.B) { run(b, full.Bytes(), io.Discard) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				c.once(b)
			}
			b.ReportMetric(float64(benchmarkFiles)*float64(b.N)/b.Elapsed().Seconds(), "files/s")
		})
	}
}

// benchmarkFiles is how many files the tree of a benchmark has.
const benchmarkFiles = 2000

// benchmarkTree is a folder of links to the files of the demo archive, over and over.
func benchmarkTree(b *testing.B) string {
	b.Helper()
	var files []string
	err := filepath.WalkDir("../testdata/demo", func(path string, d os.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			files = append(files, path)
		}
		return err
	})
	if err != nil || len(files) == 0 {
		b.Skipf("no demo archive: %v", err)
	}
	dir := b.TempDir()
	for i := range benchmarkFiles {
		from, err := filepath.Abs(files[i%len(files)])
		if err != nil {
			b.Fatal(err)
		}
		if err := os.Symlink(from, fmt.Sprintf("%s/%05d", dir, i)); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}
