package ruler

// mark is a small piece of a picture that is brighter than a level: bounds in pixels,
// the last included, its middle row weighted by brightness, and its mass, which is the
// brightness above what surrounds it summed over its pixels.
type mark struct {
	x0, y0, x1, y1 int
	row, mass      float64
}

func (m *mark) width() float64  { return float64(m.x1 - m.x0 + 1) }
func (m *mark) height() float64 { return float64(m.y1 - m.y0 + 1) }

// run is a stretch of bright pixels in a row.
type run struct{ x0, x1, of int }

// piece is the bounds of connected runs; a piece that was joined to another leads to it.
type piece struct {
	x0, y0, x1, y1 int
	joined         int
}

// marks cuts out the connected pieces (of eight neighbours) that are brighter than a
// level and small enough for a tick.
func (p *Picture) marks(level byte) []mark {
	var pieces []piece
	var above, here []run
	for y := range p.Rows {
		here = runsOf(p.Grey[y*p.Columns:(y+1)*p.Columns], level, here[:0])
		pieces = connect(pieces, above, here, y)
		above, here = here, above
	}
	widest := max(minWidth, p.Columns/widthShare)
	var marks []mark
	for i := range pieces {
		c := &pieces[i]
		if c.joined != i || c.x1-c.x0 >= widest || c.y1-c.y0 >= maxHeight {
			continue
		}
		m := mark{x0: c.x0, y0: c.y0, x1: c.x1, y1: c.y1}
		p.weigh(&m)
		marks = append(marks, m)
	}
	return marks
}

func runsOf(row []byte, level byte, out []run) []run {
	for x := 0; x < len(row); x++ {
		if row[x] <= level {
			continue
		}
		from := x
		for x < len(row) && row[x] > level {
			x++
		}
		out = append(out, run{x0: from, x1: x - 1})
	}
	return out
}

// connect gives every run of a row the piece of the runs above that it touches.
func connect(pieces []piece, above, here []run, y int) []piece {
	first := 0
	for i := range here {
		r := &here[i]
		r.of = -1
		for first < len(above) && above[first].x1+1 < r.x0 {
			first++
		}
		for k := first; k < len(above) && above[k].x0 <= r.x1+1; k++ {
			of := root(pieces, above[k].of)
			if r.of < 0 {
				r.of = of
			} else if of != r.of {
				join(pieces, r.of, of)
			}
		}
		if r.of < 0 {
			r.of = len(pieces)
			pieces = append(pieces, piece{x0: r.x0, y0: y, x1: r.x1, y1: y, joined: r.of})
			continue
		}
		c := &pieces[r.of]
		c.x0, c.x1, c.y1 = min(c.x0, r.x0), max(c.x1, r.x1), y
	}
	return pieces
}

func root(pieces []piece, i int) int {
	for pieces[i].joined != i {
		pieces[i].joined = pieces[pieces[i].joined].joined
		i = pieces[i].joined
	}
	return i
}

func join(pieces []piece, to, from int) {
	a, b := &pieces[to], &pieces[from]
	a.x0, a.y0, a.x1, a.y1 = min(a.x0, b.x0), min(a.y0, b.y0), max(a.x1, b.x1), max(a.y1, b.y1)
	b.joined = to
}

// around is how many rows above and below a mark its brightness may spread to.
const around = 2

// weigh finds the middle row and the mass of a mark over its surroundings, which are
// the rows beyond its spread.
func (p *Picture) weigh(m *mark) {
	top, bottom := max(m.y0-around, 0), min(m.y1+around, p.Rows-1)
	ground := max(p.mean(m, top-1), p.mean(m, bottom+1))
	sum, moment := 0.0, 0.0
	for y := top; y <= bottom; y++ {
		v := max(p.mean(m, y)-ground, 0) * m.width()
		sum += v
		moment += v * (float64(y) + 0.5)
	}
	m.mass, m.row = sum, float64(m.y0+m.y1+1)/2
	if sum > 0 {
		m.row = moment / sum
	}
}

// mean is the mean brightness of a row below or above a mark, 0 outside the picture.
func (p *Picture) mean(m *mark, y int) float64 {
	if y < 0 || y >= p.Rows {
		return 0
	}
	sum := 0
	for _, v := range p.Grey[y*p.Columns+m.x0 : y*p.Columns+m.x1+1] {
		sum += int(v)
	}
	return float64(sum) / m.width()
}

// whole tells that a mark does not grow to far larger where it is cut out at half the
// level: it is no part of a letter.
func (p *Picture) whole(m *mark, level byte) bool {
	const reach = clearance
	width, height := m.x1-m.x0+1+2*reach, m.y1-m.y0+1+2*reach
	seen := make([]bool, width*height)
	var next []int
	visit := func(x, y int) {
		at := y*width + x
		px, py := m.x0-reach+x, m.y0-reach+y
		if x < 0 || y < 0 || x >= width || y >= height || px < 0 || py < 0 || px >= p.Columns || py >= p.Rows ||
			seen[at] || p.Grey[py*p.Columns+px] <= level/2 {
			return
		}
		seen[at] = true
		next = append(next, at)
	}
	for y := reach; y < height-reach; y++ {
		for x := reach; x < width-reach; x++ {
			visit(x, y)
		}
	}
	for len(next) > 0 {
		x, y := next[len(next)-1]%width, next[len(next)-1]/width
		next = next[:len(next)-1]
		if x == 0 || y == 0 || x == width-1 || y == height-1 {
			return false
		}
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				visit(x+dx, y+dy)
			}
		}
	}
	return true
}

// darkGaps counts the gaps between neighbouring ticks, and those of them that are dark.
func (p *Picture) darkGaps(ticks []tick) (dark, gaps int) {
	for i := 1; i < len(ticks); i++ {
		above, below := ticks[i-1], ticks[i]
		if below.n != above.n+1 {
			continue
		}
		gaps++
		peak, between := 0.0, 0.0
		for y := above.y0; y < below.y0-around; y++ {
			if v := p.mean(above.mark, y); y <= above.y1 {
				peak = max(peak, v)
			} else if y > above.y1+around {
				between = max(between, v)
			}
		}
		if between < darkShare*peak {
			dark++
		}
	}
	return dark, gaps
}

// alone tells that nothing brighter than a level stands beside a mark.
func (p *Picture) alone(m *mark, level byte) bool {
	for y := m.y0; y <= m.y1; y++ {
		row := p.Grey[y*p.Columns : (y+1)*p.Columns]
		for d := 2; d < 2+clearance; d++ {
			if x := m.x0 - d; x >= 0 && row[x] > level {
				return false
			}
			if x := m.x1 + d; x < p.Columns && row[x] > level {
				return false
			}
		}
	}
	return true
}
