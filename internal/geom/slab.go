package geom

import (
	"math"
	"sync"
)

// Slab visits the pieces of the surface with z0 <= z <= z1 in the rigid frame f,
// projected along dir to f's xy plane, the line from f.T along dir being the
// zero there. dir may be skew to f's z axis, but not at a right angle to it.
// Only triangles that may come within reach of that line are looked at, all when
// reach is 0. A piece in a plane along dir is projected to a polygon without
// area; poly is valid until visit returns.
func (m *Mesh) Slab(f Affine, dir Vec, z0, z1, reach float64, visit func(poly []Vec2, tri int)) {
	d := Vec{dir.Dot(f.X), dir.Dot(f.Y), dir.Dot(f.Z)}
	if !(math.Abs(d.Z) > 0) || !(z0 <= z1) {
		return
	}
	s := slabs.Get().(*slab)
	defer func() { s.visit = nil; slabs.Put(s) }()
	s.f, s.sx, s.sy, s.z0, s.z1, s.visit = f, d.X/d.Z, d.Y/d.Z, z0, z1, visit
	if !(reach > 0) {
		s.all(m, Box{Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}, Vec{math.Inf(1), math.Inf(1), math.Inf(1)}})
		return
	}
	lo, hi := f.T.Add(f.Turn(d.Mul(z0/d.Z))), f.T.Add(f.Turn(d.Mul(z1/d.Z)))
	near := BoxOf(lo, hi).Grow(reach)
	if len(m.Tris) <= fewTris {
		s.all(m, near)
		return
	}
	m.Tree().tree.Query(near, func(tri int) bool {
		a, b, c := m.Tri(tri)
		s.see([3]Vec{f.Local(a), f.Local(b), f.Local(c)}, tri)
		return true
	})
}

// slab is a layer in the frame f, and the way in which it is projected.
type slab struct {
	f      Affine
	sx, sy float64
	z0, z1 float64
	visit  func(poly []Vec2, tri int)
	at     []Vec // the vertices in f
	buf    [2][9]Vec
	poly   [9]Vec2
}

// slabs are kept for the next layer: their room took a third of what a check
// allocates.
var slabs = sync.Pool{New: func() any { return &slab{} }}

// all shows the triangles of a small mesh that come near. Each vertex is moved
// into the frame once, and most triangles are above or below the layer.
func (s *slab) all(m *Mesh, near Box) {
	if !m.within().Overlaps(near) {
		return
	}
	at := s.at[:0]
	for _, v := range m.Verts {
		at = append(at, s.f.Local(v))
	}
	s.at = at
	for i, t := range m.Tris {
		a, b, c := at[t[0]], at[t[1]], at[t[2]]
		if max(a.Z, b.Z, c.Z) < s.z0 || min(a.Z, b.Z, c.Z) > s.z1 || m.wild && !m.finite(i) || !m.triBox(i).Overlaps(near) {
			continue
		}
		s.see([3]Vec{a, b, c}, i)
	}
}

// see shows the part of a triangle, given in the frame, that lies in the layer.
func (s *slab) see(corners [3]Vec, tri int) {
	pts := corners[:]
	if z := [3]float64{pts[0].Z, pts[1].Z, pts[2].Z}; min(z[0], z[1], z[2]) < s.z0 || max(z[0], z[1], z[2]) > s.z1 {
		pts = clipZ(s.buf[1][:0], pts, s.z0, 1)
		pts = clipZ(s.buf[0][:0], pts, s.z1, -1)
	}
	if len(pts) == 0 {
		return
	}
	out := s.poly[:0]
	for _, p := range pts {
		out = append(out, Vec2{p.X - s.sx*p.Z, p.Y - s.sy*p.Z})
	}
	s.visit(out, tri)
}

// clipZ appends the part of a convex polygon with s*z >= s*limit.
func clipZ(dst, poly []Vec, limit, s float64) []Vec {
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		da, db := s*(a.Z-limit), s*(b.Z-limit)
		if da >= 0 {
			dst = append(dst, a)
		}
		if da >= 0 != (db >= 0) {
			p := a.Lerp(b, da/(da-db))
			p.Z = limit
			dst = append(dst, p)
		}
	}
	return dst
}
