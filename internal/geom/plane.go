package geom

// Plane is every point p with N.p = D; N has unit length and looks to the side
// where Dist is positive.
type Plane struct {
	N Vec
	D float64
}

// PlaneAt is the plane through p at a right angle to n, which need not have
// unit length.
func PlaneAt(p, n Vec) Plane {
	n = n.Unit()
	return Plane{n, n.Dot(p)}
}

// Dist is the signed distance of p.
func (p Plane) Dist(q Vec) float64 { return p.N.Dot(q) - p.D }

// Frame is a rigid frame in the plane: its z axis is N, its x axis is the one
// that Perp gives, and its origin is the point of the plane nearest to zero.
func (p Plane) Frame() Affine { return FrameZX(p.N.Mul(p.D), p.N, p.N.Perp()) }

// NewellNormal is twice the area vector of a closed loop: it points to the side
// from which the loop runs counter-clockwise, also when the loop is not convex or
// not quite flat. It is zero for a loop without area.
func NewellNormal(loop []Vec) Vec {
	var n Vec
	for i := 2; i < len(loop); i++ {
		n = n.Add(loop[i-1].Sub(loop[0]).Cross(loop[i].Sub(loop[0])))
	}
	return n
}
