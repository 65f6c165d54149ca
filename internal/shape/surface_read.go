package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tCylindrical     = ifcread.TypeOf("IfcCylindricalSurface")
	tSpherical       = ifcread.TypeOf("IfcSphericalSurface")
	tToroidal        = ifcread.TypeOf("IfcToroidalSurface")
	tLinearExtrusion = ifcread.TypeOf("IfcSurfaceOfLinearExtrusion")
	tRevolution      = ifcread.TypeOf("IfcSurfaceOfRevolution")
	tSplineSurface   = ifcread.TypeOf("IfcBSplineSurfaceWithKnots")
	tRationalSurface = ifcread.TypeOf("IfcRationalBSplineSurfaceWithKnots")
	tRectTrimmed     = ifcread.TypeOf("IfcRectangularTrimmedSurface")
	tOpenProfile     = ifcread.TypeOf("IfcArbitraryOpenProfileDef")
)

// surface reads the surface of an IfcFaceSurface or IfcAdvancedFace into f. A
// plane needs nothing: the bounds say it all.
func (b *brepReader) surface(in ifcread.Inst, f *face) error {
	q, err := need(in, 1, "surface")
	if err != nil {
		return err
	}
	if q.Type() == tPlane || q.Type() == tBoundPlane {
		if len(f.loops) == 0 {
			return bad(in, "it has no bounds")
		}
		return nil
	}
	s, err := b.r.surface(q, 0)
	if err != nil {
		return err
	}
	b.curved++
	f.curved, f.forward = s, truth(in.Arg(2), true)
	f.label = b.curved
	return nil
}

// surface evaluates a curved surface.
func (r *Reader) surface(in ifcread.Inst, depth int) (surface, error) {
	if depth > maxDepth {
		return nil, bad(in, "its surfaces nest too deep or lead back to themselves")
	}
	switch in.Type() {
	case tCylindrical, tSpherical, tToroidal:
		return r.elementary(in)
	case tLinearExtrusion:
		return r.extrusionSurface(in)
	case tRevolution:
		return r.revolutionSurface(in)
	case tSplineSurface, tRationalSurface:
		return r.splineSurface(in)
	case tRectTrimmed:
		base, err := need(in, 0, "basis surface")
		if err != nil {
			return nil, err
		}
		return r.surface(base, depth+1)
	}
	return nil, bad(in, "surfaces of this type are not read")
}

func (r *Reader) elementary(in ifcread.Inst) (surface, error) {
	at, err := r.axes(in.Arg(0))
	if err != nil {
		return nil, err
	}
	radius, err := r.positive(in, 1, "radius")
	if err != nil {
		return nil, err
	}
	switch in.Type() {
	case tCylindrical:
		return cylinder{at, radius}, nil
	case tSpherical:
		return torus{at, 0, radius}, nil
	}
	minor, err := r.positive(in, 2, "minor radius")
	return torus{at, radius, minor}, err
}

// profileCurve is the curve of a profile that makes a surface.
func (r *Reader) profileCurve(in ifcread.Inst) (path, geom.Affine, error) {
	p, err := need(in, 0, "curve")
	if err != nil {
		return path{}, geom.Identity, err
	}
	if p.Type() != tOpenProfile && p.Type() != tArbitrary && p.Type() != tCenterLine {
		return path{}, geom.Identity, bad(p, "a surface over a profile of this type is not read")
	}
	q, err := need(p, 2, "curve")
	if err != nil {
		return path{}, geom.Identity, err
	}
	c, err := r.curve(q, 0)
	if err != nil {
		return path{}, geom.Identity, err
	}
	at, err := r.axes(in.Arg(1))
	return c, at, err
}

func (r *Reader) extrusionSurface(in ifcread.Inst) (surface, error) {
	c, at, err := r.profileCurve(in)
	if err != nil {
		return nil, err
	}
	d := direction(in.Arg(2))
	if !(math.Abs(d.Z) > 1e-6) {
		return nil, bad(in, "its direction lies in the plane of its curve")
	}
	return extrusionSurface{at, c, d}, nil
}

