package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// hull is the convex hull, counter-clockwise, without points on its sides. It
// sorts pts.
func hull(pts []geom.Vec2) []geom.Vec2 {
	slices.SortFunc(pts, func(a, b geom.Vec2) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	if len(pts) < 3 {
		return slices.Clone(pts)
	}
	out := make([]geom.Vec2, 0, len(pts)+1)
	for pass, floor := 0, 2; pass < 2; pass++ {
		for i := range pts {
			p := pts[i]
			if pass == 1 {
				p = pts[len(pts)-1-i]
			}
			for len(out) >= floor && out[len(out)-1].Sub(out[len(out)-2]).Cross(p.Sub(out[len(out)-1])) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		floor = len(out) + 1
	}
	return out[:len(out)-1]
}

// corners is the hull without points that stand out less than float and
// rounding noise explain.
func corners(pts []geom.Vec2) []geom.Vec2 {
	h := hull(pts)
	size := 0.0
	for _, p := range h {
		size = math.Max(size, p.Dist(h[0]))
	}
	tol := 0.005 + 5e-5*size
	for again := true; again && len(h) > 3; {
		again = false
		for i := 0; i < len(h) && len(h) > 3; i++ {
			n := len(h)
			if offSegment2(h[i], h[(i+n-1)%n], h[(i+1)%n]) < tol {
				h = slices.Delete(h, i, i+1)
				again = true
			}
		}
	}
	return h
}
