package shape

import (
	"bytes"
	"errors"
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tPoint         = ifcread.TypeOf("IfcCartesianPoint")
	tDirection     = ifcread.TypeOf("IfcDirection")
	tAxis1         = ifcread.TypeOf("IfcAxis1Placement")
	tAxis2D        = ifcread.TypeOf("IfcAxis2Placement2D")
	tAxis3D        = ifcread.TypeOf("IfcAxis2Placement3D")
	tOperator2D    = ifcread.TypeOf("IfcCartesianTransformationOperator2D")
	tOperator3D    = ifcread.TypeOf("IfcCartesianTransformationOperator3D")
	tOperator2DNon = ifcread.TypeOf("IfcCartesianTransformationOperator2DnonUniform")
	tOperator3DNon = ifcread.TypeOf("IfcCartesianTransformationOperator3DnonUniform")
)

// point is an IfcCartesianPoint in mm; a missing z is 0.
func (r *Reader) point(in ifcread.Inst) (geom.Vec, error) {
	if in.Type() != tPoint {
		return geom.Vec{}, bad(in, "points of this type are not read")
	}
	p, ok := r.coordinates(in.Arg(0))
	if !ok {
		return geom.Vec{}, bad(in, "its coordinates are not two or three numbers that a map may have")
	}
	return p, nil
}

// coordinates is a list of one to three lengths as a point in mm; false when
// anything in it is no number.
func (r *Reader) coordinates(list ifcread.Value) (p geom.Vec, ok bool) {
	var buf [3]float64
	c := list.Floats(buf[:0])
	if len(c) == 0 || len(c) > 3 || len(c) != 1+bytes.Count(list.Raw(), comma) {
		return p, false
	}
	p.X = c[0] * r.units.Length
	if len(c) > 1 {
		p.Y = c[1] * r.units.Length
	}
	if len(c) > 2 {
		p.Z = c[2] * r.units.Length
	}
	return p, onEarth(p)
}

var comma = []byte{','}

// onEarth reports whether the coordinates are numbers that a map may have.
func onEarth(p geom.Vec) bool {
	return math.Abs(p.X) < maxCoord && math.Abs(p.Y) < maxCoord && math.Abs(p.Z) < maxCoord
}

// pointAt is the point that attribute n of in refers to.
func (r *Reader) pointAt(in ifcread.Inst, n int, what string) (geom.Vec, error) {
	p, err := need(in, n, what)
	if err != nil {
		return geom.Vec{}, err
	}
	return r.point(p)
}

// direction is the unit vector of an IfcDirection; the zero vector when there
// is none.
func direction(v ifcread.Value) geom.Vec {
	in, ok := v.Inst()
	if !ok || in.Type() != tDirection {
		return geom.Vec{}
	}
	var buf [3]float64
	c := in.Arg(0).Floats(buf[:0])
	if len(c) < 2 {
		return geom.Vec{}
	}
	d := geom.Vec{X: c[0], Y: c[1]}
	if len(c) > 2 {
		d.Z = c[2]
	}
	return d.Unit()
}

// axes is the frame of an IfcAxis2Placement3D or 2D, in mm. An unset value is
// the identity: the attribute is optional in most places since IFC4.
func (r *Reader) axes(v ifcread.Value) (geom.Affine, error) {
	if v.IsNull() {
		return geom.Identity, nil
	}
	in, ok := v.Inst()
	if !ok {
		return geom.Identity, errors.New("a placement refers to an instance that is not in the file")
	}
	return r.axesOf(in)
}

