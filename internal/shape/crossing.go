package shape

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

var (
	errTwice   = errors.New("an outline of its profile runs around more than once")
	errOutside = errors.New("an inner outline of its profile lies outside the outer one")
)

// sound says what is wrong with the outlines of an area, nil when nothing is.
// They may touch themselves and each other, along whole sides too. One that runs
// around twice, or over itself, would count as more concrete than there is, and
// so would a hole where there is nothing to take away.
func (a region) sound() error {
	loops := append([][]geom.Vec2{a.outer}, a.holes...)
	for _, l := range loops {
		if !windsOnce(l) {
			return errTwice
		}
	}
	if cross(loops...) {
		return errCrossed
	}
	for _, h := range a.holes {
		for _, p := range h {
			if outside(a.outer, p) {
				return errOutside
			}
		}
	}
	return nil
}

// outside reports whether p lies outside a loop by more than joinTol.
func outside(loop []geom.Vec2, p geom.Vec2) bool {
	for i, a := range loop {
		if geom.NearestOnSegment2(p, a, loop[(i+1)%len(loop)]).Dist(p) <= joinTol {
			return false
		}
	}
	return winding(loop, p) == 0
}

// windsOnce reports whether a loop winds around what is beside it no more than
// once. That is asked beside each side, left and right, at places that a corner
// in the middle of the side does not hide; of a loop with very many sides, beside
// some of them.
func windsOnce(loop []geom.Vec2) bool {
	if convex(loop) {
		return true
	}
	for i := 0; i < len(loop); i += 1 + len(loop)/500 {
		a, b := loop[i], loop[(i+1)%len(loop)]
		d := b.Sub(a)
		off := geom.Vec2{X: -d.Y, Y: d.X}.Mul(5 * joinTol / max(d.Norm(), minEdge))
		for _, t := range [...]float64{0.07, 0.31, 0.53, 0.77, 0.94} {
			p := a.Add(d.Mul(t))
			for _, q := range [...]geom.Vec2{p.Add(off), p.Sub(off)} {
				if w := winding(loop, q); w > 1 || w < -1 {
					return false
				}
			}
		}
	}
	return true
}

// convex reports whether a loop turns one way only and, in all, once.
func convex(loop []geom.Vec2) bool {
	sum, n := 0.0, len(loop)
	var left, right bool
	for i := range loop {
		u, v := loop[(i+1)%n].Sub(loop[i]), loop[(i+2)%n].Sub(loop[(i+1)%n])
		t := math.Atan2(u.X*v.Y-u.Y*v.X, u.Dot(v))
		left, right = left || t > 0, right || t < 0
		sum += t
	}
	return left != right && math.Abs(sum) < 3*math.Pi
}

// winding is how often a loop runs around p, counter-clockwise.
func winding(loop []geom.Vec2, p geom.Vec2) int {
	w := 0
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		if left := (b.X-a.X)*(p.Y-a.Y) > (p.X-a.X)*(b.Y-a.Y); left == (b.Y > a.Y) {
			if b.Y > a.Y {
				w++
			} else {
				w--
			}
		}
	}
	return w
}

// cross reports whether two sides of loops, or of one, go through each other,
// each by more than joinTol.
func cross(loops ...[]geom.Vec2) bool {
	type side struct{ a, b geom.Vec2 }
	var sides []side
	for _, l := range loops {
		for i, a := range l {
			s := side{a, l[(i+1)%len(l)]}
			if s.b.X < s.a.X {
				s.a, s.b = s.b, s.a
			}
			sides = append(sides, s)
		}
	}
	slices.SortFunc(sides, func(s, o side) int { return cmp.Compare(s.a.X, o.a.X) })
	for i, s := range sides {
		for _, o := range sides[i+1:] {
			if o.a.X > s.b.X {
				break
			}
			if parted(s.a, s.b, o.a, o.b) && parted(o.a, o.b, s.a, s.b) {
				return true
			}
		}
	}
	return false
}

// parted reports whether p and q lie on both sides of the line from a to b.
func parted(a, b, p, q geom.Vec2) bool {
	d := b.Sub(a)
	far := joinTol * d.Norm()
	x, y := p.Sub(a), q.Sub(a)
	sp, sq := d.X*x.Y-d.Y*x.X, d.X*y.Y-d.Y*y.X
	return sp > far && sq < -far || sp < -far && sq > far
}
