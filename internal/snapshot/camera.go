package snapshot

import (
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Camera is where a picture is taken from, in metres in the model's own world
// coordinates.
type Camera struct {
	Eye    geom.Vec
	Dir    geom.Vec // unit, from the eye into the scene
	Up     geom.Vec // unit, at a right angle to Dir
	FOV    float64  // degrees, from top to bottom
	Aspect float64  // width by height
	Clip   *Clip    // nil when nothing is cut open
}

// Clip is the plane that cuts the host open.
type Clip struct {
	At  geom.Vec // metres, world
	Dir geom.Vec // unit, to the side that is taken away
}

// fieldOfView is from top to bottom, in degrees; with 4:3 it is 57.8 from left
// to right, within the 45 to 60 that BCF 2.1 allows.
const fieldOfView = 45.0

// view is the camera in local coordinates, mm.
type view struct {
	eye           geom.Vec
	right, up, in geom.Vec // unit
	radius        float64  // of what is to be seen
	cut           geom.Plane
	cuts          bool
}

// least half size of what is seen, and the farthest that is looked for it, mm.
const leastRadius, mostRadius = 90.0, 1200.0

// newView looks from the open side at the plane that holds the axis and the
// direction of the figure, from its side that is taken away.
func newView(s *subject.Subject) *view {
	v := &view{}
	axis := s.Axis()
	n := axis.Neg()
	if s.Face != nil {
		n = s.Face.Normal
	}
	side := axis.Cross(s.Aim.Dir).Unit()
	if side == (geom.Vec{}) {
		side = axis.Perp()
	}
	// what there is more of on one side stays, seen from the other one
	if off := side.Dot(s.Item.Box.Center().Sub(s.Entry())); math.Abs(off) > 5 && len(s.Item.Anchors) > 1 {
		side = side.Mul(-math.Copysign(1, off))
	} else if side.Z < -0.1 || math.Abs(side.Z) <= 0.1 && side.Dot(geom.V(-0.6, -0.8, 0)) < 0 {
		side = side.Neg()
	}
	centre, radius := surround(s)
	v.radius = radius
	v.cuts = s.Face != nil
	v.cut = geom.PlaneAt(s.Entry(), side)
	back := side.Add(n.Mul(0.5)).Add(s.Aim.Dir.Mul(0.22)).Unit()
	above := geom.V(0, 0, 1)
	if math.Abs(back.Z) > 0.95 {
		above = geom.V(0, 1, 0)
	}
	v.in = back.Neg()
	v.right = v.in.Cross(above).Unit()
	v.up = v.right.Cross(v.in)
	v.eye = centre.Add(back.Mul(radius * 1.25 / math.Tan(fieldOfView*math.Pi/360)))
	return v
}

// surround is the middle and the half size of what has to be seen: the anchor,
// what was measured to, and the item unless it is long.
func surround(s *subject.Subject) (geom.Vec, float64) {
	b := geom.EmptyBox
	if a := s.Anchor; a != nil {
		b = b.Add(a.Open).Add(a.At(a.Deepest))
		for _, q := range a.Hook {
			b = b.Add(q)
		}
	}
	if d := s.Item.Box.Size().Norm(); d < mostRadius || b.Empty() {
		b = b.Union(s.Item.Box)
	}
	if from, to, ok := s.Measured(); ok && from.Dist(to) < mostRadius {
		b = b.Add(from).Add(to)
	}
	if s.Aim.Known && s.Aim.From.Dist(s.Aim.To) < b.Size().Norm() {
		b = b.Add(s.Aim.To)
	}
	if s.Face != nil {
		b = b.Add(s.Face.Point)
	}
	if a := s.Aim.Anchor; a != nil {
		b = b.Add(a.Open).Add(a.At(a.Deepest))
	}
	return b.Center(), min(max(b.Size().Norm()/2, leastRadius), mostRadius)
}

// camera is the view in world coordinates.
func (v *view) camera(m *model.Model) Camera {
	c := Camera{Eye: m.World(v.eye), Dir: v.in, Up: v.up, FOV: fieldOfView, Aspect: float64(width) / height}
	if v.cuts {
		c.Clip = &Clip{At: m.World(v.cut.N.Mul(v.cut.D)), Dir: v.cut.N}
	}
	return c
}
