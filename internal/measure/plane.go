package measure

import (
	"math"

	"embedcheck/internal/geom"
)

// pointPolygon is the distance from p to a convex polygon, which may be a line
// or a point, and the nearest point of it: p itself when it lies inside.
func pointPolygon(p geom.Vec2, poly []geom.Vec2) (float64, geom.Vec2) {
	best, at := math.Inf(1), geom.Vec2{}
	inside, turn := len(poly) > 2, 0.0
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if q := geom.NearestOnSegment2(p, a, b); q.Dist(p) < best {
			best, at = q.Dist(p), q
		}
		c := b.Sub(a).Cross(p.Sub(a))
		if c*turn < 0 {
			inside = false
		}
		if c != 0 {
			turn = c
		}
	}
	if inside && turn != 0 {
		return 0, p
	}
	return best, at
}

// sideDistance is the distance between two line pieces and the nearest point
// of the second one.
func sideDistance(a, b, c, d geom.Vec2) (float64, geom.Vec2) {
	if crosses(a, b, c, d) {
		r, s := b.Sub(a), d.Sub(c)
		t := a.Sub(c).Cross(r) / s.Cross(r)
		return 0, c.Add(s.Mul(t))
	}
	best, at := math.Inf(1), geom.Vec2{}
	try := func(dist float64, p geom.Vec2) {
		if dist < best {
			best, at = dist, p
		}
	}
	try(geom.NearestOnSegment2(c, a, b).Dist(c), c)
	try(geom.NearestOnSegment2(d, a, b).Dist(d), d)
	for _, p := range [2]geom.Vec2{a, b} {
		q := geom.NearestOnSegment2(p, c, d)
		try(q.Dist(p), q)
	}
	return best, at
}

func crosses(a, b, c, d geom.Vec2) bool {
	o := func(p, q, r geom.Vec2) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	return o(a, b, c)*o(a, b, d) < 0 && o(c, d, a)*o(c, d, b) < 0
}