func (r *Reader) revolutionSurface(in ifcread.Inst) (surface, error) {
	c, at, err := r.profileCurve(in)
	if err != nil {
		return nil, err
	}
	q, err := need(in, 2, "axis")
	if err != nil {
		return nil, err
	}
	o, d, err := r.axis1(q)
	if err != nil {
		return nil, err
	}
	// the curve in a frame on the axis, as if it lay in the plane x, z
	x := geom.Vec{Z: 1}.Cross(d)
	if m := c.at(c.params() / 2).Sub(o); m.Dot(x) < 0 {
		x = x.Neg()
	}
	if x.Norm() < 1e-9 {
		x = c.at(c.params() / 2).Sub(o)
	}
	local := geom.FrameZX(o, d, x)
	inv, ok := local.Inverse()
	if !ok {
		return nil, bad(in, "its axis cannot be used")
	}
	return revolutionSurface{at.Mul(local), c.transform(inv)}, nil
}

// transform is the curve moved by m.
func (c path) transform(m geom.Affine) path {
	out := path{first: c.first, basis: c.basis, pieces: make([]piece, len(c.pieces))}
	for i, p := range c.pieces {
		p.c, p.x, p.y = m.Apply(p.c), m.Turn(p.x), m.Turn(p.y)
		if p.spline != nil {
			s := *p.spline
			s.points = make([]geom.Vec, len(p.spline.points))
			for k, q := range p.spline.points {
				s.points[k] = m.Apply(q)
			}
			p.spline = &s
		}
		out.pieces[i] = p
	}
	return out
}

func (r *Reader) splineSurface(in ifcread.Inst) (surface, error) {
	s := &splineSurface{}
	s.u.degree = int(number(in.Arg(0)))
	degree := int(number(in.Arg(1)))
	s.u.knots = expandKnots(in.Arg(7), in.Arg(9))
	knots := expandKnots(in.Arg(8), in.Arg(10))
	var weights [][]float64
	if in.Type() == tRationalSurface {
		for v := range in.Arg(12).All() {
			weights = append(weights, v.Floats(nil))
		}
	}
	for v := range in.Arg(2).All() {
		row := spline{degree: degree, knots: knots}
		var err error
		if row.points, err = r.pointsOf(in, v, nil); err != nil {
			return nil, err
		}
		if i := len(s.rows); weights != nil {
			if i >= len(weights) {
				return nil, bad(in, "its weights do not fit its control points")
			}
			row.weights = weights[i]
		}
		if degree < 1 || degree > maxDegree || len(row.points) <= degree {
			return nil, bad(in, "degree %d does not fit its control points", degree)
		}
		if why := row.check(); why != "" {
			return nil, bad(in, "%s", why)
		}
		if len(s.rows) > 0 && len(row.points) != len(s.rows[0].points) {
			return nil, bad(in, "its rows of control points differ in length")
		}
		s.rows = append(s.rows, row)
		s.u.points = append(s.u.points, row.points[0])
	}
	if s.u.degree < 1 || s.u.degree > maxDegree || len(s.rows) <= s.u.degree {
		return nil, bad(in, "degree %d does not fit its control points", s.u.degree)
	}
	if why := s.u.check(); why != "" {
		return nil, bad(in, "%s", why)
	}
	s.closed = s.seams()
	return s, nil
}

// seams reports in which directions the surface joins up.
func (s *splineSurface) seams() (closed [2]bool) {
	u0, u1 := s.u.domain()
	v0, v1 := s.rows[0].domain()
	closed = [2]bool{true, true}
	for i := range 5 {
		f := float64(i) / 4
		v, u := v0+(v1-v0)*f, u0+(u1-u0)*f
		closed[0] = closed[0] && s.at(u0, v).Dist(s.at(u1, v)) <= joinTol
		closed[1] = closed[1] && s.at(u, v0).Dist(s.at(u, v1)) <= joinTol
	}
	return closed
}
