package geom

import "math"

// hull is a convex body bounded by flat faces.
type hull struct {
	verts   []Vec
	normals []Vec // of the faces, unit
	edges   []hullEdge
}

// hullEdge is an edge between two faces.
type hullEdge struct {
	a, b   Vec
	n1, n2 Vec // of the faces
}

func (h *hull) support(d Vec) Vec {
	best, at := math.Inf(-1), Vec{}
	for _, v := range h.verts {
		if x := v.Dot(d); x > best {
			best, at = x, v
		}
	}
	return at
}

const (
	// convexTol is how far, in mm, a corner may stick out of a face's plane in a
	// body that counts as convex.
	convexTol = 1e-3
	// hullLimit is the number of triangles above which a body is not tried for
	// convexity: the test looks at each face and corner.
	hullLimit = 4000
)

// hull is the mesh as a convex body, nil when it is not convex, not closed or not
// of one piece.
func (m *Mesh) hull() *hull {
	m.hullOnce.Do(func() { m.asHull = newHull(m) })
	return m.asHull
}

func newHull(m *Mesh) *hull {
	if len(m.Tris) == 0 || len(m.Tris) > hullLimit {
		return nil
	}
	w, _ := m.stitched()
	if _, n := components(len(w.Verts), w.Tris); n != 1 || !w.joined() || !(w.Volume() > 0) {
		return nil
	}
	faces, of, adj := flats(w.Verts, w.Tris, nil, closeTol, flatCos)
	h := &hull{verts: w.corners()}
	for i := range faces {
		p := faces[i].plane
		if p.N == (Vec{}) {
			continue
		}
		h.normals = append(h.normals, p.N)
		for _, v := range h.verts {
			if p.Dist(v) > convexTol {
				return nil
			}
		}
	}
	for t := range w.Tris {
		for k, s := range adj[t] {
			f, g := of[t], of[s/3]
			if f < g && faces[f].plane.N != (Vec{}) && faces[g].plane.N != (Vec{}) {
				a, b := w.Verts[w.Tris[t][k]], w.Verts[w.Tris[t][(k+1)%3]]
				h.edges = append(h.edges, hullEdge{a, b, faces[f].plane.N, faces[g].plane.N})
			}
		}
	}
	return h
}

// corners is the vertices that triangles use.
func (m *Mesh) corners() []Vec {
	used := make([]bool, len(m.Verts))
	var out []Vec
	for _, t := range m.Tris {
		for _, v := range t {
			if !used[v] {
				used[v] = true
				out = append(out, m.Verts[v])
			}
		}
	}
	return out
}

// escapeHulls is the shortest way out of an overlap of two convex bodies with
// flat faces, exactly. The difference of the bodies has faces of three kinds:
// faces of a, faces of b, and one for each pair of edges whose faces' normals,
// seen as arcs on a ball, cross (Gregorius, The separating axis test between
// convex polyhedra, 2013). The way out is square to one of them.
func escapeHulls(a, b *hull) escape {
	s := newEscapeSearch(a, b)
	for _, n := range a.normals {
		s.tryOne(n)
	}
	for _, n := range b.normals {
		s.tryOne(n.Neg())
	}
	for i := range a.edges {
		e := &a.edges[i]
		d := e.b.Sub(e.a)
		for k := range b.edges {
			f := &b.edges[k]
			if !arcsCross(e.n1, e.n2, f.n1.Neg(), f.n2.Neg()) {
				continue
			}
			n := d.Cross(f.b.Sub(f.a)).Unit()
			if n.Dot(e.n1.Add(e.n2)) < 0 {
				n = n.Neg()
			}
			if g := f.a.Sub(e.a).Dot(n); n != (Vec{}) && g > s.best().gap {
				s.tryOne(n)
			}
		}
	}
	return s.best()
}

// arcsCross reports whether the arcs a-b and c-d on the unit ball cross, or may
// do so by rounding.
func arcsCross(a, b, c, d Vec) bool {
	const slack = 1e-9
	ab, cd := b.Cross(a), d.Cross(c)
	cba, dba := c.Dot(ab), d.Dot(ab)
	adc, bdc := a.Dot(cd), b.Dot(cd)
	return cba*dba <= slack && adc*bdc <= slack && cba*bdc >= -slack
}
