package sample_test

import (
	"context"
	"testing"

	"leadline/export"
	"leadline/export/csvfile"
	"leadline/export/deid"
	"leadline/export/internal/sample"
	"leadline/export/workbook"
)

func TestTry(t *testing.T) {
	for _, id := range deid.Identities {
		b := export.NewBook(sample.Result(), export.Options{Identity: id, Key: []byte("k"), Version: "dev"})
		if err := csvfile.WriteDir(context.Background(), "/tmp/ltry/"+string(id), b.Tables, true); err != nil {
			t.Fatal(err)
		}
		if err := workbook.Write(context.Background(), "/tmp/ltry/"+string(id)+".xlsx", b, true); err != nil {
			t.Fatal(err)
		}
	}
}
