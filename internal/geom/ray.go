package geom

import (
	"slices"
	"sync"
)

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
func (m *Mesh) Ray(o, d Vec) []Hit { return m.castInto(nil, o, d) }

// castInto is Ray, with the crossings appended to hits, which is empty.
func (m *Mesh) castInto(hits []Hit, o, d Vec) []Hit {
	length := d.Norm()
	if d = d.Unit(); d == (Vec{}) || !o.Finite() {
		return nil
	}
	c := newCaster(o, d)
	if len(m.Tris) <= fewTris {
		hits = c.all(m, hits)
	} else {
		m.Tree().tree.line(o, d, func(tri int) {
			if t, side := c.cross(m.Tri(tri)); side != 0 {
				hits = append(hits, m.hit(tri, t, side))
			}
		})
	}
	for i := range hits {
		hits[i].T /= length
	}
	slices.SortFunc(hits, compareHits)
	return hits
}

// hit is the crossing of triangle i at the length t along a line.
func (m *Mesh) hit(i int, t float64, side int) Hit {
	return Hit{t, m.normal2(i).Unit(), i, m.FaceOf(i), side < 0}
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

// shadow is a point as seen along the line, and how far along it.
type shadow struct {
	Vec2
	t float64
}

func (c *caster) project(p Vec) shadow {
	p = p.Sub(c.o)
	return shadow{Vec2{p.Dot(c.u), p.Dot(c.v)}, p.Dot(c.d)}
}

var shadows = sync.Pool{New: func() any { return new([]shadow) }}

// all appends the crossings with the triangles of a small mesh. Each vertex is
// projected once, which takes a quarter less time for a box than its triangles do.
func (c *caster) all(m *Mesh, hits []Hit) []Hit {
	lt := newLineTest(c.o, c.d)
	if !lt.meets(m.within()) {
		return hits
	}
	room := shadows.Get().(*[]shadow)
	defer shadows.Put(room)
	at := (*room)[:0]
	for _, v := range m.Verts {
		at = append(at, c.project(v))
	}
	*room = at
	for i, tri := range m.Tris {
		p, q, r := &at[tri[0]], &at[tri[1]], &at[tri[2]]
		if p.Y > 0 && q.Y > 0 && r.Y > 0 || p.Y <= 0 && q.Y <= 0 && r.Y <= 0 || m.wild && !m.finite(i) {
			continue
		}
		if t, side := crossing(*p, *q, *r); side != 0 {
			hits = append(hits, m.hit(i, t, side))
		}
	}
	return hits
}

// cross is crossing for a triangle that is not projected yet.
func (c *caster) cross(p, q, r Vec) (t float64, side int) {
	return crossing(c.project(p), c.project(q), c.project(r))
}

// crossing is where the line crosses a triangle, and its direction: 1 out of the
// body, -1 into it, 0 when they do not meet.
func crossing(a, b, e shadow) (t float64, side int) {
	wa, sa := edgeSide(b.Vec2, e.Vec2)
	wb, sb := edgeSide(e.Vec2, a.Vec2)
	we, se := edgeSide(a.Vec2, b.Vec2)
	side = sa + sb + se
	if side == 0 {
		return 0, 0
	}
	sum := wa + wb + we
	if sum == 0 {
		return (a.t + b.t + e.t) / 3, side
	}
	t = (wa*a.t + wb*b.t + we*e.t) / sum
	return max(min(a.t, b.t, e.t), min(t, max(a.t, b.t, e.t))), side
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
