package geom

// stitched is the mesh with every side shared: vertices closer than 1e-3 mm are
// one, and triangles are divided where the corner of another lies on their side.
// of is the number in m of each triangle, nil when w is m itself.
func (m *Mesh) stitched() (w *Mesh, of []int32) {
	if m.joined() {
		return m, nil
	}
	w, of = m.weld(closeTol)
	open := w.lonelySides()
	if len(open) == 0 {
		return w, of
	}
	s := stitcher{w, newSharer(w.Verts, endsOf(open, len(w.Verts)), closeTol), &Mesh{Verts: w.Verts}, nil}
	for t := range w.Tris {
		s.divide(int32(t))
	}
	for i, t := range s.of {
		s.of[i] = of[t]
	}
	return s.out, s.of
}

// lonelySides is the sides of triangles that have no neighbour.
func (m *Mesh) lonelySides() [][2]int32 {
	var out [][2]int32
	for t, sides := range m.sides() {
		for k, o := range sides {
			a, b := m.Tris[t][k], m.Tris[t][(k+1)%3]
			if o == noSide && m.Verts[a].Finite() && m.Verts[b].Finite() {
				out = append(out, [2]int32{a, b})
			}
		}
	}
	return out
}

type stitcher struct {
	*Mesh
	sharer *sharer
	out    *Mesh
	of     []int32
}

// divide adds a triangle, divided at the points on its lonely sides.
func (s *stitcher) divide(t int32) {
	var ring []int32
	v := s.Tris[t]
	for k, o := range s.sides()[t] {
		ring = append(ring, v[k])
		if o == noSide {
			ring = s.sharer.on(ring, v[k], v[(k+1)%3])
		}
	}
	if len(ring) == 3 {
		s.add(t, v)
		return
	}
	pts := make([]Vec, len(ring))
	for i, r := range ring {
		pts[i] = s.Verts[r]
	}
	for _, x := range TriangulateLoop3(pts, nil) {
		s.add(t, [3]int32{ring[x[0]], ring[x[1]], ring[x[2]]})
	}
}

func (s *stitcher) add(t int32, v [3]int32) {
	s.out.Tris = append(s.out.Tris, v)
	s.of = append(s.of, t)
	if s.Face != nil {
		s.out.Face = append(s.out.Face, s.Face[t])
	}
}
