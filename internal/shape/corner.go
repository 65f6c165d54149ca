package shape

import (
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// corner is a corner of a profile's outline, rounded when r is not 0.
type corner struct {
	x, y, r float64
}

// rounded is the closed polygon through the corners with each rounding drawn
// as an arc, inside the corner or, at a re-entrant one, as a fillet. A rounding
// that does not fit between its neighbours is an error.
func rounded(cs []corner) ([]geom.Vec2, error) {
	n := len(cs)
	cut := make([]float64, n) // what the rounding takes off each side
	for i, c := range cs {
		a, b := cs[(i+n-1)%n], cs[(i+1)%n]
		if c.r > 0 {
			cut[i] = c.r / math.Tan(opening(a, c, b)/2)
		}
	}
	var out []geom.Vec2
	for i, c := range cs {
		a, b := cs[(i+n-1)%n], cs[(i+1)%n]
		for _, s := range [...]struct{ len, cut float64 }{
			{math.Hypot(a.x-c.x, a.y-c.y), cut[(i+n-1)%n]},
			{math.Hypot(b.x-c.x, b.y-c.y), cut[(i+1)%n]},
		} {
			if c.r > 0 && cut[i]+s.cut > s.len*(1+1e-9) {
				return nil, fmt.Errorf("a rounding of %.4g mm does not fit a side of %.4g mm", c.r, s.len)
			}
		}
		out = appendCorner(out, a, c, b, cut[i])
	}
	return dropRepeats2(out), nil
}

// opening is the angle between the two sides at c, 0 to pi.
func opening(a, c, b corner) float64 {
	u, v := geom.Vec2{X: a.x - c.x, Y: a.y - c.y}, geom.Vec2{X: b.x - c.x, Y: b.y - c.y}
	return math.Atan2(math.Abs(u.Cross(v)), u.Dot(v))
}

func appendCorner(dst []geom.Vec2, a, c, b corner, cut float64) []geom.Vec2 {
	p := geom.Vec2{X: c.x, Y: c.y}
	if !(c.r > 0) || !(cut > 0) {
		return append(dst, p)
	}
	u := geom.Vec2{X: a.x - c.x, Y: a.y - c.y}
	v := geom.Vec2{X: b.x - c.x, Y: b.y - c.y}
	u, v = u.Mul(1/u.Norm()), v.Mul(1/v.Norm())
	from, to := p.Add(u.Mul(cut)), p.Add(v.Mul(cut))
	side := geom.Vec2{X: -u.Y, Y: u.X} // towards the centre, at a right angle to the first side
	if side.Dot(v) < 0 {
		side = side.Mul(-1)
	}
	centre := from.Add(side.Mul(c.r))
	sweep := math.Pi - math.Atan2(math.Abs(u.Cross(v)), u.Dot(v))
	if u.Cross(v) > 0 {
		sweep = -sweep
	}
	n := arcSteps(c.r, sweep, bodyTol)
	r := from.Sub(centre)
	dst = append(dst, from)
	for i := 1; i < n; i++ {
		sn, cs := math.Sincos(sweep * float64(i) / float64(n))
		dst = append(dst, centre.Add(geom.Vec2{X: r.X*cs - r.Y*sn, Y: r.X*sn + r.Y*cs}))
	}
	return append(dst, to)
}

// dropRepeats2 removes points of a closed polygon that repeat their
// predecessor, and a last one that repeats the first.
func dropRepeats2(pts []geom.Vec2) []geom.Vec2 {
	out := pts[:0]
	for _, p := range pts {
		if len(out) == 0 || p.Dist(out[len(out)-1]) > minEdge {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0].Dist(out[len(out)-1]) <= minEdge {
		out = out[:len(out)-1]
	}
	return out
}

// area is the signed area of a closed polygon, positive when it runs
// counter-clockwise.
func area(pts []geom.Vec2) float64 {
	if len(pts) < 3 {
		return 0
	}
	var sum float64
	o := pts[0] // keeps products small away from the origin
	for i := 1; i+1 < len(pts); i++ {
		sum += pts[i].Sub(o).Cross(pts[i+1].Sub(o))
	}
	return sum / 2
}

// ccw is the polygon turned so that it runs counter-clockwise, cw the other way
// round. They reorder the slice itself.
func ccw(pts []geom.Vec2) []geom.Vec2 {
	if area(pts) < 0 {
		slices.Reverse(pts)
	}
	return pts
}

func cw(pts []geom.Vec2) []geom.Vec2 {
	if area(pts) > 0 {
		slices.Reverse(pts)
	}
	return pts
}
