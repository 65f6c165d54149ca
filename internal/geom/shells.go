package geom

// Shells are the connected pieces of the surface, pieces being connected by
// vertices closer than 1e-3 mm, in the order of their first triangle. A mesh of
// one piece is returned as it is.
func (m *Mesh) Shells() []*Mesh {
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
	weld, pts := weld(m.Verts, closeTol)
	d := newDisjoint(len(pts))
	for _, t := range m.Tris {
		d.join(weld[t[0]], weld[t[1]])
		d.join(weld[t[0]], weld[t[2]])
	}
	number := make([]int32, len(pts))
	for i := range number {
		number[i] = -1
	}
	n := int32(0)
	at := make([]int32, len(m.Tris))
	for i, t := range m.Tris {
		root := d.find(weld[t[0]])
		if number[root] < 0 {
			number[root] = n
			n++
		}
		at[i] = number[root]
	}
	return at, int(n)
}

// disjoint is a forest of sets of numbers.
type disjoint []int32

func newDisjoint(n int) disjoint {
	d := make(disjoint, n)
	for i := range d {
		d[i] = int32(i)
	}
	return d
}

func (d disjoint) find(i int32) int32 {
	for d[i] != i {
		d[i] = d[d[i]]
		i = d[i]
	}
	return i
}

// join makes the sets of a and b one; the smaller root stays the root.
func (d disjoint) join(a, b int32) {
	a, b = d.find(a), d.find(b)
	if a < b {
		d[b] = a
	} else {
		d[a] = b
	}
}
