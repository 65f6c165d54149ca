package geom

import (
	"math"
	"slices"
)

// flatCos is the cosine of the turn between triangles of one flat face, 1 degree.
const flatCos = 0.99985

// PlanarFace is a piece of a mesh's surface that is flat and connected.
type PlanarFace struct {
	Plane   Plane   // N looks out of the body
	Outline [][]Vec // outer loop first, counter-clockwise seen from outside, then holes, clockwise; no points on straight sides
	Area    float64 // mm2
	Tris    []int32
}

// PlanarFaces groups the triangles into faces, each as large as it can be:
// corners keep within 1e-3 mm of its plane. The largest triangle's face is first.
// Triangles without area are left out.
func (m *Mesh) PlanarFaces() []PlanarFace {
	w, of := m.stitched()
	faces, _, adj := flats(w.Verts, w.Tris, nil, closeTol, flatCos)
	out := make([]PlanarFace, 0, len(faces))
	for _, f := range faces {
		if f.plane.N == (Vec{}) {
			continue
		}
		p := PlanarFace{Plane: f.plane, Area: f.area, Outline: w.outline(f, adj), Tris: f.tris}
		if of != nil {
			p.Tris = make([]int32, len(f.tris))
			for i, t := range f.tris {
				p.Tris[i] = of[t]
			}
			p.Tris = slices.Compact(p.Tris)
		}
		out = append(out, p)
	}
	return out
}

// outline is the loops around a flat face.
func (m *Mesh) outline(f flat, adj [][3]int32) [][]Vec {
	in := make(map[int32]bool, len(f.tris))
	for _, t := range f.tris {
		in[t] = true
	}
	c := newChainer()
	for _, t := range f.tris {
		v := m.Tris[t]
		for k := range v {
			if s := adj[t][k]; s == noSide || !in[s/3] {
				c.add(v[k], v[(k+1)%3])
			}
		}
	}
	frame := f.plane.Frame()
	at := func(v int32) Vec2 {
		q := frame.Local(m.Verts[v])
		return Vec2{q.X, q.Y}
	}
	loops := c.loops(at)
	for i, l := range loops {
		loops[i] = dropStraight(l, at, closeTol)
	}
	var out [][]Vec
	for _, p := range nest(loops, at) {
		for _, l := range append([][]int32{p.outer}, p.holes...) {
			if len(l) < 3 {
				continue
			}
			pts := make([]Vec, len(l))
			for i, v := range l {
				pts[i] = m.Verts[v]
			}
			out = append(out, pts)
		}
	}
	return out
}

// FeatureEdges are the edges between different planar faces, for drawings: each
// once, and as long as it is straight.
func (m *Mesh) FeatureEdges() [][2]Vec {
	edges, _ := m.EdgesAndFaces()
	return edges
}

// EdgesAndFaces is FeatureEdges, and PlanarFaces without their outlines, for the
// price of one.
func (m *Mesh) EdgesAndFaces() ([][2]Vec, []PlanarFace) {
	w, _ := m.stitched()
	faces, of, adj := flats(w.Verts, w.Tris, nil, closeTol, flatCos)
	return w.edges(of, adj), bare(faces)
}

// LargestFace is the area of the largest planar face, mm2.
func (m *Mesh) LargestFace() float64 {
	w, _ := m.stitched()
	faces, _, _ := flats(w.Verts, w.Tris, nil, closeTol, flatCos)
	most := 0.0
	for _, f := range bare(faces) {
		most = max(most, f.Area)
	}
	return most
}

// bare is faces without outlines, those without area left out.
func bare(faces []flat) []PlanarFace {
	out := make([]PlanarFace, 0, len(faces))
	for _, f := range faces {
		if f.plane.N != (Vec{}) {
			out = append(out, PlanarFace{Plane: f.plane, Area: f.area})
		}
	}
	return out
}

// edges are the straight edges between triangles of different faces.
func (m *Mesh) edges(of []int32, adj [][3]int32) [][2]Vec {
	var edges [][2]int32
	for t, v := range m.Tris {
		for k := range v {
			s := adj[t][k]
			if s == noSide || int(s/3) > t && of[t] != of[s/3] {
				edges = append(edges, [2]int32{v[k], v[(k+1)%3]})
			}
		}
	}
	out := make([][2]Vec, 0, len(edges))
	for _, e := range mergeStraight(m.Verts, edges, closeTol) {
		out = append(out, [2]Vec{m.Verts[e[0]], m.Verts[e[1]]})
	}
	return out
}

