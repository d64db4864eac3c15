package workbook

import "github.com/xuri/excelize/v2"

// batch is some rows of a sheet on their way to excelize. The cells stand one row
// behind the other; values point at them, nil where a cell is left out: a year has a
// hundred million, and excelize takes them by pointer as well.
type batch struct {
	cells  []excelize.Cell
	values []any
	// heights are those of the rows in points, 0 for that of the sheet.
	heights []float64
}

// batchRows is where a batch is handed on; batches is how many there are of a sheet.
const (
	batchRows = 128
	batches   = 3
)

// feed hands the rows of one sheet to excelize, which writes some while the next ones
// are made.
type feed struct {
	stream *excelize.StreamWriter
	width  int
	// next is the row of the sheet that the next batch begins with.
	next        int
	full, empty chan *batch
	// failed holds the first error; ended is closed when no more is written.
	failed chan error
	ended  chan struct{}
	// filling is the batch at hand, nil once the feed was ended.
	filling *batch
}

// newFeed begins with the row first, from 1.
func newFeed(stream *excelize.StreamWriter, width, first int) *feed {
	f := &feed{
		stream: stream, width: width, next: first,
		full: make(chan *batch, batches), empty: make(chan *batch, batches),
		failed: make(chan error, 1), ended: make(chan struct{}),
	}
	for range batches {
		f.empty <- &batch{cells: make([]excelize.Cell, batchRows*width), values: make([]any, batchRows*width)}
	}
	f.filling = <-f.empty
	go f.run()
	return f
}

// row returns the room for the cells of the next row, and for what points at them.
func (f *feed) row() ([]excelize.Cell, []any) {
	from := len(f.filling.heights) * f.width
	return f.filling.cells[from : from+f.width], f.filling.values[from : from+f.width]
}

// done takes the row whose room was filled.
func (f *feed) done(height float64) error {
	f.filling.heights = append(f.filling.heights, height)
	if len(f.filling.heights) < batchRows {
		return nil
	}
	f.full <- f.filling
	f.filling = <-f.empty
	return f.err()
}

// end waits until everything is written. To end twice does nothing.
func (f *feed) end() error {
	if f.filling == nil {
		return nil
	}
	f.full <- f.filling
	close(f.full)
	f.filling = nil
	<-f.ended
	return f.err()
}

func (f *feed) err() error {
	select {
	case err := <-f.failed:
		return err
	default:
		return nil
	}
}

// run writes what comes. After an error it takes on what comes and drops it, so that
// whoever fills batches never waits for one.
func (f *feed) run() {
	defer close(f.ended)
	broken := false
	for b := range f.full {
		if !broken {
			if err := f.write(b); err != nil {
				broken = true
				f.failed <- err
			}
		}
		b.heights = b.heights[:0]
		f.empty <- b
	}
}

func (f *feed) write(b *batch) error {
	for i, height := range b.heights {
		name, values := cellName(1, f.next), b.values[i*f.width:(i+1)*f.width]
		f.next++
		var err error
		if height == 0 {
			err = f.stream.SetRow(name, values)
		} else {
			err = f.stream.SetRow(name, values, excelize.RowOpts{Height: height})
		}
		if err != nil {
			return err
		}
	}
	return nil
}
