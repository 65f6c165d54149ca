package geom

import "slices"

// fill makes triangles of the outlines.
func (r *result) fill() {
	type key struct {
		label
		plane int32
	}
	byKey := map[key][][]int32{}
	var order []key
	for _, l := range r.loops {
		if len(l.ids) < 3 {
			continue
		}
		k := key{l.label, l.plane}
		if byKey[k] == nil {
			order = append(order, k)
		}
		byKey[k] = append(byKey[k], l.ids)
	}
	for _, k := range order {
		frame := r.planes[k.plane].plane.Frame()
		for _, p := range nest(byKey[k], func(v int32) Vec2 {
			q := frame.Local(r.pool.pts[v])
			return Vec2{q.X, q.Y}
		}) {
			r.fillOne(p, k.label)
		}
	}
}

// nest finds the outer loops, which run counter-clockwise, and the holes in each.
func nest[T any](loops [][]T, at func(T) Vec2) []nestedOf[T] {
	var out []nestedOf[T]
	flat := make([][]Vec2, len(loops))
	for i, l := range loops {
		flat[i] = make([]Vec2, len(l))
		for k, v := range l {
			flat[i][k] = at(v)
		}
		if a := loopArea(flat[i]); a > 0 {
			out = append(out, nestedOf[T]{outer: l, area: a, Polygon: Polygon{Outer: flat[i]}})
		}
	}
	for i, l := range loops {
		if loopArea(flat[i]) > 0 {
			continue
		}
		best := -1
		for k := range out {
			if (best < 0 || out[k].area < out[best].area) && holeIn(flat[i], out[k].Outer) {
				best = k
			}
		}
		if best >= 0 {
			out[best].holes = append(out[best].holes, l)
			out[best].Holes = append(out[best].Holes, flat[i])
		}
	}
	return out
}

// nestedOf is an outline with its holes, as given and as points.
type nestedOf[T any] struct {
	outer []T
	holes [][]T
	Polygon
	area float64
}

// holeIn reports whether a hole lies in the outer loop. They may touch in
// points, so the middle of a side is looked at; where that is on the outline by
// rounding, the other sides decide.
func holeIn(hole, outer []Vec2) bool {
	in, tries := 0, min(len(hole), 5)
	for i := range tries {
		k := i * len(hole) / tries
		if loopContains(outer, hole[k].Add(hole[(k+1)%len(hole)]).Mul(0.5)) {
			in++
		}
	}
	return 2*in > tries
}

func (r *result) fillOne(p nestedOf[int32], l label) {
	ids := slices.Clone(p.outer)
	for _, h := range p.holes {
		ids = append(ids, h...)
	}
	for _, t := range Triangulate(p.Outer, p.Holes) {
		v := [3]int32{ids[t[0]], ids[t[1]], ids[t[2]]}
		if l.side < 0 {
			v[1], v[2] = v[2], v[1]
		}
		r.tris = append(r.tris, v)
		r.faces = append(r.faces, l.number)
	}
}

// mesh is the result with its own vertices, back at its place, and the number of
// sides that have no neighbour.
func (r *result) mesh() (*Mesh, int) {
	for _, q := range r.quiet {
		v := r.soup.tris[q.tri]
		if q.side < 0 {
			v[1], v[2] = v[2], v[1]
		}
		r.tris = append(r.tris, v)
		r.faces = append(r.faces, r.number[q.tri])
	}
	m := &Mesh{Tris: make([][3]int32, 0, len(r.tris)), Face: r.faces}
	at := make([]int32, len(r.pool.pts))
	for _, t := range r.tris {
		for k, v := range t {
			if at[v] == 0 {
				m.Verts = append(m.Verts, r.pool.pts[v].Add(r.origin))
				at[v] = int32(len(m.Verts))
			}
			t[k] = at[v] - 1
		}
		m.Tris = append(m.Tris, t)
	}
	if m.joined() {
		return m, 0
	}
	m, _ = m.stitched()
	return m, len(m.lonelySides())
}

// open is the sides of a mesh without a neighbour, where several short sides
// that cover a long one count as its neighbour.
func (m *Mesh) open() [][2]int32 {
	open := openEdges(m)
	if len(open) > 0 {
		open = uncovered(m.Verts, open)
	}
	return open
}
