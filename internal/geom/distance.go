package geom

// nearestOnSegment is the point of segment a-b nearest to p. A segment without
// length is its point.
func nearestOnSegment(p, a, b Vec) Vec {
	d := b.Sub(a)
	l := d.Norm2()
	if !(l > 0) {
		return a
	}
	t := p.Sub(a).Dot(d) / l
	if t <= 0 {
		return a
	}
	if t >= 1 {
		return b
	}
	return a.Add(d.Mul(t))
}

// nearestOnTriangle is the point of triangle a, b, c nearest to p. One without
// area is its sides.
func nearestOnTriangle(p, a, b, c Vec) Vec {
	n := b.Sub(a).Cross(c.Sub(a))
	if l := n.Norm2(); l > 0 {
		u := b.Sub(a).Cross(p.Sub(a)).Dot(n)
		v := c.Sub(b).Cross(p.Sub(b)).Dot(n)
		w := a.Sub(c).Cross(p.Sub(c)).Dot(n)
		if u >= 0 && v >= 0 && w >= 0 {
			return p.Sub(n.Mul(p.Sub(a).Dot(n) / l))
		}
	}
	best := nearestOnSegment(p, a, b)
	for _, q := range [2]Vec{nearestOnSegment(p, b, c), nearestOnSegment(p, c, a)} {
		if q.Sub(p).Norm2() < best.Sub(p).Norm2() {
			best = q
		}
	}
	return best
}

// nearestSegments are the points of the segments a-b and c-d that are nearest
// to each other.
func nearestSegments(a, b, c, d Vec) (p, q Vec) {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, uv, vv := u.Norm2(), u.Dot(v), v.Norm2()
	det := uu*vv - uv*uv
	p, q = a, nearestOnSegment(a, c, d)
	best := p.Sub(q).Norm2()
	try := func(x, y Vec) {
		if e := x.Sub(y).Norm2(); e < best {
			p, q, best = x, y, e
		}
	}
	try(b, nearestOnSegment(b, c, d))
	try(nearestOnSegment(c, a, b), c)
	try(nearestOnSegment(d, a, b), d)
	if det > 0 {
		s := (uv*v.Dot(w) - vv*u.Dot(w)) / det
		t := (uu*v.Dot(w) - uv*u.Dot(w)) / det
		if s > 0 && s < 1 && t > 0 && t < 1 {
			try(a.Add(u.Mul(s)), c.Add(v.Mul(t)))
		}
	}
	return p, q
}
