package shape

import (
	"math"

	"embedcheck/internal/geom"
)

// surface is a curved surface with two parameters.
type surface interface {
	at(u, v float64) geom.Vec
	// params are those of the point nearest to p; near is a good guess.
	params(p geom.Vec, near geom.Vec2) geom.Vec2
	// periods are the widths after which the parameters repeat, 0 for none.
	periods() (u, v float64)
}

const turn = 2 * math.Pi

// cylinder: u is the angle, v the height in mm.
type cylinder struct {
	frame  geom.Affine
	radius float64
}

func (c cylinder) at(u, v float64) geom.Vec {
	sn, cs := math.Sincos(u)
	return c.frame.Apply(geom.Vec{X: c.radius * cs, Y: c.radius * sn, Z: v})
}

func (c cylinder) params(p geom.Vec, near geom.Vec2) geom.Vec2 {
	q := c.frame.Local(p)
	return geom.Vec2{X: math.Atan2(q.Y, q.X), Y: q.Z}
}

func (c cylinder) periods() (u, v float64) { return turn, 0 }

// torus: u is the angle about the axis, v that about the ring; with a major
// radius of 0 it is a sphere, v its latitude.
type torus struct {
	frame        geom.Affine
	major, minor float64
}

func (t torus) at(u, v float64) geom.Vec {
	su, cu := math.Sincos(u)
	sv, cv := math.Sincos(v)
	r := t.major + t.minor*cv
	return t.frame.Apply(geom.Vec{X: r * cu, Y: r * su, Z: t.minor * sv})
}

func (t torus) params(p geom.Vec, near geom.Vec2) geom.Vec2 {
	q := t.frame.Local(p)
	r := math.Hypot(q.X, q.Y)
	uv := geom.Vec2{X: math.Atan2(q.Y, q.X), Y: math.Atan2(q.Z, r-t.major)}
	if r < 1e-9*(t.major+t.minor) {
		uv.X = near.X // at a pole every angle is right
	}
	return uv
}

func (t torus) periods() (u, v float64) {
	if t.major == 0 {
		return turn, 0
	}
	return turn, turn
}

// extrusionSurface is a curve in the xy plane of frame moved along dir: u is
// the place on the curve, v the distance along dir.
type extrusionSurface struct {
	frame geom.Affine
	curve path
	dir   geom.Vec // unit, in the frame, not in its xy plane
}

func (s extrusionSurface) at(u, v float64) geom.Vec {
	return s.frame.Apply(s.curve.at(u).Add(s.dir.Mul(v)))
}

func (s extrusionSurface) params(p geom.Vec, near geom.Vec2) geom.Vec2 {
	q := s.frame.Local(p)
	v := q.Z / s.dir.Z
	return geom.Vec2{X: s.curve.nearest(q.Sub(s.dir.Mul(v))), Y: v}
}

func (s extrusionSurface) periods() (u, v float64) { return s.curve.period(), 0 }

// period is the parameter width of a closed curve, 0 for an open one.
func (c path) period() float64 {
	if c.start().Dist(c.end()) <= joinTol {
		return c.params()
	}
	return 0
}

// at is the point at a parameter counted from the start; beyond the ends of an
// open curve it goes straight on, a closed one repeats.
func (c path) at(u float64) geom.Vec {
	if w := c.period(); w > 0 {
		u -= w * math.Floor(u/w)
	}
	for i, p := range c.pieces {
		if u <= p.params || i == len(c.pieces)-1 {
			f := u / p.params
			return p.at(p.t0 + (p.t1-p.t0)*f)
		}
		u -= p.params
	}
	return c.end()
}

// revolutionSurface is a curve turned about an axis: u is the angle, v the
// place on the curve.
type revolutionSurface struct {
	frame geom.Affine // origin on the axis, z along it, the curve in its xz plane
	curve path
}

func (s revolutionSurface) at(u, v float64) geom.Vec {
	p := s.curve.at(v)
	sn, cs := math.Sincos(u)
	return s.frame.Apply(geom.Vec{X: p.X*cs - p.Y*sn, Y: p.X*sn + p.Y*cs, Z: p.Z})
}

func (s revolutionSurface) params(p geom.Vec, near geom.Vec2) geom.Vec2 {
	q := s.frame.Local(p)
	r := math.Hypot(q.X, q.Y)
	uv := geom.Vec2{X: math.Atan2(q.Y, q.X), Y: s.curve.nearest(geom.Vec{X: r, Z: q.Z})}
	if s.curve.at(uv.Y).X < 0 {
		uv.X += math.Pi
	}
	if r < 1e-9 {
		uv.X = near.X
	}
	return uv
}

func (s revolutionSurface) periods() (u, v float64) { return turn, s.curve.period() }

// splineSurface is a B-spline surface: for each row of control points a spline
// in v, and the points of those make a spline in u.
type splineSurface struct {
	rows   []spline // along v
	u      spline   // degree and knots along u; its points are filled in
	closed [2]bool
}

func (s *splineSurface) at(u, v float64) geom.Vec {
	c := spline{degree: s.u.degree, knots: s.u.knots, points: make([]geom.Vec, len(s.rows))}
	if s.rows[0].weights != nil {
		c.weights = make([]float64, len(s.rows))
	}
	for i := range s.rows {
		h := s.rows[i].homogeneous(v)
		if c.weights != nil {
			c.weights[i] = h.w
		}
		c.points[i] = h.v.Mul(1 / h.w)
	}
	return c.at(u)
}

// params searches a grid unless the guess is good, then follows the slopes.
func (s *splineSurface) params(p geom.Vec, near geom.Vec2) geom.Vec2 {
	u0, u1 := s.u.domain()
	v0, v1 := s.rows[0].domain()
	best := geom.Vec2{X: min(max(near.X, u0), u1), Y: min(max(near.Y, v0), v1)}
	dist := s.at(best.X, best.Y).Dist(p)
	const n = 16
	for i := range n + 1 {
		for j := range n + 1 {
			q := geom.Vec2{X: u0 + (u1-u0)*float64(i)/n, Y: v0 + (v1-v0)*float64(j)/n}
			if d := s.at(q.X, q.Y).Dist(p); d < 0.7*dist {
				best, dist = q, d
			}
		}
	}
	for range 20 {
		hu, hv := (u1-u0)*1e-6, (v1-v0)*1e-6
		o := s.at(best.X, best.Y)
		du := s.at(best.X+hu, best.Y).Sub(s.at(best.X-hu, best.Y)).Mul(0.5 / hu)
		dv := s.at(best.X, best.Y+hv).Sub(s.at(best.X, best.Y-hv)).Mul(0.5 / hv)
		r := p.Sub(o)
		a, b, c := du.Norm2(), du.Dot(dv), dv.Norm2()
		det := a*c - b*b
		if !(math.Abs(det) > 0) {
			break
		}
		x, y := du.Dot(r), dv.Dot(r)
		next := geom.Vec2{
			X: min(max(best.X+(x*c-y*b)/det, u0), u1),
			Y: min(max(best.Y+(y*a-x*b)/det, v0), v1),
		}
		moved := next.Dist(best)
		best = next
		if moved < 1e-12*(u1-u0+v1-v0) {
			break
		}
	}
	return best
}

func (s *splineSurface) periods() (u, v float64) {
	if s.closed[0] {
		lo, hi := s.u.domain()
		u = hi - lo
	}
	if s.closed[1] {
		lo, hi := s.rows[0].domain()
		v = hi - lo
	}
	return u, v
}
