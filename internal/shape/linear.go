package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tAxisLinear = ifcread.TypeOf("IfcAxis2PlacementLinear")
	tPointAlong = ifcread.TypeOf("IfcPointByDistanceExpression")
)

// linearAxes is the frame of an IfcAxis2PlacementLinear: at a distance along a
// curve, x along the curve and z upwards unless the file states other
// directions.
func (r *Reader) linearAxes(in ifcread.Inst) (geom.Affine, error) {
	if in.Type() == tAxis3D || in.Type() == tAxis2D {
		return r.axesOf(in)
	}
	if in.Type() != tAxisLinear {
		return geom.Identity, bad(in, "placements of this type are not read")
	}
	at, err := need(in, 0, "location")
	if err != nil {
		return geom.Identity, err
	}
	if at.Type() == tPoint {
		p, err := r.point(at)
		return geom.FrameZX(p, directionOr(in.Arg(1), geom.Vec{Z: 1}), direction(in.Arg(2))), err
	}
	if at.Type() != tPointAlong {
		return geom.Identity, bad(at, "points of this type are not read")
	}
	basis, err := need(at, 4, "basis curve")
	if err != nil {
		return geom.Identity, err
	}
	c, err := r.curve(basis, 0)
	if err != nil {
		return geom.Identity, err
	}
	f, _, err := r.frameAlong(at, c)
	if err != nil {
		return geom.Identity, err
	}
	z, x := directionOr(in.Arg(1), f.Z), directionOr(in.Arg(2), f.X)
	if z.Cross(x).Norm() < 1e-9 {
		return geom.Identity, bad(in, "its two directions are parallel")
	}
	return geom.FrameZX(f.T, z, x), nil
}

func directionOr(v ifcread.Value, def geom.Vec) geom.Vec {
	if d := direction(v); d != (geom.Vec{}) {
		return d
	}
	return def
}

// frameAlong is the frame at an IfcPointByDistanceExpression on c, x along the
// curve, y to its left, z upwards, and the distance of its foot from the start,
// mm. The offsets are moved by in that frame (the schema's documentation has the
// lateral one positive to the left; from memory).
func (r *Reader) frameAlong(in ifcread.Inst, c path) (f geom.Affine, along float64, err error) {
	if in.Type() != tPointAlong {
		return f, 0, bad(in, "points of this type are not read")
	}
	d := measured(in.Arg(0))
	at := d.at * r.units.Length
	if kind, _, typed := in.Arg(0).Typed(); typed && !isLengthType(kind) {
		return f, 0, bad(in, "a place by a parameter of the curve is not read, only by a distance")
	}
	total := c.length()
	if c.basis && c.pieces[0].kind == straight {
		total = maxLength // an endless line
	}
	const over = 1 // mm: a rounded length may exceed that of the curve
	if !(at >= -over && at <= total+over) {
		return f, 0, bad(in, "its distance of %.6g mm does not lie on its curve of %.6g mm", at, total)
	}
	at = min(max(at, 0), total)
	f = c.frameAt(at)
	var off [3]float64
	for i, n := range [...]int{3, 1, 2} { // longitudinal, lateral, vertical
		if off[i] = numberOr(in.Arg(n), 0) * r.units.Length; !(math.Abs(off[i]) < maxLength) {
			return f, 0, bad(in, "one of its offsets is no length")
		}
	}
	f.T = f.Apply(geom.Vec{X: off[0], Y: off[1], Z: off[2]})
	return f, at, nil
}

// frameAt is the frame at a distance along c: x along it, y level, to its left.
// Where c stands upright, y is that of the world.
func (c path) frameAt(s float64) geom.Affine {
	p, t := c.pieces[0], 0.0
	if c.basis && p.kind == straight {
		return levelFrame(p.c.Add(p.x.Unit().Mul(s)), p.x.Unit())
	}
	for i, q := range c.pieces {
		w := q.length()
		if p = q; s <= w || i == len(c.pieces)-1 {
			t = 1
			if w > 0 && s < w {
				t = q.fraction(s, w, byLength)
			}
			break
		}
		s -= w
	}
	u := p.t0 + (p.t1-p.t0)*t
	return levelFrame(p.at(u), p.tangent(u))
}

func levelFrame(o, x geom.Vec) geom.Affine {
	y := geom.Vec{Z: 1}.Cross(x)
	if y.Norm() < 1e-6 {
		y = geom.Vec{Y: 1}
	}
	y = y.Unit()
	return geom.Affine{X: x, Y: y, Z: x.Cross(y), T: o}
}
