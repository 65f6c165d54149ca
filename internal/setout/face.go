package setout

import (
	"math"

	"embedcheck/internal/geom"
)

// Face is the side of the form that an item lies in.
type Face int

const (
	Up   Face = iota // the open side
	Down             // on the form
	Left             // sides of the form, as drawn
	Right
	Lower
	Upper
)

var faceNames = [...]string{"face up", "form face", "left side", "right side", "lower side", "upper side"}

func (f Face) String() string { return faceNames[f] }

// faceOf is the side that a direction in the cast frame looks to.
func faceOf(n geom.Vec) Face {
	x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)
	switch {
	case z >= x-1e-6 && z >= y-1e-6:
		if n.Z < 0 {
			return Down
		}
		return Up
	case x >= y-1e-6:
		if n.X < 0 {
			return Left
		}
		return Right
	case n.Y < 0:
		return Lower
	}
	return Upper
}

// Normal is the direction out of the form on that side, in the cast frame.
func (f Face) Normal() geom.Vec {
	switch f {
	case Up:
		return geom.V(0, 0, 1)
	case Down:
		return geom.V(0, 0, -1)
	case Left:
		return geom.V(-1, 0, 0)
	case Right:
		return geom.V(1, 0, 0)
	case Lower:
		return geom.V(0, -1, 0)
	}
	return geom.V(0, 1, 0)
}

// Side reports whether the face is a side of the form, where heights above the
// form are taped.
func (f Face) Side() bool { return f > Down }

// Axis is a direction that is taped along.
type Axis int

const (
	X Axis = iota // from the left side of the form
	Y             // from its lower side
	Z             // above the form
)

var axisNames = [...]string{"x", "y", "z"}

func (a Axis) String() string { return axisNames[a] }

// From is where the axis is taped from, in words.
func (a Axis) From() string {
	return [...]string{"from the left side of the form", "from the lower side of the form", "above the form"}[a]
}

// Dir is the axis in the cast frame.
func (a Axis) Dir() geom.Vec {
	return [...]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}[a]
}

// Of is the coordinate of a point along the axis.
func (a Axis) Of(p geom.Vec) float64 {
	return [...]float64{p.X, p.Y, p.Z}[a]
}

// Axes are the two directions in which places on a face are taped.
func (f Face) Axes() [2]Axis {
	switch f {
	case Left, Right:
		return [2]Axis{Y, Z}
	case Lower, Upper:
		return [2]Axis{X, Z}
	}
	return [2]Axis{X, Y}
}

// flat is a point on a face, in the coordinates of its axes.
func (f Face) flat(p geom.Vec) geom.Vec2 {
	a := f.Axes()
	return geom.Vec2{X: a[0].Of(p), Y: a[1].Of(p)}
}
