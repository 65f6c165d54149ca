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
	return m.moments().volume
}

// Centroid is the centre of gravity of the volume; of an empty or flat mesh, the
// middle of its box.
func (m *Mesh) Centroid() Vec {
	s := m.moments()
	if c := s.centre(); s.volume != 0 && c.Finite() {
		return c
	}
	return s.o
}

// moments are those of the surface about the middle of the box.
func (m *Mesh) moments() moments {
	s := moments{o: m.Box().Center()}
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		s.add([]Vec{a, b, c}, 1)
	}
	return s
}

// moments sums volume and first moment about o over pieces of a closed surface.
type moments struct {
	o      Vec
	volume float64
	first  Vec
}

// add adds sign times the tetrahedra between o and a flat piece of surface.
func (s *moments) add(poly []Vec, sign float64) {
	for k := 2; k < len(poly); k++ {
		a, b, c := poly[0].Sub(s.o), poly[k-1].Sub(s.o), poly[k].Sub(s.o)
		v := sign * a.Cross(b).Dot(c) / 6
		s.volume += v
		s.first = s.first.Add(a.Add(b).Add(c).Mul(v / 4))
	}
}

// centre is the centre of gravity of what was added; not finite without a volume.
func (s *moments) centre() Vec { return s.o.Add(s.first.Mul(1 / s.volume)) }
