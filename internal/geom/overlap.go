package geom

import "math"

// apart is how far b lies beyond a along unit v: the gap between the two planes
// at right angles to v that touch them. Negative: moving b by that much along v
// frees it.
func apart(a, b convex, v Vec) float64 {
	return b.support(v.Neg()).Dot(v) - a.support(v).Dot(v)
}

// escape is a way out of an overlap: moving one body by -gap along v frees it.
type escape struct {
	gap float64 // at most 0
	v   Vec
}

// escapeSearch looks for the shortest way out among the directions shown to it.
// Each is a true way out, so that the depth found is never too small.
type escapeSearch struct {
	a, b convex
	top  [3]escape // the best, in order, no two nearly the same
}

func newEscapeSearch(a, b convex) *escapeSearch {
	none := escape{math.Inf(-1), Vec{}}
	return &escapeSearch{a, b, [3]escape{none, none, none}}
}

// try looks at v, which need not have unit length, and the opposite direction.
func (s *escapeSearch) try(v Vec) {
	v = v.Unit()
	s.tryOne(v)
	s.tryOne(v.Neg())
}

// tryOne looks at unit v only; a zero v is none.
func (s *escapeSearch) tryOne(v Vec) {
	if v == (Vec{}) {
		return
	}
	e := escape{apart(s.a, s.b, v), v}
	for i := range s.top {
		if !(e.gap > s.top[i].gap) {
			if s.top[i].v.Dot(e.v) > 0.999 {
				return
			}
			continue
		}
		e, s.top[i] = s.top[i], e
		if s.top[i].v.Dot(e.v) > 0.999 {
			return
		}
	}
}

// best is the shortest way out seen.
func (s *escapeSearch) best() escape { return s.top[0] }

// refine turns the best directions little by little as long as that helps: the
// surface of round bodies has a best direction between those tried.
func (s *escapeSearch) refine() {
	for _, e := range s.top {
		if e.v == (Vec{}) {
			break
		}
		if e = s.climb(e); e.gap > s.top[0].gap {
			s.top[0] = e
		}
	}
}

// climb looks around in ever smaller rings, turned against each other.
func (s *escapeSearch) climb(e escape) escape {
	const (
		least  = 1e-9 // radians
		gain   = 1e-9 // mm that a step has to bring to be repeated
		most   = 300  // steps
		spokes = 8
		rings  = 2
	)
	turn, step := 0.0, 0.2
	for n := 0; step > least && n < most; n++ {
		was := e.gap
		for range rings {
			x := e.v.Perp()
			y := e.v.Cross(x)
			for k := range spokes {
				sin, cos := math.Sincos(turn + 2*math.Pi*float64(k)/spokes)
				w := e.v.Add(x.Mul(cos * step)).Add(y.Mul(sin * step)).Unit()
				if g := apart(s.a, s.b, w); g > e.gap {
					e = escape{g, w}
				}
			}
			if e.gap > was+gain {
				break
			}
			turn += 0.7 // no part of a full turn
		}
		if !(e.gap > was+gain) {
			step /= 2
		}
	}
	return e
}

// around looks all around at the directions at a right angle to unit axis. The
// distance along them has a ridge there when the axis is that of a straight body.
func (s *escapeSearch) around(axis Vec) {
	if axis == (Vec{}) {
		return
	}
	const steps = 24
	x := axis.Perp()
	y := axis.Cross(x)
	at := func(t float64) Vec {
		sin, cos := math.Sincos(t)
		return x.Mul(cos).Add(y.Mul(sin))
	}
	f := func(t float64) float64 { return apart(s.a, s.b, at(t)) }
	var g [steps]float64
	for i := range g {
		g[i] = f(2 * math.Pi / steps * float64(i))
	}
	for i := range g {
		if g[i] >= g[(i+steps-1)%steps] && g[i] >= g[(i+1)%steps] {
			const step = 2 * math.Pi / steps
			s.tryOne(at(highest(f, step*float64(i-1), step*float64(i+1))).Unit())
		}
	}
}

// highest is where a function with one peak between lo and hi is highest, by
// golden section.
func highest(f func(float64) float64, lo, hi float64) float64 {
	const g = 0.6180339887498949
	x, y := hi-g*(hi-lo), lo+g*(hi-lo)
	fx, fy := f(x), f(y)
	for range 45 {
		if fx > fy {
			hi, y, fy = y, x, fx
			x = hi - g*(hi-lo)
			fx = f(x)
		} else {
			lo, x, fx = x, y, fy
			y = lo + g*(hi-lo)
			fy = f(y)
		}
	}
	return (lo + hi) / 2
}
