package report

import "fmt"

// link ties graphics to numbers and answers the graphics of each number by its
// node. This is the one place of the rule, in the order it is tried:
//
//  1. LinkOwn: an SCOORD under the number (PS3.16 TID 300 row 13, TID 320), by
//     whatever relationship and at whatever depth, unless another number stands
//     between; or one that the number refers to (PS3.3 C.17-6), even under another
//     number. Several points that share purpose and images are the vertices of
//     one path (TID 1400 rows 5-7).
//  2. LinkGroup: a number without a graphic of its own takes the graphic that is a
//     child of its own container and belongs to no number. TID 1410 knows exactly
//     one such region, and its numbers all describe it; where several stand there,
//     nothing tells which is meant and none is taken.
//  3. LinkContainer: for a number still without, climb from container to container.
//     The first under which exactly one such number and exactly one graphic that
//     belongs to no number are found ties the two; more than one of either ends
//     the climb. Real reports keep the calculation and the annotation in
//     containers of their own under one for the finding. The root ties only where
//     the whole document holds one number and one graphic.
//
// The root is no group: a title is not what a number belongs to. Numbers that
// qualify another item have their own graphics, which are tied, and take no others.
func (r *reader) link() map[int][]Graphic {
	l := &linker{reader: r, graphics: map[int][]Graphic{}, tiedPoints: maxPoints}
	for i := range r.nodes {
		if r.nodes[i].kind == typeNumber {
			l.own(i)
		}
	}
	l.groups()
	l.containers()
	return l.graphics
}

type linker struct {
	*reader
	graphics map[int][]Graphic
	// tiedPoints is how many points numbers may still have: many numbers may share
	// one graphic, and each is rebuilt by itself.
	tiedPoints int
	// bare are the numbers without a graphic so far, in the order of the tree.
	bare []int
}

// own ties what belongs to number i itself.
func (l *linker) own(i int) {
	var list []*shape
	seen := map[*shape]bool{}
	for k := i + 1; k < l.nodes[i].end; {
		if l.nodes[k].kind == typeNumber {
			k = l.nodes[k].end
			continue
		}
		if s := l.shapeAt(k); s != nil && !seen[s] {
			seen[s] = true
			s.tied = true
			list = append(list, s)
		}
		k++
	}
	if len(list) == 0 {
		if !qualifies(l.nodes[i].relation) {
			l.bare = append(l.bare, i)
		}
		return
	}
	for _, s := range join(list) {
		l.tie(i, s, LinkOwn)
	}
}

// shapeAt is the graphic at item k, or the one it refers to. What a graphic
// refers to says where it lies, not another graphic of the number.
func (l *linker) shapeAt(k int) *shape {
	at := l.nodes[k].target
	if at == none {
		return nil
	}
	if up := l.nodes[k].parent; at != k && l.nodes[up].kind != typeNumber {
		return nil
	}
	return l.shapes[at]
}

func (l *linker) tie(i int, s *shape, link Link) {
	s.tied = true
	if !s.ok {
		return
	}
	if l.tiedPoints -= len(s.graphic.Points); l.tiedPoints < 0 {
		l.problem(i, fmt.Sprintf("at most %d points in the graphics of all numbers; this number has none", maxPoints))
		return
	}
	g := s.graphic
	g.Link = link
	l.graphics[i] = append(l.graphics[i], g)
}

// groups ties bare numbers to the region of their own container.
func (l *linker) groups() {
	regions := map[int]*shape{}
	var rest []int
	for _, i := range l.bare {
		group := l.container(i)
		s, known := regions[group]
		if !known && group > 0 {
			s = l.region(group)
			regions[group] = s
		}
		if s == nil {
			rest = append(rest, i)
			continue
		}
		l.tie(i, s, LinkGroup)
	}
	l.bare = rest
}

// region is the only untied graphic among the children of a group.
func (l *linker) region(group int) *shape {
	var found *shape
	for _, c := range l.nodes[group].children {
		s := l.shapes[c]
		if s == nil || s.tied || s == found {
			continue
		}
		if found != nil {
			l.problem(group, "one graphic for the numbers of a group; which of several is meant is not said")
			return nil
		}
		found = s
	}
	return found
}

// containers ties a bare number and a free graphic that are alone in a container.
func (l *linker) containers() {
	numbers, shapes := make([]int, len(l.nodes)), make([]int, len(l.nodes))
	for _, i := range l.bare {
		numbers[i] = 1
	}
	for i, s := range l.shapes {
		if s.first == i && !s.tied {
			shapes[i] = 1
		}
	}
	for i := len(l.nodes) - 1; i > 0; i-- {
		numbers[l.nodes[i].parent] += numbers[i]
		shapes[l.nodes[i].parent] += shapes[i]
	}
	alone := l.oneOfEach()
	for _, i := range l.bare {
		c := l.container(i)
		for c != none && shapes[c] == 0 && numbers[c] == 1 {
			c = l.container(c)
		}
		if c == none || shapes[c] != 1 || numbers[c] != 1 || c == 0 && !alone {
			continue
		}
		l.tie(i, l.free(c), LinkContainer)
	}
}

// free finds the one untied graphic under container c.
func (l *linker) free(c int) *shape {
	for k := c + 1; k < l.nodes[c].end; k++ {
		if s := l.shapes[k]; s != nil && !s.tied {
			return s
		}
	}
	return &shape{}
}

// oneOfEach tells that the whole document holds one number and one graphic.
func (l *linker) oneOfEach() bool {
	numbers, shapes := 0, 0
	for i := range l.nodes {
		if l.nodes[i].kind == typeNumber && !qualifies(l.nodes[i].relation) {
			numbers++
		}
		if s := l.shapes[i]; s != nil && s.first == i {
			shapes++
		}
	}
	return numbers == 1 && shapes == 1
}
