package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// sweptDisk reads an IfcSweptDiskSolid or IfcSweptDiskSolidPolygonal.
func (r *Reader) sweptDisk(in ifcread.Inst) (*Solid, error) {
	radius, inner, err := r.diskRadii(in)
	if err != nil {
		return nil, err
	}
	c, err := r.directrix(in, 0)
	if err != nil {
		return nil, err
	}
	if in.Type() == tDiskPolygonal {
		if f := numberOr(in.Arg(5), 0) * r.units.Length; f > 0 && !math.IsInf(f, 0) {
			c = c.filleted(f)
		}
	}
	pts := c.rodPoints()
	if len(pts) < 2 {
		return nil, bad(in, "its directrix has no length")
	}
	return newRod(in.Name(), &geom.Rod{Path: pts, Radius: radius, Inner: inner}), nil
}

func (r *Reader) diskRadii(in ifcread.Inst) (radius, inner float64, err error) {
	if radius, err = r.positive(in, 1, "radius"); err != nil {
		return 0, 0, err
	}
	if v := in.Arg(2); !v.IsNull() {
		if inner = number(v) * r.units.Length; !(inner >= 0 && inner < radius) {
			return 0, 0, bad(in, "its inner radius does not lie inside its radius")
		}
	}
	return radius, inner, nil
}

// directrix is the part of the curve in attribute i that the solid is swept along:
// all swept solids state its two ends in attributes 3 and 4.
func (r *Reader) directrix(in ifcread.Inst, i int) (path, error) {
	q, err := need(in, i, "directrix")
	if err != nil {
		return path{}, err
	}
	c, err := r.curve(q, 0)
	if err != nil {
		return path{}, err
	}
	return r.trimDirectrix(in, c, in.Arg(3), in.Arg(4))
}

// trimDirectrix is the part of a directrix between two parameters.
//
// The standard counts a polyline by its vertices and a composite curve by the
// parameters of its segments (ISO 10303-42). Files also count segments, state
// the developed length, or write 1.0 for the whole of whatever curve it is. An
// end that closely equals the whole in one of these ways means the whole;
// another one is read in the standard's way when it lies in that range, as a
// length when it lies within the developed length, and else as the curve's end.
func (r *Reader) trimDirectrix(in ifcread.Inst, c path, from, to ifcread.Value) (path, error) {
	a, b := measured(from), measured(to)
	if c.basis && c.pieces[0].kind == straight {
		return r.trimEndless(in, c, a, b)
	}
	if math.IsInf(a.at, 0) || math.IsInf(b.at, 0) || math.IsNaN(a.at) && !from.IsNull() || math.IsNaN(b.at) && !to.IsNull() {
		return path{}, bad(in, "its start or end parameter is no number")
	}
	start, end := a.at, b.at
	total := c.params()
	length := c.length() / r.units.Length
	if math.IsNaN(start) {
		start = c.first
	}
	whole := math.IsNaN(end) || r.isWhole(c, end, total, length)
	if start -= c.first; math.Abs(start) <= 1e-6*max(total, 1) {
		start = 0
	}
	if whole && start == 0 {
		return c, nil
	}
	scale, m := 1.0, byParam
	if a.length || b.length || !whole && end-c.first > total*(1+1e-6) && end <= length*(1+1e-3) || whole && start > total {
		scale, m = r.units.Length, byLength
	}
	if end -= c.first; whole {
		end = math.Inf(1)
	}
	out := c.trim(start*scale, end*scale, m)
	if len(out.pieces) == 0 {
		return path{}, bad(in, "its start and end parameters leave nothing of the directrix")
	}
	return out, nil
}

// end is one end parameter; length says that the file calls it a length.
type endParam struct {
	at     float64
	length bool
}

// measured reads a parameter, plain or as an IfcCurveMeasureSelect; NaN when
// it is unset.
func measured(v ifcread.Value) endParam {
	if v.IsNull() {
		return endParam{at: math.NaN()}
	}
	kind, _, _ := v.Typed()
	return endParam{number(v), isLengthType(kind)}
}

