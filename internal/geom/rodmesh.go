package geom

import "math"

// RodMesh is the clear distance between a rod and a closed body, surface to
// surface, and the point of each where it is taken. A tube's hole counts as
// solid. A mesh without triangles and a rod without a path are +Inf away.
//
// When they overlap the gap is negative: the least move that frees the deepest
// straight piece of the rod, for convex bodies exactly but for the search among
// directions at round surfaces. For other bodies it is an estimate: how deep the
// axis lies in the body plus the radius, but no more than what frees the piece
// from the body's convex hull. pr is then a place in the overlap, and pm is pr
// after the body is moved out.
func RodMesh(r Rod, m *Mesh) (gap float64, pr, pm Vec) {
	gap, x, _ := rodMesh(r, m, math.Inf(1))
	return gap, x.p, x.q
}

// RodMeshWithin is RodMesh that stops when the gap is surely more than limit; ok
// is false then, and the other results mean nothing.
func RodMeshWithin(r Rod, m *Mesh, limit float64) (gap float64, pr, pm Vec, ok bool) {
	gap, x, ok := rodMesh(r, m, limit)
	return gap, x.p, x.q, ok
}

func rodMesh(r Rod, m *Mesh, limit float64) (gap float64, at pair, ok bool) {
	gap = math.Inf(1)
	bt := m.Tree().tree
	if len(r.Path) == 0 || len(bt.nodes) == 0 || r.Box().gap(bt.nodes[0].box) > max(limit, 0) {
		return gap, at, false
	}
	for _, c := range pieces(nil, r, Vec{}) {
		s := pieceSearch{m: m, bt: bt, c: &c, gap: min(gap, max(limit, 0))}
		s.walk(0)
		if !s.meet && s.ok && s.gap < gap {
			gap, at, ok = s.gap, s.at, true
		}
		if inside := !s.meet && m.Contains(c.a); s.meet || inside {
			if inside && !s.meet {
				s.at = pair{c.a, c.a}
			}
			if e := c.escapeMesh(m, s.at.p); e.gap < gap {
				gap, at, ok = e.gap, s.at.moved(e), true
			}
		}
	}
	return gap, at, ok && gap <= limit
}

// pieceSearch finds the nearest triangle to a piece of a rod.
type pieceSearch struct {
	m    *Mesh
	bt   *BoxTree
	c    *piece
	gap  float64 // nothing farther is of interest
	at   pair
	ok   bool
	meet bool
}

func (s *pieceSearch) walk(n int32) {
	node := &s.bt.nodes[n]
	if s.meet || s.bound(node.box) > s.gap {
		return
	}
	if node.count > 0 {
		for _, i := range s.bt.items[node.first : node.first+node.count] {
			s.look(int(i))
		}
		return
	}
	l := n + 1
	r := s.bt.nodes[l].skip
	if s.bound(s.bt.nodes[r].box) < s.bound(s.bt.nodes[l].box) {
		l, r = r, l
	}
	s.walk(l)
	s.walk(r)
}

// bound is a distance that nothing in the box is nearer than.
func (s *pieceSearch) bound(b Box) float64 {
	mid := b.Center()
	ball := nearestOnSegment(mid, s.c.a, s.c.b).Dist(mid) - b.Size().Norm()/2
	return max(ball, BoxOf(s.c.a, s.c.b).gap(b)) - s.c.r
}

func (s *pieceSearch) look(tri int) {
	a, b, c := s.m.Tri(tri)
	x := nearestSegmentTriangle(s.c.a, s.c.b, a, b, c)
	w := x.q.Sub(x.p)
	d := w.Norm()
	if s.meet || d-s.c.r > s.gap {
		return
	}
	if d > 1e-9 && !s.c.beyond(x.p, w) {
		s.take(d-s.c.r, pair{x.p.Add(w.Mul(s.c.r / d)), x.q})
		return
	}
	t := &triangle{a, b, c}
	dist, y, meet := convexGap(s.c, t, max(s.gap, 0))
	if meet {
		dist = 0
	} else if dist < nearTouch {
		e := newEscapeSearch(s.c, t)
		e.try(y.q.Sub(y.p))
		e.try(b.Sub(a).Cross(c.Sub(a)))
		e.try(s.c.axis)
		e.refine()
		dist = e.best().gap
	}
	s.take(dist, y)
}

func (s *pieceSearch) take(g float64, at pair) {
	if g <= 0 {
		s.meet, s.at = true, pair{at.q, at.q}
	}
	if g <= s.gap {
		s.gap, s.at, s.ok = g, at, true
	}
}

