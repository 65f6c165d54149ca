package geom

import "math"

// convex is a convex body, known by its farthest point in a direction, which
// need not have unit length.
type convex interface{ support(d Vec) Vec }

// piece is a straight piece of a rod: the points within r of the segment a-b,
// but for what lies beyond a flat end.
type piece struct {
	a, b         Vec
	r            float64
	axis         Vec // unit, from a to b; zero for a ball
	flatA, flatB bool
}

// pieces appends the straight pieces of a rod, seen from o. Only the rod's own two
// ends are flat.
func pieces(dst []piece, r Rod, o Vec) []piece {
	n := len(dst)
	var from Vec
	for i, p := range r.Path {
		p = p.Sub(o)
		if i == 0 {
			from = p
			continue
		}
		if l := p.Dist(from); l > samePoint {
			dst = append(dst, piece{a: from, b: p, r: r.Radius, axis: p.Sub(from).Mul(1 / l)})
			from = p
		}
	}
	switch {
	case len(dst) > n:
		dst[n].flatA, dst[len(dst)-1].flatB = true, true
	case len(r.Path) > 0:
		dst = append(dst, piece{a: from, b: from, r: r.Radius})
	}
	return dst
}

func (c *piece) support(d Vec) Vec {
	round := d.Unit().Mul(c.r)
	flat := c.square(d).Mul(c.r)
	a, b := c.a.Add(round), c.b.Add(round)
	if c.flatA {
		a = c.a.Add(flat)
	}
	if c.flatB {
		b = c.b.Add(flat)
	}
	if a.Dot(d) > b.Dot(d) {
		return a
	}
	return b
}

// square is the part of d at a right angle to the axis, with unit length; zero
// when d runs along the axis but for rounding.
func (c *piece) square(d Vec) Vec {
	s := d.Sub(c.axis.Mul(c.axis.Dot(d)))
	if s.Norm2() <= 1e-24*d.Norm2() {
		return Vec{}
	}
	s = s.Unit() // what is left along the axis has been blown up
	return s.Sub(c.axis.Mul(c.axis.Dot(s))).Unit()
}

// beyond reports whether the way from p, a point of the axis, along w leaves
// through a flat end, so that the surface there is not at the radius from p.
func (c *piece) beyond(p, w Vec) bool {
	along := c.axis.Dot(w)
	if math.Abs(along) <= 1e-8*w.Norm() {
		return false
	}
	return along < 0 && c.flatA && p.Dist(c.a) < 1e-9 || along > 0 && c.flatB && p.Dist(c.b) < 1e-9
}

// atFlatEnd reports whether p is a flat end.
func (c *piece) atFlatEnd(p Vec) bool {
	return c.flatA && p.Dist(c.a) < 1e-9 || c.flatB && p.Dist(c.b) < 1e-9
}

// triangle is a triangle as a convex body.
type triangle [3]Vec

func (t *triangle) support(d Vec) Vec {
	best := t[0]
	for _, v := range t[1:] {
		if v.Dot(d) > best.Dot(d) {
			best = v
		}
	}
	return best
}
