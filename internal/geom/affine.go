package geom

// Affine maps p to X*p.X + Y*p.Y + Z*p.Z + T: a placement, a mapped item's
// scaling or mirroring, or a chain of them.
type Affine struct{ X, Y, Z, T Vec }

// Identity leaves every point where it is.
var Identity = Affine{Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}, Vec{}}

// FrameZX is the right-handed rigid frame at o whose z axis is z and whose
// x axis is the part of x at a right angle to z. A zero z means +Z; an x that
// is zero or parallel to z is replaced, first by +X, then by +Y.
func FrameZX(o, z, x Vec) Affine {
	z = z.Unit()
	if z == (Vec{}) {
		z = Vec{0, 0, 1}
	}
	for _, c := range []Vec{x.Unit(), {1, 0, 0}, {0, 1, 0}} {
		if p := c.Sub(z.Mul(c.Dot(z))); p.Norm() > 1e-9 {
			x = p.Unit()
			break
		}
	}
	return Affine{x, z.Cross(x), z, o}
}

// Apply maps a point.
func (m Affine) Apply(p Vec) Vec {
	return Vec{
		m.X.X*p.X + m.Y.X*p.Y + m.Z.X*p.Z + m.T.X,
		m.X.Y*p.X + m.Y.Y*p.Y + m.Z.Y*p.Z + m.T.Y,
		m.X.Z*p.X + m.Y.Z*p.Y + m.Z.Z*p.Z + m.T.Z,
	}
}

// Turn maps a direction: Apply without the shift.
func (m Affine) Turn(d Vec) Vec {
	return Vec{
		m.X.X*d.X + m.Y.X*d.Y + m.Z.X*d.Z,
		m.X.Y*d.X + m.Y.Y*d.Y + m.Z.Y*d.Z,
		m.X.Z*d.X + m.Y.Z*d.Y + m.Z.Z*d.Z,
	}
}

// Mul is the map that does n first, then m.
func (m Affine) Mul(n Affine) Affine {
	return Affine{m.Turn(n.X), m.Turn(n.Y), m.Turn(n.Z), m.Apply(n.T)}
}

// Det is the factor by which m scales volumes; negative when it mirrors.
func (m Affine) Det() float64 { return m.X.Cross(m.Y).Dot(m.Z) }

// Shift is m followed by a move by d.
func (m Affine) Shift(d Vec) Affine { m.T = m.T.Add(d); return m }

// Local maps a point of the outer system into a rigid frame m (the inverse of
// Apply when X, Y, Z are orthonormal).
func (m Affine) Local(p Vec) Vec {
	d := p.Sub(m.T)
	return Vec{d.Dot(m.X), d.Dot(m.Y), d.Dot(m.Z)}
}

// Inverse undoes m; ok is false when m flattens space.
func (m Affine) Inverse() (inv Affine, ok bool) {
	det := m.Det()
	if det == 0 || det-det != 0 {
		return Identity, false
	}
	a, b, c := m.Y.Cross(m.Z).Mul(1/det), m.Z.Cross(m.X).Mul(1/det), m.X.Cross(m.Y).Mul(1/det)
	inv = Affine{Vec{a.X, b.X, c.X}, Vec{a.Y, b.Y, c.Y}, Vec{a.Z, b.Z, c.Z}, Vec{}}
	inv.T = inv.Turn(m.T).Neg()
	return inv, true
}

// Scale is the uniform scale of m and true, or the mean scale and false when
// the axes differ in length by more than one part in a million.
func (m Affine) Scale() (float64, bool) {
	a, b, c := m.X.Norm(), m.Y.Norm(), m.Z.Norm()
	mean := (a + b + c) / 3
	tol := 1e-6 * mean
	ok := a-mean < tol && mean-a < tol && b-mean < tol && mean-b < tol && c-mean < tol && mean-c < tol
	return mean, ok
}