// mergeStraight joins edges that go on straight at a point where no other edge
// ends. Edges keep the place in the order of their first part.
func mergeStraight(pts []Vec, edges [][2]int32, tol float64) [][2]int32 {
	s := straightener{pts: pts, tol2: tol * tol, of: map[int32]*ends{}}
	for _, e := range edges {
		s.join(e[0], e[1], true)
	}
	w := walker{edges: edges, at: map[int32][]int32{}, done: make([]bool, len(edges))}
	for i, e := range edges {
		for _, v := range e {
			if w.at[v] != nil || s.remove(v) {
				w.at[v] = append(w.at[v], int32(i))
			}
		}
	}
	for i, e := range edges { // edges seen before their point was taken out
		for _, v := range e {
			if on := w.at[v]; on != nil && on[0] != int32(i) && on[len(on)-1] != int32(i) {
				w.at[v] = append(on, int32(i))
			}
		}
	}
	var out [][2]int32
	for i, e := range edges {
		if w.done[i] {
			continue
		}
		w.done[i] = true
		if a, b := w.far(int32(i), e[0]), w.far(int32(i), e[1]); a != b {
			out = append(out, [2]int32{a, b})
		}
	}
	return out
}

// walker goes along edges.
type walker struct {
	edges [][2]int32
	at    map[int32][]int32 // the two edges at each point to be passed
	done  []bool
}

// far goes on from edge i through v to a point that is not to be passed.
func (w *walker) far(i, v int32) int32 {
	for w.at[v] != nil {
		next := w.at[v][0]
		if next == i {
			next = w.at[v][len(w.at[v])-1]
		}
		if w.done[next] {
			break
		}
		w.done[next] = true
		i = next
		if e := w.edges[i]; e[0] == v {
			v = e[1]
		} else {
			v = e[0]
		}
	}
	return v
}

// chainer makes loops of directed sides with the inside to their left.
type chainer struct {
	order []int32
	next  map[int32][]int32
}

func newChainer() *chainer { return &chainer{next: map[int32][]int32{}} }

func (c *chainer) add(a, b int32) {
	if len(c.next[a]) == 0 {
		c.order = append(c.order, a)
	}
	c.next[a] = append(c.next[a], b)
}

// loops is the loops, closed ones only: what does not come back to its start is
// dropped. Where several sides go on, the one is taken that keeps to the inside.
func (c *chainer) loops(at func(int32) Vec2) [][]int32 {
	var out [][]int32
	for _, start := range c.order {
		for len(c.next[start]) > 0 {
			loop := []int32{start}
			v := c.take(start, 0)
			for v != start {
				on := c.next[v]
				if len(on) == 0 {
					break
				}
				k := 0
				if len(on) > 1 {
					k = tightest(at(loop[len(loop)-1]), at(v), on, at)
				}
				loop = append(loop, v)
				v = c.take(v, k)
			}
			if v == start {
				out = append(out, loop)
			}
		}
	}
	return out
}

func (c *chainer) take(v int32, k int) int32 {
	on := c.next[v]
	to := on[k]
	c.next[v] = slices.Delete(on, k, k+1)
	return to
}

// tightest is the way on from v, coming from u, that is met first when turning
// clockwise from the way back.
func tightest(u, v Vec2, on []int32, at func(int32) Vec2) int {
	back := u.Sub(v)
	best, k := math.Inf(1), 0
	for i, w := range on {
		d := at(w).Sub(v)
		turn := math.Atan2(-back.Cross(d), back.Dot(d))
		if turn <= 0 {
			turn += 2 * math.Pi
		}
		if turn < best {
			best, k = turn, i
		}
	}
	return k
}

// dropStraight leaves out points that lie within tol of the line between their
// neighbours, and repeated ones; nil when less than a triangle is left.
func dropStraight[T any](loop []T, at func(T) Vec2, tol float64) []T {
	loop = slices.Clone(loop)
	for i, idle := 0, 0; len(loop) > 2 && idle < len(loop); {
		n := len(loop)
		i %= n
		p, q, r := at(loop[(i+n-1)%n]), at(loop[i]), at(loop[(i+1)%n])
		if NearestOnSegment2(q, p, r).Dist(q) <= tol {
			loop = slices.Delete(loop, i, i+1)
			i, idle = i+len(loop)-1, 0 // the one before may be on a straight side now
		} else {
			i, idle = i+1, idle+1
		}
	}
	if len(loop) < 3 {
		return nil
	}
	return loop
}
