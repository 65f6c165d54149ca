package geom

import "math"

// MeshMesh is the clear distance between two closed bodies, surface to surface,
// and the point of each where it is taken; +Inf when one has no triangles.
//
// When they overlap the gap is negative. Bodies whose shells are convex give the
// least move that frees the deepest pair of shells, exactly. For others it is an
// estimate: the least width of the deepest piece of their common part, among the
// directions square to its faces, which is no more than the move needed. pa is
// then a place in the overlap, and pb is pa after b is moved out.
func MeshMesh(a, b *Mesh) (gap float64, pa, pb Vec) {
	gap, x, _ := meshMesh(a, b, math.Inf(1))
	return gap, x.p, x.q
}

// MeshMeshWithin is MeshMesh that stops when the gap is surely more than limit;
// ok is false then, and the other results mean nothing.
func MeshMeshWithin(a, b *Mesh, limit float64) (gap float64, pa, pb Vec, ok bool) {
	gap, x, ok := meshMesh(a, b, limit)
	return gap, x.p, x.q, ok
}

func meshMesh(a, b *Mesh, limit float64) (gap float64, at pair, ok bool) {
	s := meshSearch{a: a, b: b, ta: a.Tree().tree, tb: b.Tree().tree, gap: max(limit, 0)}
	if len(s.ta.nodes) == 0 || len(s.tb.nodes) == 0 || s.ta.nodes[0].box.gap(s.tb.nodes[0].box) > s.gap {
		return math.Inf(1), at, false
	}
	s.walk(0, 0)
	if !s.touch {
		place, in := oneInOther(a, b)
		if !in {
			return s.gap, s.at, s.ok && s.gap <= limit
		}
		s.at = pair{place, place}
	}
	e := escapeMeshes(a, b)
	return e.gap, s.at.moved(e), e.gap <= limit
}

// oneInOther is a point of one body inside the other, for bodies whose surfaces
// do not meet: then each shell is wholly inside or outside.
func oneInOther(a, b *Mesh) (Vec, bool) {
	for _, x := range [2][2]*Mesh{{a, b}, {b, a}} {
		for _, s := range x[0].Shells() {
			if p := s.Verts[s.Tris[0][0]]; x[1].Contains(p) {
				return p, true
			}
		}
	}
	return Vec{}, false
}

// touching is the distance in mm below which surfaces count as touching, so
// that a possible overlap is looked into.
const touching = 1e-7

// meshSearch finds the nearest pair of triangles of two meshes.
type meshSearch struct {
	a, b   *Mesh
	ta, tb *BoxTree
	gap    float64 // nothing farther is of interest
	at     pair
	ok     bool
	touch  bool
}

func (s *meshSearch) walk(i, k int32) {
	m, n := &s.ta.nodes[i], &s.tb.nodes[k]
	if s.touch || m.box.gap(n.box) > s.gap {
		return
	}
	switch {
	case m.count > 0 && n.count > 0:
		s.look(m, n)
	case n.count > 0 || m.count == 0 && m.box.Size().Norm2() >= n.box.Size().Norm2():
		l := i + 1
		r := s.ta.nodes[l].skip
		if s.ta.nodes[r].box.gap(n.box) < s.ta.nodes[l].box.gap(n.box) {
			l, r = r, l
		}
		s.walk(l, k)
		s.walk(r, k)
	default:
		l := k + 1
		r := s.tb.nodes[l].skip
		if s.tb.nodes[r].box.gap(m.box) < s.tb.nodes[l].box.gap(m.box) {
			l, r = r, l
		}
		s.walk(i, l)
		s.walk(i, r)
	}
}

// apartBy reports whether the points x, y, z lie more than gap on one side of the
// plane of a triangle, or beyond one of its sides in that plane. Facets of bars
// are so long that their boxes tell little: two thirds of the time of a check of
// panels with faceted bars went into distances that this settles.
func apartBy(a, b, c, x, y, z Vec, gap float64) bool {
	n := b.Sub(a).Cross(c.Sub(a))
	if beyond(a, n, x, y, z, gap) || beyond(a, n.Neg(), x, y, z, gap) {
		return true
	}
	return beyond(a, b.Sub(a).Cross(n), x, y, z, gap) || beyond(b, c.Sub(b).Cross(n), x, y, z, gap) || beyond(c, a.Sub(c).Cross(n), x, y, z, gap)
}

// beyond reports whether three points lie more than gap past the plane through o
// along n, which need not have unit length. Nearly nothing is added for rounding.
func beyond(o, n, x, y, z Vec, gap float64) bool {
	d := min(x.Sub(o).Dot(n), y.Sub(o).Dot(n), z.Sub(o).Dot(n))
	return d > 0 && d*d > (gap+1e-6)*(gap+1e-6)*n.Norm2()
}

func (s *meshSearch) look(m, n *boxNode) {
	for _, i := range s.ta.items[m.first : m.first+m.count] {
		a, b, c := s.a.Tri(int(i))
		for _, k := range s.tb.items[n.first : n.first+n.count] {
			if s.ta.boxes[i].gap(s.tb.boxes[k]) > s.gap {
				continue
			}
			x, y, z := s.b.Tri(int(k))
			if apartBy(a, b, c, x, y, z, s.gap) || apartBy(x, y, z, a, b, c, s.gap) {
				continue
			}
			p := nearestTriangles(a, b, c, x, y, z)
			if d := math.Sqrt(p.dist2()); d <= s.gap {
				s.gap, s.at, s.ok, s.touch = d, p, true, d <= touching
			}
		}
	}
}

// escapeMeshes is the way out for b of the overlap with a; a gap of 0 when they
// only touch.
func escapeMeshes(a, b *Mesh) escape {
	out := escape{math.Inf(1), Vec{}}
	as, bs := a.Shells(), b.Shells()
	for _, x := range as {
		for _, y := range bs {
			hx, hy := x.hull(), y.hull()
			if hx == nil || hy == nil {
				return widthOfCommon(a, b)
			}
			if e := escapeHulls(hx, hy); e.gap < out.gap {
				out = e
			}
		}
	}
	out.gap = min(out.gap, 0)
	return out
}

// widthOfCommon is the least width of the widest piece of the common part.
func widthOfCommon(a, b *Mesh) escape {
	var out escape
	for _, s := range Intersect(a, b).Shells() {
		h := looseHull(s)
		least := escape{math.Inf(-1), Vec{}}
		for _, n := range h.normals {
			if n == (Vec{}) {
				continue
			}
			if w := h.support(n.Neg()).Dot(n) - h.support(n).Dot(n); w > least.gap {
				least = escape{w, n}
			}
		}
		if least.v != (Vec{}) && least.gap < out.gap {
			out = least
		}
	}
	return out
}
