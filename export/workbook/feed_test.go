package workbook

import (
	"errors"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"
)

// fed gives a feed n rows of one number each, the height of row tall being too much,
// and returns the error it was first told and what the sheet holds.
func fed(t *testing.T, n, tall int) ([][]string, error) {
	t.Helper()
	file := excelize.NewFile()
	defer file.Close()
	stream, err := file.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	f := newFeed(stream, 1, 1)
	for i := range n {
		cells, values := f.row()
		cells[0] = excelize.Cell{Value: i}
		values[0] = &cells[0]
		height := 0.0
		if i == tall {
			height = excelize.MaxRowHeight + 1
		}
		if err := f.done(height); err != nil {
			return nil, errors.Join(err, f.end())
		}
	}
	if err := f.end(); err != nil {
		return nil, err
	}
	if err := f.end(); err != nil {
		t.Errorf("ended twice: %v", err)
	}
	if err := stream.Flush(); err != nil {
		t.Fatal(err)
	}
	rows, err := file.GetRows("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	return rows, nil
}

// TestFeed: every row arrives once and in order, whether batches are full or not.
func TestFeed(t *testing.T) {
	for _, n := range []int{0, 1, batchRows - 1, batchRows, batchRows + 1, 10*batchRows + 7} {
		rows, err := fed(t, n, -1)
		if err != nil || len(rows) != n {
			t.Fatalf("%d rows given, %d there, %v", n, len(rows), err)
		}
		for i, row := range rows {
			if want := strconv.Itoa(i); len(row) != 1 || row[0] != want {
				t.Fatalf("row %d holds %q, want %s", i+1, row, want)
			}
		}
	}
}

// TestFeedFails: an error of excelize is told, wherever in a batch it comes, and
// nobody waits for ever.
func TestFeedFails(t *testing.T) {
	for _, tall := range []int{0, batchRows - 1, 5 * batchRows, 20*batchRows - 1} {
		if _, err := fed(t, 20*batchRows, tall); !errors.Is(err, excelize.ErrMaxRowHeight) {
			t.Errorf("row %d too tall: %v", tall, err)
		}
	}
}