// isWhole reports whether an end parameter stands for the end of the curve.
func (r *Reader) isWhole(c path, end, total, length float64) bool {
	near := func(x, tol float64) bool { return math.Abs(end-x) <= tol*max(1, math.Abs(x)) }
	rad, deg := c.angles(r.units.Angle)
	return near(c.first+total, 1e-6) || near(length, 1e-4) || near(1, 1e-9) ||
		near(float64(len(c.pieces)), 1e-9) || near(rad, 1e-6) || near(deg, 1e-6)
}

// angles is the parameter range of c with its arcs counted in radians and in
// degrees, whatever the unit of the file: some mix them up.
func (c path) angles(unit float64) (rad, deg float64) {
	for _, p := range c.pieces {
		if p.kind != conic || p.params == 1 {
			rad += p.params
			deg += p.params
			continue
		}
		rad += p.params * unit
		deg += p.params * unit * 180 / math.Pi
	}
	return rad, deg
}

// trimEndless cuts an IfcLine, which needs both parameters.
func (r *Reader) trimEndless(in ifcread.Inst, c path, a, b endParam) (path, error) {
	p := c.pieces[0]
	p.t0, p.t1 = a.at, b.at
	if a.length {
		p.t0 *= r.units.Length / p.x.Norm()
	}
	if b.length {
		p.t1 *= r.units.Length / p.x.Norm()
	}
	p.params = p.t1 - p.t0
	if !(p.length() > minEdge) || math.IsInf(p.length(), 0) {
		return path{}, bad(in, "its directrix is a line without two ends")
	}
	return path{pieces: []piece{p}}, nil
}

// filleted rounds the corners between straight pieces. Where two roundings need
// more than the piece between them has, both are made smaller.
func (c path) filleted(radius float64) path {
	n := len(c.pieces)
	cut := make([]float64, n+1) // at the joint before piece i
	for i := 1; i < n; i++ {
		if c.pieces[i-1].kind != straight || c.pieces[i].kind != straight {
			continue
		}
		u, v := c.pieces[i-1].tangent(0), c.pieces[i].tangent(0)
		turn := math.Atan2(u.Cross(v).Norm(), u.Dot(v))
		if turn > 1e-6 && turn < math.Pi-1e-3 {
			cut[i] = radius * math.Tan(turn/2)
		}
	}
	fit := make([]float64, n+1)
	for i := range fit {
		fit[i] = cut[i]
		for _, k := range [...]int{i - 1, i} {
			if k < 0 || k >= n || cut[i] == 0 {
				continue
			}
			if need, have := cut[k]+cut[k+1], c.pieces[k].length(); need > have {
				fit[i] = min(fit[i], cut[i]*have/need)
			}
		}
	}
	out := path{first: c.first}
	for i, p := range c.pieces {
		l := p.length()
		if fit[i] > 0 {
			out.pieces = append(out.pieces, fillet(c.pieces[i-1], p, fit[i]))
		}
		if l > 0 && l-fit[i]-fit[i+1] > minEdge {
			out.pieces = append(out.pieces, p.cut(fit[i]/l, 1-fit[i+1]/l))
		}
	}
	return out
}

// fillet is the arc that touches two straight pieces at the distance cut from
// their common corner.
func fillet(a, b piece, cut float64) piece {
	u, v := a.tangent(0), b.tangent(0)
	corner := b.start()
	from := corner.Sub(u.Mul(cut))
	turn := math.Atan2(u.Cross(v).Norm(), u.Dot(v))
	side := v.Sub(u.Mul(u.Dot(v))).Unit() // towards the centre
	r := cut / math.Tan(turn/2)
	return piece{kind: conic, c: from.Add(side.Mul(r)), x: side.Mul(-r), y: u.Mul(r), t1: turn, params: 1}
}
