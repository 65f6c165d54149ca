package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// profile is an evaluated profile: one area, or several for a composite one.
type profile struct {
	Section
	areas []region
}

// region is an area with holes; the outer loop runs counter-clockwise, the
// holes clockwise, none repeats its first point.
type region struct {
	outer []geom.Vec2
	holes [][]geom.Vec2
}

var (
	tArbitrary    = ifcread.TypeOf("IfcArbitraryClosedProfileDef")
	tWithVoids    = ifcread.TypeOf("IfcArbitraryProfileDefWithVoids")
	tCenterLine   = ifcread.TypeOf("IfcCenterLineProfileDef")
	tRectangle    = ifcread.TypeOf("IfcRectangleProfileDef")
	tRounded      = ifcread.TypeOf("IfcRoundedRectangleProfileDef")
	tRectHollow   = ifcread.TypeOf("IfcRectangleHollowProfileDef")
	tTrapezium    = ifcread.TypeOf("IfcTrapeziumProfileDef")
	tCircleArea   = ifcread.TypeOf("IfcCircleProfileDef")
	tCircleHollow = ifcread.TypeOf("IfcCircleHollowProfileDef")
	tEllipseArea  = ifcread.TypeOf("IfcEllipseProfileDef")
	tISection     = ifcread.TypeOf("IfcIShapeProfileDef")
	tAsymmetricI  = ifcread.TypeOf("IfcAsymmetricIShapeProfileDef")
	tLSection     = ifcread.TypeOf("IfcLShapeProfileDef")
	tUSection     = ifcread.TypeOf("IfcUShapeProfileDef")
	tCSection     = ifcread.TypeOf("IfcCShapeProfileDef")
	tZSection     = ifcread.TypeOf("IfcZShapeProfileDef")
	tTSection     = ifcread.TypeOf("IfcTShapeProfileDef")
	tCompositeDef = ifcread.TypeOf("IfcCompositeProfileDef")
	tDerivedDef   = ifcread.TypeOf("IfcDerivedProfileDef")
	tMirroredDef  = ifcread.TypeOf("IfcMirroredProfileDef")
)

// profile evaluates a profile in its own plane, its Position applied.
func (r *Reader) profile(in ifcread.Inst, depth int) (*profile, error) {
	if depth > maxDepth {
		return nil, bad(in, "its profiles nest too deep or lead back to themselves")
	}
	p, err := r.rawProfile(in, depth)
	if err != nil {
		return nil, err
	}
	p.Type = in.Name()
	if name := text(in.Arg(1)); name != "" {
		p.Name = name
	}
	for _, a := range p.areas {
		if why := a.check(); why != "" {
			return nil, bad(in, "%s", why)
		}
	}
	return p, nil
}

func (r *Reader) rawProfile(in ifcread.Inst, depth int) (*profile, error) {
	switch in.Type() {
	case tArbitrary, tWithVoids:
		return r.arbitrary(in)
	case tCenterLine:
		return r.centerLine(in)
	case tCompositeDef:
		return r.compositeProfile(in, depth)
	case tDerivedDef, tMirroredDef:
		return r.derivedProfile(in, depth)
	}
	p, err := r.parametrised(in)
	if err != nil {
		return nil, err
	}
	at, err := r.axes(in.Arg(2))
	if err != nil {
		return nil, err
	}
	if at != geom.Identity {
		p.transform(at)
	}
	return p, nil
}

// transform moves p by a map of its plane. A mirroring map turns the loops.
func (p *profile) transform(m geom.Affine) {
	move := func(q geom.Vec2) geom.Vec2 {
		v := m.Apply(geom.Vec{X: q.X, Y: q.Y})
		return geom.Vec2{X: v.X, Y: v.Y}
	}
	for _, a := range p.areas {
		for _, l := range append([][]geom.Vec2{a.outer}, a.holes...) {
			for i := range l {
				l[i] = move(l[i])
			}
		}
		a.turn()
	}
	s, even := scale2(m)
	p.Center = move(p.Center)
	p.Turn += math.Atan2(m.X.Y, m.X.X)
	p.X, p.Y, p.Wall = p.X*m.X.Norm(), p.Y*m.Y.Norm(), p.Wall*s
	p.Radius *= s
	if !even {
		p.Radius, p.Wall = 0, 0
		if math.Abs(m.X.Dot(m.Y)) > 1e-9*m.X.Norm()*m.Y.Norm() {
			p.X, p.Y = 0, 0
		}
	}
}

// scale2 is the scale of a map in its plane, and whether it is the same in all
// directions.
func scale2(m geom.Affine) (float64, bool) {
	a, b := m.X.Norm(), m.Y.Norm()
	return a, math.Abs(a-b) <= 1e-6*a && math.Abs(m.X.Dot(m.Y)) <= 1e-6*a*b
}

// turn makes the outer loop counter-clockwise and the holes clockwise.
func (a region) turn() {
	ccw(a.outer)
	for _, h := range a.holes {
		cw(h)
	}
}

// check says why an area cannot be swept, "" when it can.
func (a region) check() string {
	for _, l := range append([][]geom.Vec2{a.outer}, a.holes...) {
		for _, q := range l {
			if !(math.Abs(q.X) < maxCoord && math.Abs(q.Y) < maxCoord) {
				return "its outline has no finite coordinates"
			}
		}
		if len(l) < 3 || !(math.Abs(area(l)) > 1e-6) {
			return "its outline encloses no area"
		}
	}
	return ""
}

