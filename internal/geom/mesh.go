package geom

import "sync"

// Mesh is a body bounded by triangles, counter-clockwise seen from outside.
// Face, when not nil, numbers for each triangle the face of the original body
// that it was cut from: triangles of one planar face share a number, and so do
// those of one curved surface. Outlines are drawn where the number changes.
//
// A Mesh is never changed once it is shared: what is derived from it is kept.
type Mesh struct {
	Verts []Vec
	Tris  [][3]int32
	Face  []int32

	treeOnce, hullOnce, shellsOnce, linksOnce, boundsOnce sync.Once

	bounds Box
	wild   bool // some vertex is not finite; known once bounds is
	tree   *Tree
	asHull *hull
	shells []*Mesh
	links  *links
}

// links is which triangles of a mesh are neighbours. Meshes that differ by a move
// share it.
type links struct {
	once sync.Once
	adj  [][3]int32
}

// Box is the box around the vertices.
func (m *Mesh) Box() Box {
	if b := m.within(); !m.wild {
		return b
	}
	return BoxOf(m.Verts...)
}

// within is the box around the vertices that are finite, kept: for questions
// about many places.
func (m *Mesh) within() Box {
	m.boundsOnce.Do(m.bound)
	return m.bounds
}

func (m *Mesh) bound() {
	m.bounds = EmptyBox
	for _, v := range m.Verts {
		if v.Finite() {
			m.bounds = m.bounds.Add(v)
		} else {
			m.wild = true
		}
	}
}

// Tri is triangle i as three points.
func (m *Mesh) Tri(i int) (a, b, c Vec) {
	t := m.Tris[i]
	return m.Verts[t[0]], m.Verts[t[1]], m.Verts[t[2]]
}

// FaceOf is the number of the face that triangle i belongs to, -1 when faces are
// not numbered.
func (m *Mesh) FaceOf(i int) int32 {
	if m.Face == nil {
		return -1
	}
	return m.Face[i]
}

// normal2 is the normal of triangle i with the length of twice its area.
func (m *Mesh) normal2(i int) Vec {
	a, b, c := m.Tri(i)
	return b.Sub(a).Cross(c.Sub(a))
}

// Transform is the mesh moved by t. A mirroring t flips the triangles, so that
// they still run counter-clockwise.
func (m *Mesh) Transform(t Affine) *Mesh {
	r := &Mesh{Verts: make([]Vec, len(m.Verts)), Tris: m.Tris, Face: m.Face}
	for i, v := range m.Verts {
		r.Verts[i] = t.Apply(v)
	}
	if t.Det() < 0 {
		r.Tris = flipped(m.Tris)
	} else {
		r.links = m.linked()
	}
	return r
}

// linked is where the neighbours are kept, before they are worked out.
func (m *Mesh) linked() *links {
	m.linksOnce.Do(func() {
		if m.links == nil {
			m.links = &links{}
		}
	})
	return m.links
}

// sides is the adjacency of the mesh by its vertex numbers, kept.
func (m *Mesh) sides() [][3]int32 {
	l := m.linked()
	l.once.Do(func() { l.adj = adjacency(len(m.Verts), m.Tris) })
	return l.adj
}

func flipped(tris [][3]int32) [][3]int32 {
	out := make([][3]int32, len(tris))
	for i, t := range tris {
		out[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}