// escapeMesh is the way out of an overlap with a body, place being in it.
func (c *piece) escapeMesh(m *Mesh, place Vec) escape {
	if h := m.hull(); h != nil {
		return c.escapeHull(h)
	}
	e := c.escapeHull(looseHull(m))
	if d := c.depthIn(m, place); -d.gap < -e.gap {
		return d
	}
	return e
}

// looseHull is any mesh's corners and face normals: its convex hull, but for
// edges of the hull that the mesh does not have.
func looseHull(m *Mesh) *hull {
	h := &hull{verts: m.corners()}
	faces, _, _ := flats(m.Verts, m.Tris, nil, closeTol, flatCos)
	for _, f := range faces {
		h.normals = append(h.normals, f.plane.N)
	}
	return h
}

// escapeHull is the way out of an overlap of a round piece and a body with flat
// faces, exactly when the body's edges are known: square to a face; along the
// axis, at a flat end; away from a corner or an edge, square to the side or to a
// round end; or between the faces at an edge, where it lets go of a rim.
func (c *piece) escapeHull(h *hull) escape {
	s := hullSearch{newEscapeSearch(c, h), h, 0}
	for _, n := range h.normals {
		s.try(n)
	}
	s.try(c.axis)
	for _, v := range h.verts {
		s.try(v.Sub(nearestOnSegment(v, c.a, c.b)))
		s.try(v.Sub(nearestOnLine(v, c.a, c.axis)))
	}
	for i := range h.edges {
		e := &h.edges[i]
		x := nearestSegments(c.a, c.b, e.a, e.b)
		s.try(x.q.Sub(x.p))
		s.try(c.axis.Cross(e.b.Sub(e.a)))
		if v, ok := c.offEdge(e, s.best().gap); ok {
			s.try(v)
		}
	}
	if len(h.edges) == 0 {
		s.refine()
	}
	return s.best()
}

// hullSearch is a search with a body of many corners: most directions are ruled
// out by a corner that ruled the one before out.
type hullSearch struct {
	*escapeSearch
	h    *hull
	last int
}

func (s *hullSearch) try(v Vec) {
	v = v.Unit()
	for _, v := range [2]Vec{v, v.Neg()} {
		if floor := s.best().gap + s.a.support(v).Dot(v); !s.reaches(v, floor) {
			s.tryOne(v)
		}
	}
}

// reaches reports whether a corner lies no farther along v than floor.
func (s *hullSearch) reaches(v Vec, floor float64) bool {
	if s.h.verts[s.last].Dot(v) <= floor {
		return true
	}
	for i, p := range s.h.verts {
		if p.Dot(v) <= floor {
			s.last = i
			return true
		}
	}
	return false
}

// offEdge is the best direction for an edge to leave the piece in, among those
// between its faces: the body is nowhere farther out than at the edge then. False
// when none is better than gap.
func (c *piece) offEdge(e *hullEdge, gap float64) (Vec, bool) {
	at := func(t float64) Vec { return e.n1.Lerp(e.n2, t).Unit().Neg() }
	f := func(t float64) float64 {
		v := at(t)
		return e.a.Dot(v) - c.support(v).Dot(v)
	}
	const steps = 4
	best, t := math.Inf(-1), 0.0
	for i := range steps + 1 {
		if g := f(float64(i) / steps); g > best {
			best, t = g, float64(i)/steps
		}
	}
	// Turning by an angle changes f by no more than that times the distance.
	reach := max(e.a.Dist(c.a), e.a.Dist(c.b)) + c.r
	if best+reach*e.n1.Dist(e.n2)/steps*2 <= gap {
		return Vec{}, false
	}
	return at(highest(f, max(0, t-1./steps), min(1, t+1./steps))), true
}

// depthIn is how deep the axis lies in a body that is not convex, at the deepest
// of some places on it, and the radius on top; where only the side of the rod is
// in the body, how far it is.
func (c *piece) depthIn(m *Mesh, place Vec) escape {
	const steps = 8
	p := nearestOnSegment(place, c.a, c.b)
	q, d, _ := m.Nearest(p)
	best := escape{min(d-c.r, 0), q.Sub(p).Unit()}
	for _, in := range m.Inside(c.a, c.axis) {
		from, to := max(in.From, 0), min(in.To, c.b.Dist(c.a))
		if !(from < to) {
			continue
		}
		for i := range steps + 1 {
			p := c.a.Add(c.axis.Mul(from + (to-from)*float64(i)/steps))
			q, d, _ := m.Nearest(p)
			if g := -d - c.r; g < best.gap {
				best = escape{g, p.Sub(q).Unit()} // the body goes the other way
			}
		}
	}
	return best
}
