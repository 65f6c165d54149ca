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

// pair is a point of each of two bodies.
type pair struct{ p, q Vec }

func (x pair) dist2() float64 { return x.p.Sub(x.q).Norm2() }
func (x pair) swap() pair     { return pair{x.q, x.p} }

// nearer is the pair of the two with the smaller distance.
func (x pair) nearer(y pair) pair {
	if y.dist2() < x.dist2() {
		return y
	}
	return x
}

// nearestSegments is the points of the segments a-b and c-d that are nearest to
// each other.
func nearestSegments(a, b, c, d Vec) pair {
	best := pair{a, nearestOnSegment(a, c, d)}
	best = best.nearer(pair{b, nearestOnSegment(b, c, d)})
	best = best.nearer(pair{nearestOnSegment(c, a, b), c})
	best = best.nearer(pair{nearestOnSegment(d, a, b), d})
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	n := u.Cross(v)
	det := n.Norm2()
	if !(det > 0) {
		return best // parallel: an end is as near as any other place
	}
	s := v.Cross(w).Dot(n) / det
	t := u.Cross(w).Dot(n) / det
	if s > 0 && s < 1 && t > 0 && t < 1 {
		// Nearly parallel segments leave few digits in s; looking back and
		// forth once wins them back.
		p := a.Add(u.Mul(s))
		q := nearestOnSegment(p, c, d)
		best = best.nearer(pair{nearestOnSegment(q, a, b), q})
	}
	return best
}

// nearestSegmentTriangle is the nearest points of segment a-b and a triangle.
func nearestSegmentTriangle(a, b, x, y, z Vec) pair {
	n := y.Sub(x).Cross(z.Sub(x))
	da, db := a.Sub(x).Dot(n), b.Sub(x).Dot(n)
	if da < 0 && db > 0 || da > 0 && db < 0 {
		p := a.Lerp(b, da/(da-db))
		if q := nearestOnTriangle(p, x, y, z); p.Sub(q).Norm2() < 1e-18*(1+p.Sub(x).Norm2()) {
			return pair{q, q}
		}
	}
	best := pair{a, nearestOnTriangle(a, x, y, z)}
	best = best.nearer(pair{b, nearestOnTriangle(b, x, y, z)})
	best = best.nearer(nearestSegments(a, b, x, y))
	best = best.nearer(nearestSegments(a, b, y, z))
	return best.nearer(nearestSegments(a, b, z, x))
}

// nearestTriangles is the nearest points of two triangles. One of them always
// lies on a side: of its own, when they cross too.
func nearestTriangles(a, b, c, x, y, z Vec) pair {
	best := nearestSegmentTriangle(a, b, x, y, z)
	best = best.nearer(nearestSegmentTriangle(b, c, x, y, z))
	best = best.nearer(nearestSegmentTriangle(c, a, x, y, z))
	best = best.nearer(nearestSegmentTriangle(x, y, a, b, c).swap())
	best = best.nearer(nearestSegmentTriangle(y, z, a, b, c).swap())
	return best.nearer(nearestSegmentTriangle(z, x, a, b, c).swap())
}
