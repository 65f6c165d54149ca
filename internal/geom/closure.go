package geom

import (
	"cmp"
	"fmt"
	"slices"
)

// Closure tells whether a mesh encloses a volume.
type Closure struct {
	OK        bool
	Why       string // what is open; empty when OK
	OpenEdges int    // directed edges without an opposite one
}

// closeTol is how near, in mm, vertices of one place in a body must be.
const closeTol = 1e-3

// Closed checks that every directed edge has its opposite after welding at
// 1e-3 mm. An edge may be covered by several shorter ones on the same line, as
// cutting leaves them. Volume and orientation are not looked at.
func (m *Mesh) Closed() Closure {
	if len(m.Tris) == 0 {
		return Closure{Why: "it has no triangles"}
	}
	for i, v := range m.Verts {
		if !v.Finite() {
			return Closure{Why: fmt.Sprintf("vertex %d is not finite", i)}
		}
	}
	if m.joined() {
		return Closure{OK: true}
	}
	w := m.Weld(closeTol)
	if len(w.Tris) == 0 {
		return Closure{Why: "it has no triangle with an area"}
	}
	open := w.open()
	if n := len(open); n > 0 {
		a, b := w.Verts[open[0][0]], w.Verts[open[0][1]]
		why := fmt.Sprintf("%d edges have no neighbour, one at (%.3f %.3f %.3f) to (%.3f %.3f %.3f)", n, a.X, a.Y, a.Z, b.X, b.Y, b.Z)
		return Closure{Why: why, OpenEdges: n}
	}
	return Closure{OK: true}
}

// openEdges are the directed edges left when each is paired with an opposite.
func openEdges(m *Mesh) [][2]int32 {
	surplus := make(map[[2]int32]int, len(m.Tris)*3/2)
	for _, t := range m.Tris {
		for k := range t {
			e := [2]int32{t[k], t[(k+1)%3]}
			surplus[ordered(e[0], e[1])] += direction(e)
		}
	}
	var open [][2]int32
	for e, n := range surplus {
		for ; n > 0; n-- {
			open = append(open, e)
		}
		for ; n < 0; n++ {
			open = append(open, [2]int32{e[1], e[0]})
		}
	}
	slices.SortFunc(open, func(e, f [2]int32) int { return cmp.Or(cmp.Compare(e[0], f[0]), cmp.Compare(e[1], f[1])) })
	return open
}

// uncovered splits open edges at the open vertices that lie on them and is the
// pieces that have no opposite.
func uncovered(verts []Vec, open [][2]int32) [][2]int32 {
	s := newSharer(verts, endsOf(open, len(verts)), closeTol)
	var pieces [][2]int32
	var way []int32
	for _, e := range open {
		way = append(s.on(append(way[:0], e[0]), e[0], e[1]), e[1])
		for i := 1; i < len(way); i++ {
			pieces = append(pieces, [2]int32{way[i-1], way[i]})
		}
	}
	surplus := make(map[[2]int32]int, len(pieces)) // of the direction from the smaller number
	for _, e := range pieces {
		surplus[ordered(e[0], e[1])] += direction(e)
	}
	var left [][2]int32
	for _, e := range pieces {
		key := ordered(e[0], e[1])
		if d := direction(e); surplus[key]*d > 0 {
			surplus[key] -= d
			left = append(left, e)
		}
	}
	return left
}

// direction is 1 for an edge from the smaller number to the larger, else -1.
func direction(e [2]int32) int {
	if e[0] < e[1] {
		return 1
	}
	return -1
}

// endsOf is the vertices, below n, at which edges end, each once.
func endsOf(edges [][2]int32, n int) []int32 {
	seen := make([]bool, n)
	var out []int32
	for _, e := range edges {
		for _, v := range e {
			if !seen[v] {
				seen[v] = true
				out = append(out, v)
			}
		}
	}
	return out
}
