package geom

import "math"

// Clip is the part of the body with Dist <= 0, closed by a face in the plane,
// which gets a new face number; m itself when that is all of it.
func (m *Mesh) Clip(p Plane) *Mesh {
	box := m.Box()
	if box.Empty() {
		return &Mesh{}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range m.corners() {
		d := p.Dist(v)
		lo, hi = min(lo, d), max(hi, d)
	}
	switch {
	case !(lo < 0):
		return &Mesh{}
	case hi <= 0:
		return m
	}
	r := box.Size().Norm() + 1
	c := box.Center()
	f := FrameZX(c.Sub(p.N.Mul(p.Dist(c))), p.N, p.N.Perp())
	half := Prism([]Vec2{{-r, -r}, {r, -r}, {r, r}, {-r, r}}, nil, f, Vec{0, 0, -1}, 3*r)
	return Intersect(m, half)
}