// arbitrary reads a profile with a free outline and, maybe, holes.
func (r *Reader) arbitrary(in ifcread.Inst) (*profile, error) {
	outer, err := need(in, 2, "outline")
	if err != nil {
		return nil, err
	}
	c, err := r.curve(outer, 0)
	if err != nil {
		return nil, err
	}
	p := &profile{areas: []region{{outer: c.loop()}}}
	if centre, radius, ok := c.circle(); ok {
		p.Center, p.Radius = centre, radius
	}
	if in.Type() == tWithVoids {
		for v := range in.Arg(3).All() {
			q, ok := v.Inst()
			if !ok {
				return nil, bad(in, "one of its inner outlines is not in the file")
			}
			h, err := r.curve(q, 0)
			if err != nil {
				return nil, err
			}
			p.areas[0].holes = append(p.areas[0].holes, h.loop())
			p.addBore(h)
		}
	}
	if err := p.areas[0].sound(); err != nil {
		return nil, bad(in, "%v", err)
	}
	p.areas[0].turn()
	return p, nil
}

// addBore keeps a circle with one hole in its middle known as a tube, and
// forgets the circle when the hole is another one.
func (p *profile) addBore(h path) {
	c, radius, ok := h.circle()
	if ok && len(p.areas[0].holes) == 1 && p.Radius > radius && c.Dist(p.Center) <= joinTol {
		p.Wall = p.Radius - radius
		return
	}
	p.Radius, p.Wall = 0, 0
}

// loop is a closed curve as a polygon.
func (c path) loop() []geom.Vec2 {
	pts := flat(c.points(bodyTol))
	if n := len(pts); n > 1 && pts[0].Dist(pts[n-1]) <= joinTol {
		pts = pts[:n-1]
	}
	return dropRepeats2(pts)
}

// circle is the circle in a plane z = 0 that c runs around once.
func (c path) circle() (centre geom.Vec2, radius float64, ok bool) {
	var sweep float64
	for i, p := range c.pieces {
		r, round := p.round()
		if !round || math.Abs(p.x.Cross(p.y).Unit().Z) < 1-1e-9 {
			return centre, 0, false
		}
		m := geom.Vec2{X: p.c.X, Y: p.c.Y}
		if i == 0 {
			centre, radius = m, r
		} else if m.Dist(centre) > joinTol || math.Abs(r-radius) > joinTol {
			return centre, 0, false
		}
		d := p.t1 - p.t0
		if p.x.Cross(p.y).Z < 0 {
			d = -d
		}
		sweep += d
	}
	return centre, radius, math.Abs(math.Abs(sweep)-2*math.Pi) < 1e-3
}

// centerLine reads a strip of even thickness along an open curve, or a ring
// along a closed one.
func (r *Reader) centerLine(in ifcread.Inst) (*profile, error) {
	q, err := need(in, 2, "curve")
	if err != nil {
		return nil, err
	}
	t, err := r.positive(in, 3, "thickness")
	if err != nil {
		return nil, err
	}
	c, err := r.curve(q, 0)
	if err != nil {
		return nil, err
	}
	pts := c.points(bodyTol)
	up := geom.Vec{Z: 1}
	left, right := flat(offsetPoints(pts, up, t/2)), flat(offsetPoints(pts, up, -t/2))
	if n := len(pts); n > 3 && pts[0].Dist(pts[n-1]) <= joinTol {
		a := region{outer: dropRepeats2(left), holes: [][]geom.Vec2{dropRepeats2(right)}}
		if math.Abs(area(right)) > math.Abs(area(left)) {
			a.outer, a.holes[0] = a.holes[0], a.outer
		}
		a.turn()
		return &profile{areas: []region{a}}, nil
	}
	for i := len(left) - 1; i >= 0; i-- {
		right = append(right, left[i])
	}
	return &profile{areas: []region{{outer: ccw(dropRepeats2(right))}}}, nil
}

// maxAreas bounds the areas of one composite profile.
const maxAreas = 10_000

func (r *Reader) compositeProfile(in ifcread.Inst, depth int) (*profile, error) {
	p := &profile{}
	for v := range in.Arg(2).All() {
		q, ok := v.Inst()
		if !ok {
			return nil, bad(in, "one of its profiles is not in the file")
		}
		sub, err := r.profile(q, depth+1)
		if err != nil {
			return nil, err
		}
		p.areas = append(p.areas, sub.areas...)
		if len(p.areas) > maxAreas {
			return nil, bad(in, "it has more than %d areas", maxAreas)
		}
	}
	if len(p.areas) == 0 {
		return nil, bad(in, "it has no profiles")
	}
	return p, nil
}

func (r *Reader) derivedProfile(in ifcread.Inst, depth int) (*profile, error) {
	parent, err := need(in, 2, "parent profile")
	if err != nil {
		return nil, err
	}
	m := geom.Affine{X: geom.Vec{X: -1}, Y: geom.Vec{Y: 1}, Z: geom.Vec{Z: 1}} // IfcMirroredProfileDef
	if in.Type() == tDerivedDef {
		op, err := need(in, 3, "operator")
		if err != nil {
			return nil, err
		}
		if m, err = r.operator(op); err != nil {
			return nil, err
		}
	}
	p, err := r.profile(parent, depth+1)
	if err != nil {
		return nil, err
	}
	p.transform(m)
	return p, nil
}
