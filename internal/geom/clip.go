package geom

// Clip is the part of the body with Dist <= 0, closed by a face in the plane,
// which gets a new face number.
func (m *Mesh) Clip(p Plane) *Mesh {
	box := m.Box()
	if box.Empty() {
		return &Mesh{}
	}
	r := box.Size().Norm() + 1
	c := box.Center()
	f := FrameZX(c.Sub(p.N.Mul(p.Dist(c))), p.N, p.N.Perp())
	half := Prism([]Vec2{{-r, -r}, {r, -r}, {r, r}, {-r, r}}, nil, f, Vec{0, 0, -1}, 3*r)
	return Intersect(m, half)
}
