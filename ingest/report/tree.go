package report

import (
	"strconv"

	"leadline/ingest/dcm"
)

// Limits of one tree. The header scan has its own; these also hold for data sets
// that were built otherwise. Real reports hold some thousand items, ten levels deep.
const (
	maxDepth = 64
	maxItems = 250_000
)

// none stands for "no such item".
const none = -1

// node is one content item. Nodes lie in the order of the tree, so the items
// under node i are those from i+1 to end-1.
type node struct {
	item     *dcm.Dataset
	parent   int
	end      int
	ordinal  int // counted from 1 among all children, whatever they are
	depth    int
	relation string
	kind     string // value type, empty for a by-reference item
	children []int
	// target is where a by-reference item leads, none where it leads nowhere;
	// for an item by value it is the item itself.
	target int
	// number is the nearest NUM above, none where there is none.
	number int
}

type tree struct {
	nodes []node
	// cut tells that items were left out because of a limit.
	cut bool
}

// level is a list of children that is being walked.
type level struct {
	items  []dcm.Dataset
	next   int
	parent int
}

// grow lists the content tree of a report once, without recursion: a tree made to
// be deep must not end the program.
func grow(root *dcm.Dataset) *tree {
	t := &tree{}
	t.add(root, none, 1)
	stack := []level{{items: root.Items(dcm.ContentSequence), parent: 0}}
	for len(stack) > 0 {
		top := &stack[len(stack)-1]
		full := len(t.nodes) >= maxItems || len(stack) >= maxDepth
		if top.next == len(top.items) || full {
			t.cut = t.cut || top.next < len(top.items)
			t.nodes[top.parent].end = len(t.nodes)
			stack = stack[:len(stack)-1]
			continue
		}
		item := &top.items[top.next]
		top.next++
		i := t.add(item, top.parent, top.next)
		if below := item.Items(dcm.ContentSequence); len(below) > 0 {
			stack = append(stack, level{items: below, parent: i})
		}
	}
	for i := range t.nodes {
		t.nodes[i].target = t.find(i)
	}
	return t
}

// add appends a node whose end is settled for as long as it has no children.
func (t *tree) add(item *dcm.Dataset, parent, ordinal int) int {
	i := len(t.nodes)
	n := node{
		item: item, parent: parent, end: i + 1, ordinal: ordinal, number: none,
		relation: item.String(dcm.RelationshipType), kind: item.String(dcm.ValueType),
	}
	if parent != none {
		up := &t.nodes[parent]
		up.children = append(up.children, i)
		n.depth, n.number = up.depth+1, up.number
		if up.kind == typeNumber {
			n.number = parent
		}
	}
	t.nodes = append(t.nodes, n)
	return i
}

// find follows a by-reference item: a path of ordinals from the root, which is 1
// (PS3.3 C.17-6). An item cannot refer to itself, to an item above, or to another
// by-reference item: such a reference leads nowhere.
func (t *tree) find(i int) int {
	n := &t.nodes[i]
	if n.kind != "" || !n.item.Has(dcm.ReferencedContentItemIdentifier) {
		return i
	}
	path := n.item.Floats(dcm.ReferencedContentItemIdentifier)
	if len(path) == 0 || path[0] != 1 {
		return none
	}
	at := 0
	for _, ordinal := range path[1:] {
		children := t.nodes[at].children
		if !(ordinal >= 1 && ordinal <= float64(len(children))) {
			return none
		}
		at = children[int(ordinal)-1]
	}
	above := at <= i && i < t.nodes[at].end
	if above || t.nodes[at].kind == "" {
		return none
	}
	return at
}

// path writes the place of node i as ordinals from the root.
func (t *tree) path(i int) string {
	var reversed [maxDepth + 1]int
	n := 0
	for ; i != none; i = t.nodes[i].parent {
		reversed[n] = t.nodes[i].ordinal
		n++
	}
	b := make([]byte, 0, 2*n)
	for n--; n >= 0; n-- {
		b = strconv.AppendInt(b, int64(reversed[n]), 10)
		if n > 0 {
			b = append(b, '.')
		}
	}
	return string(b)
}

// container is the nearest container above node i, none above the root.
func (t *tree) container(i int) int {
	for i = t.nodes[i].parent; i != none && t.nodes[i].kind != typeContainer; {
		i = t.nodes[i].parent
	}
	return i
}

func (t *tree) concept(i int) dcm.Code {
	return t.nodes[i].item.Code(dcm.ConceptNameCodeSequence)
}
