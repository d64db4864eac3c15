package ingest

import (
	"archive/zip"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkLoadZip reads one large ZIP archive: deflated members are shared between
// the workers, stored ones are read in place.
func BenchmarkLoadZip(b *testing.B) {
	const members, pixels = 500, 300_000
	for _, method := range []uint16{zip.Deflate, zip.Store} {
		path := filepath.Join(b.TempDir(), "export.zip")
		f, err := os.Create(path)
		if err != nil {
			b.Fatal(err)
		}
		z := zip.NewWriter(f)
		for i := range members {
			w, err := z.CreateHeader(&zip.FileHeader{Name: fmt.Sprintf("IM%05d", i), Method: method})
			if err == nil {
				_, err = w.Write(noise(picture(i), pixels))
			}
			if err != nil {
				b.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			b.Fatal(err)
		}
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("method=%d/workers=%d", method, workers), func(b *testing.B) {
				for b.Loop() {
					if _, err := Load(context.Background(), []string{path}, Options{Workers: workers}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.N*members)/b.Elapsed().Seconds(), "files/s")
			})
		}
	}
}
