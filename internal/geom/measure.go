package geom

// Area is the area of the surface in mm2.
func (m *Mesh) Area() float64 {
	var sum float64
	for i := range m.Tris {
		sum += m.normal2(i).Norm()
	}
	return sum / 2
}

// Volume is the volume inside a closed mesh in mm3, negative when the triangles
// run the wrong way round. Sums are taken from the middle of the box, so that a
// far origin costs no digits.
func (m *Mesh) Volume() float64 {
	v, _ := m.moments()
	return v
}

// Centroid is the centre of gravity of the volume; of an empty or flat mesh, the
// middle of its box.
func (m *Mesh) Centroid() Vec {
	v, first := m.moments()
	o := m.Box().Center()
	if c := first.Mul(1 / v); v != 0 && c.Finite() {
		return o.Add(c)
	}
	return o
}

// moments are the volume and the first moment about the middle of the box.
func (m *Mesh) moments() (volume float64, first Vec) {
	o := m.Box().Center()
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		v := a.Cross(b).Dot(c) / 6
		volume += v
		first = first.Add(a.Add(b).Add(c).Mul(v / 4))
	}
	return volume, first
}
