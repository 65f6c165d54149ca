package geom

// Append is both meshes side by side as one; where they overlap they count
// twice. Face numbers of o follow those of m.
func (m *Mesh) Append(o *Mesh) *Mesh {
	r := &Mesh{
		Verts: append(append(make([]Vec, 0, len(m.Verts)+len(o.Verts)), m.Verts...), o.Verts...),
		Tris:  append(make([][3]int32, 0, len(m.Tris)+len(o.Tris)), m.Tris...),
	}
	shift := int32(len(m.Verts))
	for _, t := range o.Tris {
		r.Tris = append(r.Tris, [3]int32{t[0] + shift, t[1] + shift, t[2] + shift})
	}
	if m.Face == nil || o.Face == nil {
		return r
	}
	next := int32(0)
	for _, f := range m.Face {
		next = max(next, f+1)
	}
	r.Face = append(make([]int32, 0, len(r.Tris)), m.Face...)
	for _, f := range o.Face {
		r.Face = append(r.Face, f+next)
	}
	return r
}
