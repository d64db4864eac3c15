package ingest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkLoad reads the demo archive's files over and over, as if the month had
// 2,000 files, with one and two workers. Copies share their identity, so it reads
// headers and compares none.
func BenchmarkLoad(b *testing.B) {
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
	const copies = 2000
	for i := range copies {
		from, err := filepath.Abs(files[i%len(files)])
		if err != nil {
			b.Fatal(err)
		}
		if err := os.Symlink(from, fmt.Sprintf("%s/%05d", dir, i)); err != nil {
			b.Fatal(err)
		}
	}
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			for b.Loop() {
				l := &loader{opts: Options{Workers: workers}, pool: newPool()}
				if err := l.readAll(context.Background(), []string{dir}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(copies)*float64(b.N)/b.Elapsed().Seconds(), "files/s")
		})
	}
}
