package geom

import "math"

// Tree finds the triangles of a mesh near a place or a line.
type Tree struct {
	m    *Mesh
	tree *BoxTree
}

// Tree is the index of the mesh's triangles, built when first asked for. It
// leaves out triangles with a coordinate that is not finite.
func (m *Mesh) Tree() *Tree {
	m.treeOnce.Do(func() {
		boxes := make([]Box, len(m.Tris))
		for i := range boxes {
			a, b, c := m.Tri(i)
			boxes[i] = BoxOf(a, b, c)
			if !a.Finite() || !b.Finite() || !c.Finite() {
				boxes[i] = EmptyBox
			}
		}
		m.tree = &Tree{m, NewBoxTree(boxes)}
	})
	return m.tree
}

// fewTris is the number of triangles up to which all of them are looked at: an
// index takes more memory than the mesh, and most bodies of a model are boxes
// and prisms that few questions come near to. With 48 instead of 300 a yard of
// panels took a third more memory and as much time.
const fewTris = 300

func (m *Mesh) triBox(i int) Box {
	a, b, c := m.Tri(i)
	return Box{a, a}.Add(b).Add(c)
}

// finite reports whether all corners of a triangle are.
func (m *Mesh) finite(i int) bool {
	a, b, c := m.Tri(i)
	return a.Finite() && b.Finite() && c.Finite()
}

// line calls visit with each box that the line o+t*d may meet; d has unit length.
func (t *BoxTree) line(o, d Vec, visit func(i int)) {
	lt := newLineTest(o, d)
	for n := 0; n < len(t.nodes); {
		node := &t.nodes[n]
		if !lt.meets(node.box) {
			n = int(node.skip)
			continue
		}
		for _, i := range t.items[node.first : node.first+node.count] {
			if lt.meets(t.boxes[i]) {
				visit(int(i))
			}
		}
		n++
	}
}

// lineTest tells whether a line may meet a box: their shadows along the three
// directions at right angles to the line and one axis overlap. No division, so
// that lines along an axis are no special case.
type lineTest struct {
	o, d, abs Vec
	slack     float64
}

func newLineTest(o, d Vec) lineTest {
	abs := Vec{math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)}
	return lineTest{o, d, abs, 1e-9 + 1e-12*(math.Abs(o.X)+math.Abs(o.Y)+math.Abs(o.Z))}
}

func (l *lineTest) meets(b Box) bool {
	cx, cy, cz := (b.Min.X+b.Max.X)/2-l.o.X, (b.Min.Y+b.Max.Y)/2-l.o.Y, (b.Min.Z+b.Max.Z)/2-l.o.Z
	hx, hy, hz := (b.Max.X-b.Min.X)/2, (b.Max.Y-b.Min.Y)/2, (b.Max.Z-b.Min.Z)/2
	return math.Abs(cy*l.d.Z-cz*l.d.Y) <= hy*l.abs.Z+hz*l.abs.Y+l.slack &&
		math.Abs(cz*l.d.X-cx*l.d.Z) <= hz*l.abs.X+hx*l.abs.Z+l.slack &&
		math.Abs(cx*l.d.Y-cy*l.d.X) <= hx*l.abs.Y+hy*l.abs.X+l.slack
}
