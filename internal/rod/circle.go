package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// manyCorners is more than any round bar is written with: what has more gets the
// plain fit, so that no outline costs more than its length.
const manyCorners = 400

// fitMost fits a circle to all points or, when without the innermost ones, up to
// one in five, the others lie on a circle closely, to these: where an outline
// begins and ends, some exporters put a point on a chord. The first kept points
// are the ones that count.
func fitMost(pts []geom.Vec2) (c geom.Vec2, r float64, kept int, ok bool) {
	all, allR, ok := fitCircle(pts)
	if !ok {
		return c, 0, 0, false
	}
	c, r, kept = all, allR, len(pts)
	if len(pts) > manyCorners {
		return c, r, kept, true
	}
	for misfit(pts[:kept], c, r) > 0.003*r+0.005 {
		if 5*(len(pts)-kept+1) > len(pts) {
			return all, allR, len(pts), true
		}
		inner := 0
		for i, p := range pts[:kept] {
			if p.Dist(c) < pts[inner].Dist(c) {
				inner = i
			}
		}
		kept--
		pts[inner], pts[kept] = pts[kept], pts[inner]
		if c, r, ok = fitCircle(pts[:kept]); !ok {
			return all, allR, len(pts), true
		}
	}
	return c, r, kept, true
}

// misfit is the greatest distance of a point from the circle.
func misfit(pts []geom.Vec2, c geom.Vec2, r float64) float64 {
	most := 0.0
	for _, p := range pts {
		most = math.Max(most, math.Abs(p.Dist(c)-r))
	}
	return most
}

// fitCircle is the least squares circle through points, in the algebraic form,
// which is exact for points on a circle.
func fitCircle(pts []geom.Vec2) (c geom.Vec2, r float64, ok bool) {
	n := float64(len(pts))
	if n < 3 {
		return c, 0, false
	}
	var m geom.Vec2
	for _, p := range pts {
		m = m.Add(p)
	}
	m = m.Mul(1 / n)
	var uu, uv, vv, uz, vz, z float64
	for _, p := range pts {
		p = p.Sub(m)
		q := p.Dot(p)
		uu += p.X * p.X
		uv += p.X * p.Y
		vv += p.Y * p.Y
		uz += p.X * q
		vz += p.Y * q
		z += q
	}
	det := uu*vv - uv*uv
	if det <= 1e-9*(uu+vv)*(uu+vv) {
		return c, 0, false
	}
	k := geom.Vec2{X: (uz*vv - vz*uv) / (2 * det), Y: (vz*uu - uz*uv) / (2 * det)}
	return m.Add(k), math.Sqrt(k.Dot(k) + z/n), true
}

// enclosing is the smallest circle around the points.
func enclosing(pts []geom.Vec2) (c geom.Vec2, r float64) {
	out := func(p geom.Vec2) bool { return p.Dist(c) > r*(1+1e-12)+1e-12 }
	two := func(p, q geom.Vec2) { c, r = p.Add(q).Mul(0.5), p.Dist(q)/2 }
	for i, p := range pts {
		if i > 0 && !out(p) {
			continue
		}
		c, r = p, 0
		for j, q := range pts[:i] {
			if !out(q) {
				continue
			}
			two(p, q)
			for _, s := range pts[:j] {
				if out(s) {
					if k, l, ok := fitCircle([]geom.Vec2{p, q, s}); ok {
						c, r = k, l
					}
				}
			}
		}
	}
	return c, r
}
