package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// newHook measures the bend that follows the shank a..path[0].
func newHook(a geom.Vec, path []geom.Vec, radius float64) *Hook {
	ax := axis{a, path[0].Sub(a).Unit()}
	corner, arc := ax.depths(path)
	h := &Hook{
		Path:    path,
		Deepest: math.Max(ax.surface(path, radius), arc+radius),
		Inside:  math.Max(corner, arc) - radius,
		Leg:     lastStraight(path),
		Turn:    turn(ax.d, path),
	}
	for _, p := range path {
		h.Reach = math.Max(h.Reach, ax.off(p))
	}
	return h
}

// axis is a line with a start and a unit direction.
type axis struct{ a, d geom.Vec }

func (x axis) at(t float64) geom.Vec    { return x.a.Add(x.d.Mul(t)) }
func (x axis) depth(p geom.Vec) float64 { return p.Sub(x.a).Dot(x.d) }
func (x axis) off(p geom.Vec) float64   { return p.Sub(x.a).Cross(x.d).Norm() }
func (x axis) foot(p geom.Vec) geom.Vec { return x.at(x.depth(p)) }
func (x axis) meets(o axis) (s float64) { s, _ = x.closest(o); return s }
func (x axis) closest(o axis) (s, t float64) {
	w, b := o.a.Sub(x.a), x.d.Dot(o.d)
	k := 1 - b*b
	if k < 1e-12 {
		return x.depth(o.a), 0
	}
	s = (w.Dot(x.d) - b*w.Dot(o.d)) / k
	return s, s*b - w.Dot(o.d)
}

// depths are the depth of the deepest corner of the path, and that of the
// deepest arc: bends are given as chords, and where the deepest place lies
// between two points of an arc, the arc counts and not the chord. An arc is
// recognised by four points in a row.
func (x axis) depths(path []geom.Vec) (corner, arc float64) {
	corner, arc = math.Inf(-1), math.Inf(-1)
	for i, p := range path {
		corner = math.Max(corner, x.depth(p))
		if i >= 3 {
			arc = math.Max(arc, x.arcDepth(path[i-3:i+1]))
		}
	}
	return corner, arc
}

// arcDepth is the depth of the arc through four points; -Inf when they are no
// equal chords of one arc or when its deepest point is none between them.
func (x axis) arcDepth(p []geom.Vec) float64 {
	c, r, n, ok := circle3(p[0], p[1], p[2])
	first := p[0].Dist(p[1])
	if !ok || first > 1.5*r || math.Abs(p[3].Dist(c)-r) > 0.02*first {
		return math.Inf(-1)
	}
	down := x.d.Sub(n.Mul(x.d.Dot(n))).Unit()
	deep := math.Inf(-1)
	for i := 1; i < len(p); i++ {
		if chord := p[i-1].Dist(p[i]); math.Abs(chord-first) > 0.08*first {
			return math.Inf(-1)
		}
		mid := p[i-1].Lerp(p[i], 0.5).Sub(c).Unit()
		if down.Dot(mid) >= p[i].Sub(c).Unit().Dot(mid) {
			deep = x.depth(c.Add(down.Mul(r)))
		}
	}
	return deep
}

// circle3 is the circle through three points; n is the normal of its plane.
func circle3(a, b, c geom.Vec) (center geom.Vec, r float64, n geom.Vec, ok bool) {
	u, v := b.Sub(a), c.Sub(a)
	w := u.Cross(v)
	w2 := w.Norm2()
	if w2 <= 1e-12*u.Norm2()*v.Norm2() {
		return geom.Vec{}, 0, geom.Vec{}, false
	}
	off := w.Cross(u).Mul(v.Norm2()).Add(v.Cross(w).Mul(u.Norm2())).Mul(1 / (2 * w2))
	return a.Add(off), off.Norm(), w.Unit(), true
}

// surface is the depth of the deepest point of the surface along the path, with
// a flat end. Where the path turns back up, its surface runs square to the axis.
func (x axis) surface(path []geom.Vec, radius float64) float64 {
	last := len(path) - 1
	deep := x.depth(path[0])
	reach := func(p, u geom.Vec) {
		side := radius * math.Sqrt(math.Max(0, 1-u.Dot(x.d)*u.Dot(x.d)))
		deep = math.Max(deep, x.depth(p)+side)
	}
	for i := 1; i <= last; i++ {
		if d := x.depth(path[i-1]); i > 1 && d > x.depth(path[i-2]) && d > x.depth(path[i]) {
			deep = math.Max(deep, d+radius)
		}
		u := path[i].Sub(path[i-1]).Unit()
		reach(path[i-1], u)
		if i < last || !arcAtEnd(path) {
			reach(path[i], u)
			continue
		}
		c, _, n, ok := circle3(path[last-2], path[last-1], path[last])
		if ok {
			u = n.Cross(path[last].Sub(c)).Unit()
		}
		reach(path[last], u)
	}
	return deep
}

// arcAtEnd reports whether the last three pieces of the path are equal chords of
// an arc.
func arcAtEnd(path []geom.Vec) bool {
	if len(path) < 4 {
		return false
	}
	p := path[len(path)-4:]
	u, v, w := p[1].Sub(p[0]), p[2].Sub(p[1]), p[3].Sub(p[2])
	first := math.Atan2(u.Cross(v).Norm(), u.Dot(v))
	second := math.Atan2(v.Cross(w).Norm(), v.Dot(w))
	return first > straight/100 && first < 46*straight && math.Abs(first-second) < 0.2*first &&
		math.Abs(u.Norm()-v.Norm()) < 0.25*v.Norm() && math.Abs(w.Norm()-v.Norm()) < 0.25*v.Norm()
}

// turn is the greatest angle by which the path has turned away from d, counted
// about the axis of its first bend: a return bend gives pi, an offset the angle
// of its slope.
func turn(d geom.Vec, path []geom.Vec) float64 {
	var about geom.Vec
	total, most := 0.0, 0.0
	for i := 1; i < len(path); i++ {
		u := path[i].Sub(path[i-1]).Unit()
		x := d.Cross(u)
		step := math.Atan2(x.Norm(), d.Dot(u))
		if about == (geom.Vec{}) && x.Norm() > 1e-6 {
			about = x.Unit()
		}
		if x.Dot(about) < 0 {
			step = -step
		}
		total += step
		most = math.Max(most, math.Abs(total))
		d = u
	}
	return most
}

// lastStraight is the length of the straight piece at the end of a path, 0 when
// it ends in an arc.
func lastStraight(path []geom.Vec) float64 {
	if arcAtEnd(path) {
		return 0
	}
	n := len(path)
	u := path[n-1].Sub(path[n-2]).Unit()
	i := n - 2
	for i > 0 && path[i].Sub(path[i-1]).Unit().Dot(u) > math.Cos(straight/10) {
		i--
	}
	return path[n-1].Dist(path[i])
}
