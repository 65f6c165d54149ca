package shape

import (
	"math"

	"embedcheck/internal/geom"
)

// Prism is a profile swept along a straight line. The profile lies in the xy
// plane of Frame; the sweep goes Depth along Dir.
type Prism struct {
	Section Section
	Outer   []geom.Vec2 // counter-clockwise, the first point not repeated; nil in a Solid of Kind Rod
	Holes   [][]geom.Vec2
	Frame   geom.Affine // rigid, to solid-local coordinates
	Dir     geom.Vec    // unit, in solid-local coordinates
	Depth   float64
}

// Section says what a profile is, so that a plate or a round bar is known
// without looking at its outline. Sizes are 0 where they do not apply.
type Section struct {
	Type   string    // IfcRectangleProfileDef, ...
	Name   string    // as written
	Center geom.Vec2 // of a rectangle or circle, in the frame
	Turn   float64   // of a rectangle's X against the x axis of the frame
	X, Y   float64   // full sides of a rectangle
	Radius float64   // outer radius of a circle
	Wall   float64   // of a hollow rectangle or circle
}

// Box is the box around p.
func (p *Prism) Box() geom.Box {
	b := geom.EmptyBox
	d := p.Dir.Mul(p.Depth)
	for _, q := range p.Outer {
		v := p.Frame.Apply(geom.Vec{X: q.X, Y: q.Y})
		b = b.Add(v).Add(v.Add(d))
	}
	return b
}

// Upright reports whether p is swept at a right angle to its profile.
func (p *Prism) Upright() bool { return math.Abs(p.Dir.Dot(p.Frame.Z)) > 1-1e-9 }

// Sides are the three edge lengths of p when it is a cuboid, in the order of
// Section.X, Section.Y, Depth; ok is false for anything else. A rectangle drawn
// as a closed polyline counts too.
func (p *Prism) Sides() (x, y, depth float64, ok bool) {
	if len(p.Outer) != 4 || len(p.Holes) > 0 || !p.Upright() {
		return 0, 0, 0, false
	}
	if p.Section.X > 0 {
		return p.Section.X, p.Section.Y, p.Depth, true
	}
	o := p.Outer
	u, v := o[1].Sub(o[0]), o[3].Sub(o[0])
	square := math.Abs(u.Dot(v)) <= 1e-6*u.Norm()*v.Norm()
	if !square || o[2].Dist(o[1].Add(v)) > 1e-6*(u.Norm()+v.Norm()) {
		return 0, 0, 0, false
	}
	return u.Norm(), v.Norm(), p.Depth, true
}