func (r *Reader) axesOf(in ifcread.Inst) (geom.Affine, error) {
	var buf [3]ifcread.Value
	a := in.Args(buf[:0])
	if in.Type() != tAxis3D && in.Type() != tAxis2D {
		return geom.Identity, bad(in, "placements of this type are not read")
	}
	for len(a) < 3 {
		a = append(a, ifcread.Value{})
	}
	q, ok := a[0].Inst()
	if !ok {
		_, err := need(in, 0, "location")
		return geom.Identity, err
	}
	o, err := r.point(q)
	if err != nil {
		return geom.Identity, err
	}
	m := geom.Identity
	m.T = o
	switch {
	case in.Type() == tAxis2D:
		x := direction(a[1])
		if x.Z = 0; x == (geom.Vec{}) && !a[1].IsNull() {
			return m, bad(in, "its direction is missing or has no length")
		}
		m = geom.FrameZX(o, geom.Vec{Z: 1}, x)
	case !a[1].IsNull() || !a[2].IsNull():
		z, x := direction(a[1]), direction(a[2])
		if z == (geom.Vec{}) && !a[1].IsNull() || x == (geom.Vec{}) && !a[2].IsNull() {
			return m, bad(in, "one of its directions is missing or has no length")
		}
		if x != (geom.Vec{}) && z.Cross(x).Norm() < 1e-9 && z != (geom.Vec{}) {
			return m, bad(in, "its two directions are parallel")
		}
		m = geom.FrameZX(o, z, x)
	}
	return m, nil
}

// axis1 is the point and the unit direction of an IfcAxis1Placement.
func (r *Reader) axis1(in ifcread.Inst) (o, d geom.Vec, err error) {
	if in.Type() != tAxis1 {
		return o, d, bad(in, "an axis of this type is not read")
	}
	if o, err = r.pointAt(in, 0, "location"); err != nil {
		return o, d, err
	}
	if d = direction(in.Arg(1)); d == (geom.Vec{}) {
		d = geom.Vec{Z: 1}
	}
	return o, d, nil
}

// operator is the map of an IfcCartesianTransformationOperator. It may scale,
// differently along its axes, and mirror.
func (r *Reader) operator(in ifcread.Inst) (geom.Affine, error) {
	switch in.Type() {
	case tOperator3D, tOperator3DNon, tOperator2D, tOperator2DNon:
	default:
		return geom.Identity, bad(in, "a transformation of this type is not read")
	}
	o, err := r.pointAt(in, 2, "local origin")
	if err != nil {
		return geom.Identity, err
	}
	for _, n := range [...]int{0, 1, 4} {
		if v := in.Arg(n); v.Kind() == ifcread.Ref && direction(v) == (geom.Vec{}) {
			return geom.Identity, bad(in, "one of its directions is missing or has no length")
		}
	}
	sx := numberOr(in.Arg(3), 1)
	sy, sz := sx, sx
	var m geom.Affine
	if in.Type() == tOperator2D || in.Type() == tOperator2DNon {
		if in.Type() == tOperator2DNon {
			sy = numberOr(in.Arg(4), sx)
		}
		m = operatorAxes(direction(in.Arg(0)), direction(in.Arg(1)), geom.Vec{Z: 1})
		sz = 1
	} else {
		if in.Type() == tOperator3DNon {
			sy, sz = numberOr(in.Arg(5), sx), numberOr(in.Arg(6), sx)
		}
		y := direction(in.Arg(1))
		if y == (geom.Vec{}) {
			y = geom.Vec{Y: 1} // the default of the schema, also when x is turned
		}
		m = operatorAxes(direction(in.Arg(0)), y, direction(in.Arg(4)))
	}
	m = geom.Affine{X: m.X.Mul(sx), Y: m.Y.Mul(sy), Z: m.Z.Mul(sz), T: o}
	if d := math.Abs(m.Det()); !(d > 1e-12 && d < 1e12) {
		return geom.Identity, bad(in, "its axes and scales flatten the shape")
	}
	return m, nil
}

// operatorAxes are the orthonormal axes of a transformation (EXPRESS function
// IfcBaseAxis): z first, +Z when unset; then the part of x at a right angle to
// it; then y, to that side of both where the given one points. That may make
// the axes left-handed. Where x and y are given and their plane stands on edge
// to +Z, an unset z is their normal.
func operatorAxes(x, y, z geom.Vec) geom.Affine {
	n := x.Cross(y).Unit()
	if z == (geom.Vec{}) {
		z = geom.Vec{Z: 1}
		if n != (geom.Vec{}) && math.Abs(n.Z) < 1e-6 {
			z = n
		}
	}
	if x == (geom.Vec{}) && y != (geom.Vec{}) {
		x = y.Cross(z)
	}
	m := geom.FrameZX(geom.Vec{}, z, x)
	if y.Dot(m.Y) < -1e-9 {
		m.Y = m.Y.Neg()
	}
	return m
}
