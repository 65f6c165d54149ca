package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// extruded reads an IfcExtrudedAreaSolid.
func (r *Reader) extruded(in ifcread.Inst) (*Solid, error) {
	prof, pos, err := r.sweptArea(in)
	if err != nil {
		return nil, err
	}
	dir, depth, err := r.sweep(in, pos)
	if err != nil {
		return nil, err
	}
	prisms := make([]*Prism, len(prof.areas))
	for i, a := range prof.areas {
		prisms[i] = &Prism{Section: prof.Section, Outer: a.outer, Holes: a.holes, Frame: pos, Dir: dir, Depth: depth}
		prisms[i].centre()
	}
	return fromPrisms(in.Name(), prisms), nil
}

// sweptArea is the profile and the frame of an IfcSweptAreaSolid.
func (r *Reader) sweptArea(in ifcread.Inst) (*profile, geom.Affine, error) {
	q, err := need(in, 0, "profile")
	if err != nil {
		return nil, geom.Identity, err
	}
	prof, err := r.profile(q, 0)
	if err != nil {
		return nil, geom.Identity, err
	}
	pos, err := r.axes(in.Arg(1))
	return prof, pos, err
}

// sweep is the direction, in item coordinates, and the depth of an extrusion.
func (r *Reader) sweep(in ifcread.Inst, pos geom.Affine) (dir geom.Vec, depth float64, err error) {
	d := direction(in.Arg(2))
	if d == (geom.Vec{}) {
		return dir, 0, bad(in, "its direction is missing or has no length")
	}
	if math.Abs(d.Z) < 1e-6 {
		return dir, 0, bad(in, "its direction lies in the plane of the profile")
	}
	depth, err = r.positive(in, 3, "depth")
	return pos.Turn(d), depth, err
}

// centre moves a profile that lies far from its own origin there, and the frame
// the other way.
func (p *Prism) centre() {
	o := originFor(geom.Vec{X: p.Outer[0].X, Y: p.Outer[0].Y})
	if o == (geom.Vec{}) {
		return
	}
	d := geom.Vec2{X: o.X, Y: o.Y}
	for _, l := range append([][]geom.Vec2{p.Outer}, p.Holes...) {
		for i := range l {
			l[i] = l[i].Sub(d)
		}
	}
	p.Section.Center = p.Section.Center.Sub(d)
	p.Frame.T = p.Frame.Apply(o)
}

// fromPrisms is the solid of one or several extruded areas.
func fromPrisms(itemType string, prisms []*Prism) *Solid {
	first := prisms[0]
	s := &Solid{Kind: Mesh, ItemType: itemType, Profile: first.Section.Name, origin: originFor(first.Frame.T), box: geom.EmptyBox}
	for _, p := range prisms {
		p.Frame.T = p.Frame.T.Sub(s.origin)
		s.box = s.box.Union(p.Box())
	}
	s.build = func() (*geom.Mesh, error) { return unionOf(prisms) }
	if len(prisms) > 1 {
		return s
	}
	s.Kind, s.Prism = Extrusion, first
	if c := first.Section; c.Radius > 0 && first.Upright() {
		s.Kind, s.Rod = Rod, first.rod()
		s.box = rodBox(s.Rod)
		first.Outer, first.Holes = nil, nil // few round bars are ever asked for their body
	}
	return s
}

// outlined is the extrusion of a circle with its outline.
func (p *Prism) outlined() *Prism {
	round := func(r float64) []geom.Vec2 {
		l := ellipse(r, r)
		for i := range l {
			l[i] = l[i].Add(p.Section.Center)
		}
		return l
	}
	o := *p
	o.Outer = round(p.Section.Radius)
	if w := p.Section.Wall; w > 0 {
		o.Holes = [][]geom.Vec2{cw(round(p.Section.Radius - w))}
	}
	return &o
}

// rod is the extrusion of a circle.
func (p *Prism) rod() *geom.Rod {
	c := p.Section.Center
	a := p.Frame.Apply(geom.Vec{X: c.X, Y: c.Y})
	rod := &geom.Rod{Path: []geom.Vec{a, a.Add(p.Dir.Mul(p.Depth))}, Radius: p.Section.Radius}
	if p.Section.Wall > 0 {
		rod.Inner = p.Section.Radius - p.Section.Wall
	}
	return rod
}

// unionOf is the body of extruded areas; those that share nothing with the
// others are only put beside them.
func unionOf(prisms []*Prism) (*geom.Mesh, error) {
	var sum *geom.Mesh
	for _, p := range prisms {
		m, err := prismMesh(p)
		if err != nil {
			return nil, err
		}
		if sum, err = join(sum, m); err != nil {
			return nil, err
		}
	}
	return sum, nil
}

// join is the union of two bodies; a may be nil.
func join(a, b *geom.Mesh) (*geom.Mesh, error) {
	switch {
	case a == nil:
		return b, nil
	case a.Box().Grow(geom.Tol).Overlaps(b.Box()):
		return closed(geom.Union(a, b))
	}
	return a.Append(b), nil
}
