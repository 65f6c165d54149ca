package geom

// Shells are the connected pieces of the surface, pieces being connected by
// vertices closer than 1e-3 mm, in the order of their first triangle. A mesh of
// one piece, or of none, is returned as it is.
func (m *Mesh) Shells() []*Mesh {
	m.shellsOnce.Do(func() { m.shells = m.split() })
	return m.shells
}

func (m *Mesh) split() []*Mesh {
	at, n := m.shellOf()
	if n <= 1 {
		return []*Mesh{m}
	}
	out := make([]*Mesh, n)
	local := make([]int32, len(m.Verts))
	owner := make([]int32, len(m.Verts))
	for i := range owner {
		owner[i] = -1
	}
	for i := range out {
		out[i] = &Mesh{}
	}
	for i, t := range m.Tris {
		s := out[at[i]]
		for k, v := range t {
			if owner[v] != at[i] {
				owner[v], local[v] = at[i], int32(len(s.Verts))
				s.Verts = append(s.Verts, m.Verts[v])
			}
			t[k] = local[v]
		}
		s.Tris = append(s.Tris, t)
		if m.Face != nil {
			s.Face = append(s.Face, m.Face[i])
		}
	}
	return out
}

// shellOf is the number of each triangle's shell, and the count of shells.
func (m *Mesh) shellOf() ([]int32, int) {
	at, pts := weld(m.Verts, closeTol)
	tris := make([][3]int32, len(m.Tris))
	for i, t := range m.Tris {
		tris[i] = [3]int32{at[t[0]], at[t[1]], at[t[2]]}
	}
	return components(len(pts), tris)
}

// components numbers the connected pieces of triangles over vertices below n, in
// the order of their first triangle, and is their count too.
func components(n int, tris [][3]int32) ([]int32, int) {
	d := NewDisjoint(n)
	for _, t := range tris {
		d.Join(t[0], t[1])
		d.Join(t[0], t[2])
	}
	number := make([]int32, n)
	for i := range number {
		number[i] = -1
	}
	count := int32(0)
	at := make([]int32, len(tris))
	for i, t := range tris {
		root := d.Find(t[0])
		if number[root] < 0 {
			number[root] = count
			count++
		}
		at[i] = number[root]
	}
	return at, int(count)
}
