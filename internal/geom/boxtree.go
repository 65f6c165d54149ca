package geom

import "math"

// BoxTree finds the boxes that meet a given one. It is packed into one slice in
// the order of a walk, each node knowing where to go on when its box is missed,
// so that a query needs neither pointers nor a stack. It does not change after
// NewBoxTree and may be shared.
type BoxTree struct {
	nodes []boxNode
	items []int32 // leaves hold consecutive runs of these
	boxes []Box
}

type boxNode struct {
	box   Box
	skip  int32 // the node to go on with when this one is missed
	first int32 // of items, in a leaf
	count int32 // 0 in an inner node
}

const leafSize = 4

// NewBoxTree takes the boxes, which it keeps. Empty boxes and those with a
// coordinate that is no number are never found.
func NewBoxTree(boxes []Box) *BoxTree {
	t := &BoxTree{boxes: boxes, items: make([]int32, 0, len(boxes))}
	for i, b := range boxes {
		if !b.Empty() {
			t.items = append(t.items, int32(i))
		}
	}
	if len(t.items) == 0 {
		return t
	}
	t.nodes = make([]boxNode, 0, 2*(len(t.items)/leafSize+1))
	b := treeBuilder{t, make([]Vec, len(boxes))}
	for _, i := range t.items {
		b.centers[i] = finiteCenter(boxes[i])
	}
	b.build(0, len(t.items))
	return t
}

func finiteCenter(b Box) Vec {
	c := b.Center()
	for _, x := range []*float64{&c.X, &c.Y, &c.Z} {
		if math.IsNaN(*x) || math.IsInf(*x, 0) {
			*x = 0
		}
	}
	return c
}

type treeBuilder struct {
	*BoxTree
	centers []Vec
}

// build appends the node for items[from:to] and all below it.
func (b treeBuilder) build(from, to int) {
	box, mid := EmptyBox, EmptyBox
	for _, i := range b.items[from:to] {
		box, mid = box.Union(b.boxes[i]), mid.Add(b.centers[i])
	}
	n := len(b.nodes)
	b.nodes = append(b.nodes, boxNode{box: box})
	if to-from <= leafSize {
		b.nodes[n].first, b.nodes[n].count = int32(from), int32(to-from)
	} else {
		half := (from + to) / 2
		b.selectNth(from, to, half, longestAxis(mid.Size()))
		b.build(from, half)
		b.build(half, to)
	}
	b.nodes[n].skip = int32(len(b.nodes))
}

func longestAxis(s Vec) int {
	switch {
	case s.X >= s.Y && s.X >= s.Z:
		return 0
	case s.Y >= s.Z:
		return 1
	}
	return 2
}

func (a Vec) axis(i int) float64 {
	switch i {
	case 0:
		return a.X
	case 1:
		return a.Y
	}
	return a.Z
}

// selectNth orders items[from:to] so far that those before nth have centres not
// greater, along the axis, than those from nth on.
func (b treeBuilder) selectNth(from, to, nth, axis int) {
	key := func(i int) float64 { return b.centers[b.items[i]].axis(axis) }
	for to-from > 1 {
		lo, hi := from, to-1
		pivot := median3(key(from), key((from+to)/2), key(to-1))
		for lo <= hi {
			for key(lo) < pivot {
				lo++
			}
			for key(hi) > pivot {
				hi--
			}
			if lo <= hi {
				b.items[lo], b.items[hi] = b.items[hi], b.items[lo]
				lo++
				hi--
			}
		}
		switch {
		case nth <= hi:
			to = hi + 1
		case nth >= lo:
			from = lo
		default:
			return
		}
	}
}

func median3(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }

// Query calls visit with the number of each box that meets b, touching
// included, until visit returns false. The order depends on the boxes only.
func (t *BoxTree) Query(b Box, visit func(i int) bool) {
	for n := 0; n < len(t.nodes); {
		node := &t.nodes[n]
		if !node.box.Overlaps(b) {
			n = int(node.skip)
			continue
		}
		for _, i := range t.items[node.first : node.first+node.count] {
			if t.boxes[i].Overlaps(b) && !visit(int(i)) {
				return
			}
		}
		n++
	}
}
