package devices

import (
	"cmp"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// way is how the header tells one export route from another: who wrote the file, how
// the picture is encoded, whether it was compressed with loss or derived, and its size.
type way struct {
	syntax         string
	lossy, derived bool
	writer         *ingest.Writer
	rows, columns  int
}

func wayOf(img *analyse.Image) way {
	kind := img.Image.ImageType
	return way{
		syntax: img.TransferSyntaxUID, lossy: img.Image.Lossy.Compressed == "01", writer: img.Writer,
		derived: len(kind) > 0 && kind[0] == "DERIVED" || len(kind) > 1 && kind[1] == "SECONDARY" || img.Image.Lossy.Derivation != "",
		rows:    img.Image.Rows, columns: img.Image.Columns,
	}
}

// tellRoutes lists the routes in their order and gives each reading its own.
func (d *device) tellRoutes() {
	at := map[way]int{}
	of := map[*analyse.Image]int{}
	for _, img := range d.images {
		w := wayOf(img)
		i, known := at[w]
		if !known {
			i = len(d.Routes)
			at[w] = i
			d.Routes = append(d.Routes, analyse.Route{TransferSyntaxUID: w.syntax, Lossy: w.lossy, Derived: w.derived, Writer: w.writer, Rows: w.rows, Columns: w.columns})
		}
		of[img] = i
		r := &d.Routes[i]
		r.Images++
		if day := dayOf(img); !day.IsZero() {
			if r.First.IsZero() {
				r.First = day
			}
			r.Last = day
		}
	}
	for _, r := range d.readings {
		r.route = of[r.img]
	}
	d.orderRoutes()
}

// size is that of a picture.
type size struct{ rows, columns int }

// orderRoutes gives the routes their numbers: those that are not derived first, then by
// how many scales there are of their size, then of their own.
func (d *device) orderRoutes() {
	bySize, scales := map[size]int{}, map[int]int{}
	for _, r := range d.readings {
		bySize[size{r.rows, r.columns}]++
		scales[r.route]++
	}
	order := make([]int, len(d.Routes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := &d.Routes[i], &d.Routes[j]
		switch {
		case a.Derived && !b.Derived:
			return 1
		case b.Derived && !a.Derived:
			return -1
		}
		return cmp.Or(cmp.Compare(bySize[size{b.Rows, b.Columns}], bySize[size{a.Rows, a.Columns}]), cmp.Compare(scales[j], scales[i]))
	})
	place := make([]int, len(order))
	sorted := make([]analyse.Route, len(order))
	for to, from := range order {
		place[from] = to
		sorted[to] = d.Routes[from]
		sorted[to].Number = to + 1
	}
	d.Routes = sorted
	for _, r := range d.readings {
		r.route = place[r.route]
	}
}
