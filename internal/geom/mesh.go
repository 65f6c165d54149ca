package geom

// Mesh is a body bounded by triangles, counter-clockwise seen from outside.
// Face, when not nil, numbers for each triangle the face of the original body
// that it was cut from: triangles of one planar face share a number, and so do
// those of one curved surface. Outlines are drawn where the number changes.
//
// A Mesh is never changed once it is shared.
type Mesh struct {
	Verts []Vec
	Tris  [][3]int32
	Face  []int32
}

// Box is the box around the vertices.
func (m *Mesh) Box() Box { return BoxOf(m.Verts...) }

// Tri is triangle i as three points.
func (m *Mesh) Tri(i int) (a, b, c Vec) {
	t := m.Tris[i]
	return m.Verts[t[0]], m.Verts[t[1]], m.Verts[t[2]]
}

// Transform is the mesh moved by t. A mirroring t flips the triangles, so that
// they still run counter-clockwise.
func (m *Mesh) Transform(t Affine) *Mesh {
	r := &Mesh{Verts: make([]Vec, len(m.Verts)), Tris: m.Tris, Face: m.Face}
	for i, v := range m.Verts {
		r.Verts[i] = t.Apply(v)
	}
	if t.Det() < 0 {
		r.Tris = make([][3]int32, len(m.Tris))
		for i, tr := range m.Tris {
			r.Tris[i] = [3]int32{tr[0], tr[2], tr[1]}
		}
	}
	return r
}
