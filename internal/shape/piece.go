package shape

import (
	"math"

	"embedcheck/internal/geom"
)

type pieceKind uint8

const (
	straight pieceKind = iota
	conic              // circle or ellipse
	freeform           // B-spline
)

// piece is a stretch of a line, a conic or a spline that runs from parameter
// t0 to t1, backwards when t1 is the smaller one:
//
//	straight  c + t x
//	conic     c + cos t x + sin t y
type piece struct {
	kind    pieceKind
	c, x, y geom.Vec
	t0, t1  float64
	spline  *spline
	params  float64 // what the stretch counts in the parameter of the IFC curve
}

// line is the straight piece from a to b, counting one parameter.
func line(a, b geom.Vec) piece {
	return piece{kind: straight, c: a, x: b.Sub(a), t1: 1, params: 1}
}

// arc3 is the arc from a through m to b. It is straight when the three points
// are on one line; ok is false when two of them coincide.
func arc3(a, m, b geom.Vec) (p piece, ok bool) {
	u, v := m.Sub(a), b.Sub(a)
	n := u.Cross(v)
	uu, vv := u.Norm2(), v.Norm2()
	if !(uu > 0 && vv > 0 && b.Sub(m).Norm2() > 0) {
		return line(a, b), false
	}
	if n.Norm2() <= 1e-18*uu*vv {
		return line(a, b), true
	}
	// centre of the circle through the three points, seen from a
	toC := v.Cross(n).Mul(uu).Add(n.Cross(u).Mul(vv)).Mul(1 / (2 * n.Norm2()))
	c := a.Add(toC)
	x := toC.Neg()
	y := n.Unit().Cross(x)
	end := b.Sub(c)
	t := math.Atan2(end.Dot(y), end.Dot(x))
	if t <= 0 {
		t += 2 * math.Pi
	}
	return piece{kind: conic, c: c, x: x, y: y, t1: t, params: 1}, true
}

func (p piece) at(t float64) geom.Vec {
	switch p.kind {
	case conic:
		s, c := math.Sincos(t)
		return p.c.Add(p.x.Mul(c)).Add(p.y.Mul(s))
	case freeform:
		return p.spline.at(t)
	}
	return p.c.Add(p.x.Mul(t))
}

func (p piece) start() geom.Vec { return p.at(p.t0) }
func (p piece) end() geom.Vec   { return p.at(p.t1) }

func (p piece) reversed() piece {
	p.t0, p.t1 = p.t1, p.t0
	return p
}

// cut is the part between two fractions of the parameter range.
func (p piece) cut(from, to float64) piece {
	d := p.t1 - p.t0
	p.t0, p.t1 = p.t0+from*d, p.t0+to*d
	p.params *= to - from
	return p
}

// round reports whether p is an arc of a circle, and its radius.
func (p piece) round() (radius float64, ok bool) {
	if p.kind != conic {
		return 0, false
	}
	a, b := p.x.Norm(), p.y.Norm()
	return a, math.Abs(a-b) <= 1e-9*max(a, b)
}

// even reports whether equal steps of the parameter are equal lengths.
func (p piece) even() bool {
	_, circle := p.round()
	return p.kind == straight || circle
}

func (p piece) length() float64 {
	d := math.Abs(p.t1 - p.t0)
	if p.kind == straight {
		return d * p.x.Norm()
	}
	if r, ok := p.round(); ok {
		return d * r
	}
	pts := p.sample(nil, pathTol)
	l := pts[0].Dist(p.start())
	for i := 1; i < len(pts); i++ {
		l += pts[i].Dist(pts[i-1])
	}
	return l
}

// sample appends the points of p without its start, close enough for tol.
func (p piece) sample(dst []geom.Vec, tol float64) []geom.Vec {
	switch p.kind {
	case conic:
		n := arcSteps(max(p.x.Norm(), p.y.Norm()), p.t1-p.t0, tol)
		for i := 1; i <= n; i++ {
			dst = append(dst, p.at(p.t0+(p.t1-p.t0)*float64(i)/float64(n)))
		}
		return dst
	case freeform:
		return p.spline.sample(dst, p.t0, p.t1, tol)
	}
	return append(dst, p.end())
}

// tangent is the unit direction of travel at parameter t.
func (p piece) tangent(t float64) geom.Vec {
	var d geom.Vec
	switch p.kind {
	case conic:
		s, c := math.Sincos(t)
		d = p.y.Mul(c).Sub(p.x.Mul(s))
	case freeform:
		h := (p.t1 - p.t0) * 1e-6
		d = p.at(t + h).Sub(p.at(t - h))
		return d.Unit()
	default:
		d = p.x
	}
	if p.t1 < p.t0 {
		d = d.Neg()
	}
	return d.Unit()
}
