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

// newView looks at a place as its outlook says.
func newView(s *subject.Subject) *view {
	o := s.Outlook()
	v := &view{radius: o.Radius, cut: o.Cut, cuts: o.Cuts}
	above := geom.V(0, 0, 1)
	if math.Abs(o.Back.Z) > 0.95 {
		above = geom.V(0, 1, 0)
	}
	v.in = o.Back.Neg()
	v.right = v.in.Cross(above).Unit()
	v.up = v.right.Cross(v.in)
	v.eye = o.Centre.Add(o.Back.Mul(o.Radius * 1.25 / math.Tan(fieldOfView*math.Pi/360)))
	return v
}

// camera is the view in world coordinates.
func (v *view) camera(m *model.Model) Camera {
	c := Camera{Eye: m.World(v.eye), Dir: v.in, Up: v.up, FOV: fieldOfView, Aspect: float64(width) / height}
	if v.cuts {
		c.Clip = &Clip{At: m.World(v.cut.N.Mul(v.cut.D)), Dir: v.cut.N}
	}
	return c
}
