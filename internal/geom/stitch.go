package geom

// stitched is the mesh with every side shared: vertices closer than 1e-3 mm are
// one, and triangles are divided where the corner of another lies on their side.
// of is the number in m of each triangle, nil when w is m itself.
func (m *Mesh) stitched() (w *Mesh, of []int32) {
	if m.joined() {
		return m, nil
	}
	w, of = m.weld(closeTol)
	adj := w.sides()
	var ends []int32
	seen := make([]bool, len(w.Verts))
	for t, v := range w.Tris {
		for k := range v {
			if adj[t][k] != noSide {
				continue
			}
			for _, e := range [2]int32{v[k], v[(k+1)%3]} {
				if !seen[e] && w.Verts[e].Finite() {
					seen[e] = true
					ends = append(ends, e)
				}
			}
		}
	}
	if len(ends) == 0 {
		return w, of
	}
	s := newSharer(w.Verts, ends, closeTol)
	out, from := &Mesh{Verts: w.Verts}, []int32(nil)
	add := func(t int, v [3]int32) {
		out.Tris = append(out.Tris, v)
		from = append(from, of[t])
		if w.Face != nil {
			out.Face = append(out.Face, w.Face[t])
		}
	}
	for t, v := range w.Tris {
		var ring []int32
		for k := range v {
			ring = append(ring, v[k])
			if adj[t][k] == noSide {
				ring = s.on(ring, v[k], v[(k+1)%3])
			}
		}
		if len(ring) == 3 {
			add(t, v)
			continue
		}
		pts := make([]Vec, len(ring))
		for i, r := range ring {
			pts[i] = w.Verts[r]
		}
		for _, x := range TriangulateLoop3(pts, nil) {
			add(t, [3]int32{ring[x[0]], ring[x[1]], ring[x[2]]})
		}
	}
	return out, from
}
