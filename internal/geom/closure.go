package geom

import (
	"fmt"
	"sort"
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
	count := make(map[[2]int32]int, len(m.Tris)*3/2)
	for _, t := range m.Tris {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			if a < b {
				count[[2]int32{a, b}]++
			} else {
				count[[2]int32{b, a}]--
			}
		}
	}
	var open [][2]int32
	for e, n := range count {
		for ; n > 0; n-- {
			open = append(open, e)
		}
		for ; n < 0; n++ {
			open = append(open, [2]int32{e[1], e[0]})
		}
	}
	sort.Slice(open, func(i, j int) bool {
		return open[i][0] < open[j][0] || open[i][0] == open[j][0] && open[i][1] < open[j][1]
	})
	return open
}

// uncovered splits open edges at the open vertices that lie on them and pairs
// the pieces.
func uncovered(verts []Vec, open [][2]int32) [][2]int32 {
	pieces := splitEdges(verts, open, closeTol)
	count := make(map[[2]int32]int, len(pieces))
	for _, e := range pieces {
		if e[0] < e[1] {
			count[e]++
		} else {
			count[[2]int32{e[1], e[0]}]--
		}
	}
	var left [][2]int32
	for _, e := range pieces {
		n := count[e]
		key := e
		if e[0] > e[1] {
			key = [2]int32{e[1], e[0]}
			n = -count[key]
		}
		if n > 0 {
			left = append(left, e)
			if e[0] < e[1] {
				count[key]--
			} else {
				count[key]++
			}
		}
	}
	return left
}

// splitEdges cuts each edge at the ends of others that lie on it within tol.
func splitEdges(verts []Vec, edges [][2]int32, tol float64) [][2]int32 {
	ends := make([]int32, 0, 2*len(edges))
	seen := make(map[int32]bool, 2*len(edges))
	for _, e := range edges {
		for _, v := range e {
			if !seen[v] {
				seen[v] = true
				ends = append(ends, v)
			}
		}
	}
	boxes := make([]Box, len(ends))
	for i, v := range ends {
		boxes[i] = Box{verts[v], verts[v]}
	}
	tree := NewBoxTree(boxes)
	var out [][2]int32
	type cut struct {
		t float64
		v int32
	}
	var cuts []cut
	for _, e := range edges {
		a, b := verts[e[0]], verts[e[1]]
		d := b.Sub(a)
		cuts = cuts[:0]
		tree.Query(BoxOf(a, b).Grow(tol), func(i int) bool {
			v := ends[i]
			if v == e[0] || v == e[1] {
				return true
			}
			t := verts[v].Sub(a).Dot(d) / d.Norm2()
			if t > 0 && t < 1 && verts[v].Dist(a.Lerp(b, t)) < tol {
				cuts = append(cuts, cut{t, v})
			}
			return true
		})
		sort.Slice(cuts, func(i, j int) bool { return cuts[i].t < cuts[j].t || cuts[i].t == cuts[j].t && cuts[i].v < cuts[j].v })
		from := e[0]
		for _, c := range cuts {
			out = append(out, [2]int32{from, c.v})
			from = c.v
		}
		out = append(out, [2]int32{from, e[1]})
	}
	return out
}
