package geom

import "math"

// halves is a convex body: what the inner sides of its planes, which look
// outwards, have in common.
type halves struct {
	m      *Mesh
	planes []Plane
}

// asConvex is a closed body of one piece as a convex one; false when it is none,
// or has more triangles than most: all planes are compared with all corners.
func asConvex(m *Mesh, most int) (halves, bool) {
	if len(m.Tris) > most || !m.whole() {
		return halves{}, false
	}
	flat := onPlane + 1e-9*m.bounds.Size().Norm()
	c := halves{m: m}
	for i := range m.Tris {
		n := m.normal2(i)
		if !(n.Norm() > flat) {
			continue // a needle: its normal is noise
		}
		a, _, _ := m.Tri(i)
		p := PlaneAt(a, n)
		if !c.has(p) {
			c.planes = append(c.planes, p)
		}
	}
	for _, p := range c.planes {
		for _, v := range m.Verts {
			if !(p.Dist(v) <= flat) {
				return halves{}, false
			}
		}
	}
	return c, len(c.planes) > 3
}

// whole reports whether a mesh is one piece that is joined all over, with all
// corners finite.
func (m *Mesh) whole() bool {
	if m.within(); m.wild || !m.joined() {
		return false
	}
	_, pieces := components(len(m.Verts), m.Tris)
	return pieces == 1
}

// has reports whether a plane is one of the body's.
func (c *halves) has(p Plane) bool {
	for _, q := range c.planes {
		if q.N.Dot(p.N) > flatNoise && math.Abs(q.D-p.D) < onPlane {
			return true
		}
	}
	return false
}

// apart reports whether a plane of one of two bodies has the other wholly on its
// outer side; they may touch. Some bodies that do not meet are not told.
func (c *halves) apart(o *halves) bool { return c.shuts(o) || o.shuts(c) }

func (c *halves) shuts(o *halves) bool {
	for _, p := range c.planes {
		out := true
		for _, v := range o.m.Verts {
			out = out && p.Dist(v) >= -onPlane
		}
		if out {
			return true
		}
	}
	return false
}

// clip is the part of a convex polygon that lies inside or, within onPlane, on the
// surface; buf is room for it.
func (c *halves) clip(poly []Vec, buf *[2][]Vec) []Vec {
	for i, p := range c.planes {
		to := &buf[i&1]
		*to = clipPlane((*to)[:0], poly, Plane{p.N, p.D + onPlane})
		if poly = *to; len(poly) < 3 {
			return nil
		}
	}
	return poly
}

// clipPlane appends the part of a convex polygon with Dist <= 0.
func clipPlane(dst, poly []Vec, p Plane) []Vec {
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		da, db := p.Dist(a), p.Dist(b)
		if da <= 0 {
			dst = append(dst, a)
		}
		if da <= 0 != (db <= 0) {
			dst = append(dst, a.Lerp(b, da/(da-db)))
		}
	}
	return dst
}
