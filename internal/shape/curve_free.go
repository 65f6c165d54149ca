package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// maxDegree bounds the degree of splines; none in use comes near it.
const maxDegree = 32

// spline reads B-spline and Bezier curves, with and without knots and weights.
func (r *Reader) spline(in ifcread.Inst) (path, error) {
	s := &spline{degree: int(number(in.Arg(0)))}
	var err error
	if s.points, err = r.pointsOf(in, in.Arg(1), nil); err != nil {
		return path{}, err
	}
	n := len(s.points)
	if s.degree < 1 || s.degree > maxDegree || n < s.degree+1 {
		return path{}, bad(in, "degree %d does not fit %d control points", s.degree, n)
	}
	switch in.Type() {
	case tSplineKnots, tRationalSpline:
		s.knots = expandKnots(in.Arg(5), in.Arg(6))
		s.weights = weightsOf(in, 8)
	case tBezier, tRationalBezier:
		s.knots = bezierKnots(n, s.degree)
		s.weights = weightsOf(in, 5)
	default:
		s.knots = uniformKnots(n, s.degree)
	}
	if why := s.check(); why != "" {
		return path{}, bad(in, "%s", why)
	}
	lo, hi := s.domain()
	return path{pieces: []piece{{kind: freeform, spline: s, t0: lo, t1: hi, params: hi - lo}}, first: lo}, nil
}

func weightsOf(in ifcread.Inst, n int) []float64 {
	if in.Arg(n).IsNull() {
		return nil
	}
	return in.Arg(n).Floats(nil)
}

// expandKnots is the knot vector with each knot as often as it counts.
func expandKnots(mult, knots ifcread.Value) []float64 {
	m, k := mult.Ints(nil), knots.Floats(nil)
	var out []float64
	for i := range min(len(m), len(k)) {
		for range min(m[i], maxPieces) {
			out = append(out, k[i])
		}
	}
	return out
}

// bezierKnots makes the spline a chain of Bezier curves.
func bezierKnots(n, degree int) []float64 {
	if (n-1)%degree != 0 {
		return nil
	}
	out := []float64{0}
	for i := 0; i <= (n-1)/degree; i++ {
		for range degree {
			out = append(out, float64(i))
		}
	}
	return append(out, float64((n-1)/degree))
}

// uniformKnots are quasi-uniform: the curve starts and ends in its outermost
// control points.
func uniformKnots(n, degree int) []float64 {
	out := make([]float64, 0, n+degree+1)
	for i := range n + degree + 1 {
		out = append(out, float64(min(max(i-degree, 0), n-degree)))
	}
	return out
}

// check says what is wrong with a spline, "" when nothing is.
func (s *spline) check() string {
	if len(s.knots) != len(s.points)+s.degree+1 {
		return "its knots do not fit its control points"
	}
	for i, k := range s.knots {
		if math.IsNaN(k) || math.IsInf(k, 0) || i > 0 && k < s.knots[i-1] {
			return "its knots do not rise"
		}
	}
	if lo, hi := s.domain(); !(hi > lo) {
		return "its knots span nothing"
	}
	if s.weights == nil {
		return ""
	}
	if len(s.weights) != len(s.points) {
		return "its weights do not fit its control points"
	}
	for _, w := range s.weights {
		if !(w > 0) || math.IsInf(w, 0) {
			return "one of its weights is not positive"
		}
	}
	return ""
}

// offsetCurve reads an offset to the left of the direction of travel, seen
// against the z axis or, in space, against RefDirection. Corners are mitred.
func (r *Reader) offsetCurve(in ifcread.Inst, depth int) (path, error) {
	b, err := need(in, 0, "basis curve")
	if err != nil {
		return path{}, err
	}
	basis, err := r.curve(b, depth+1)
	if err != nil {
		return path{}, err
	}
	d := number(in.Arg(1)) * r.units.Length
	up := geom.Vec{Z: 1}
	if in.Type() == tOffset3D {
		up = direction(in.Arg(3))
	}
	if math.IsNaN(d) || math.IsInf(d, 0) || up == (geom.Vec{}) {
		return path{}, bad(in, "its distance or direction is missing")
	}
	if basis.basis && basis.pieces[0].kind == straight {
		p := &basis.pieces[0]
		p.c = p.c.Add(up.Cross(p.x.Unit()).Mul(d))
		return basis, nil
	}
	pts := offsetPoints(basis.points(pathTol), up, d)
	c, err := chain(in, pts)
	c.scaleParams(basis.params())
	c.first = basis.first
	return c, err
}

// offsetPoints moves a chain of points sideways by d, against the normal up.
func offsetPoints(pts []geom.Vec, up geom.Vec, d float64) []geom.Vec {
	n := len(pts)
	if n < 2 {
		return pts
	}
	closed := n > 3 && pts[0].Dist(pts[n-1]) <= joinTol
	side := func(i int) geom.Vec { return up.Cross(pts[i+1].Sub(pts[i])).Unit() }
	out := make([]geom.Vec, n)
	for i := range pts {
		var a, b geom.Vec
		switch {
		case i > 0 && i < n-1:
			a, b = side(i-1), side(i)
		case closed:
			a, b = side(n-2), side(0)
		case i == 0:
			a, b = side(0), side(0)
		default:
			a, b = side(n-2), side(n-2)
		}
		m := a.Add(b)
		if k := m.Dot(a); k > 0.05 { // less: the chain turns back on itself
			m = m.Mul(1 / k)
		} else {
			m = b
		}
		out[i] = pts[i].Add(m.Mul(d))
	}
	return out
}
