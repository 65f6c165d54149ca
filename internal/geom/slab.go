package geom

import "math"

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
	sx, sy := d.X/d.Z, d.Y/d.Z
	var buf [2][9]Vec
	var poly [9]Vec2
	see := func(tri int) bool {
		a, b, c := m.Tri(tri)
		pts := append(buf[0][:0], f.Local(a), f.Local(b), f.Local(c))
		pts = clipZ(buf[1][:0], pts, z0, 1)
		pts = clipZ(buf[0][:0], pts, z1, -1)
		if len(pts) == 0 {
			return true
		}
		out := poly[:0]
		for _, p := range pts {
			out = append(out, Vec2{p.X - sx*p.Z, p.Y - sy*p.Z})
		}
		visit(out, tri)
		return true
	}
	if !(reach > 0) {
		for i := range m.Tris {
			if m.finite(i) {
				see(i)
			}
		}
		return
	}
	lo, hi := f.T.Add(f.Turn(d.Mul(z0/d.Z))), f.T.Add(f.Turn(d.Mul(z1/d.Z)))
	m.inBox(BoxOf(lo, hi).Grow(reach), see)
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
