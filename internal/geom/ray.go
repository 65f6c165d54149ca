package geom

import "slices"

// Hit is a crossing of a line with a surface.
type Hit struct {
	T      float64 // the point is o + T*d
	Normal Vec     // unit, out of the body
	Tri    int
	Face   int32 // -1 when faces are not numbered
	Enter  bool  // the line goes into the body here
}

// Ray is every crossing of the whole line o + t*d with the surface, sorted by T,
// which is negative behind o. d need not have unit length; a zero d meets
// nothing.
//
// The line is moved aside by an amount smaller than any number, the same for all
// triangles. So a line through an edge or a vertex crosses each sheet of the
// surface there exactly once, and a line in a face does not meet that face.
func (m *Mesh) Ray(o, d Vec) []Hit {
	length := d.Norm()
	if d = d.Unit(); d == (Vec{}) || !o.Finite() {
		return nil
	}
	c := newCaster(o, d)
	var hits []Hit
	m.alongLine(o, d, func(tri int) {
		if t, side := c.cross(m.Tri(tri)); side != 0 {
			n := m.normal2(tri).Unit()
			hits = append(hits, Hit{t / length, n, tri, m.FaceOf(tri), side < 0})
		}
	})
	slices.SortFunc(hits, compareHits)
	return hits
}

// compareHits orders hits by place; at one place by triangle.
func compareHits(a, b Hit) int {
	switch {
	case a.T < b.T:
		return -1
	case a.T > b.T:
		return 1
	}
	return a.Tri - b.Tri
}

// caster looks along a line: it projects points to the plane at a right angle
// to it, with the line at zero.
type caster struct{ o, d, u, v Vec }

func newCaster(o, d Vec) caster {
	u := d.Perp()
	return caster{o, d, u, d.Cross(u)}
}

func (c *caster) project(p Vec) (Vec2, float64) {
	p = p.Sub(c.o)
	return Vec2{p.Dot(c.u), p.Dot(c.v)}, p.Dot(c.d)
}

// cross is where the line crosses a triangle, and its direction: 1 out of the
// body, -1 into it, 0 when they do not meet.
func (c *caster) cross(p, q, r Vec) (t float64, side int) {
	a, ta := c.project(p)
	b, tb := c.project(q)
	e, te := c.project(r)
	wa, sa := edgeSide(b, e)
	wb, sb := edgeSide(e, a)
	we, se := edgeSide(a, b)
	side = sa + sb + se
	if side == 0 {
		return 0, 0
	}
	sum := wa + wb + we
	if sum == 0 {
		return (ta + tb + te) / 3, side
	}
	t = (wa*ta + wb*tb + we*te) / sum
	return max(min(ta, tb, te), min(t, max(ta, tb, te))), side
}

// edgeSide is the turn of a, b around zero, and what the edge adds to the
// winding around a point that is moved from zero by nearly nothing, up and then
// by still less to the right. An edge the other way round gives the negative of
// both, so that neighbours agree.
func edgeSide(a, b Vec2) (turn float64, winding int) {
	turn = cross2(a, b)
	switch {
	case a.Y <= 0 && b.Y > 0 && turn > 0:
		return turn, 1
	case a.Y > 0 && b.Y <= 0 && turn < 0:
		return turn, -1
	}
	return turn, 0
}
