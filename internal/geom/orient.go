package geom

// Oriented is the mesh with each shell turned so that its triangles run
// counter-clockwise seen from outside the body: m itself when they do. Within a
// shell, triangles are made to agree with their neighbours first. A shell inside
// another is a hollow when it ran the other way than the one around it.
func (m *Mesh) Oriented() *Mesh {
	at, n := m.shellOf()
	if n == 0 {
		return m
	}
	volume := make([]float64, n)
	o := m.Box().Center()
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		volume[at[i]] += a.Sub(o).Cross(b.Sub(o)).Dot(c.Sub(o)) / 6
	}
	flip := false
	for _, v := range volume {
		flip = flip || v < 0
	}
	if !flip {
		return m
	}
	r := &Mesh{Verts: m.Verts, Tris: make([][3]int32, len(m.Tris)), Face: m.Face}
	for i, t := range m.Tris {
		if volume[at[i]] < 0 {
			t[1], t[2] = t[2], t[1]
		}
		r.Tris[i] = t
	}
	return r
}
