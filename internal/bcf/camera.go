package bcf

import (
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// The camera of a finding. The field of view is from top to bottom; from left
// to right it is 57.8 degrees, within the 45 to 60 that 2.1 allows. With the
// distance it keeps what is to be seen in the middle of the picture, also for a
// reader that takes the one field for the other.
const (
	fieldOfView = 45.0    // degrees
	aspect      = 4.0 / 3 // width by height
	distance    = 6.0     // of the eye, in radii of what is to be seen
	leastRadius = 0.25    // metres
	reach       = 5.0     // metres from the worst place within which others come into the picture
	wholeHost   = 0.45    // of a host's radius: at distance it fills the picture then
)

// Slant of the view against the face: enough to see depth, little enough to see
// distances in the face.
const (
	slantUp   = 0.30
	slantSide = 0.25
)

// cameraFor looks at the places of a finding from the open side. It is nil when
// no place is known.
func cameraFor(f *finding.Finding) *Camera {
	w := f.Worst()
	if w == nil || !isPlace(w) {
		return nil
	}
	centre, spread := surround(f, w)
	radius := math.Max(leastRadius, spread+leastRadius/2)
	if w.Unit == "mm" { // the edge or the neighbour that was measured to
		far := math.Max(math.Abs(w.Measured), math.Abs(w.Required)) / 1000
		radius = math.Max(radius, math.Min(2*far, 1.5))
	}
	return lookAt(openSide(f, w), centre, radius)
}

// lookAt looks from the side that n points to; radius is that of what is to be
// seen, in metres.
func lookAt(n, centre geom.Vec, radius float64) *Camera {
	back, up := outward(n)
	return &Camera{
		Eye:       centre.Add(back.Mul(distance * radius)),
		Direction: back.Neg(),
		Up:        up,
		Field:     fieldOfView,
		Aspect:    aspect,
	}
}

// isPlace reports whether the place of an instance is known. Where nothing is
// measured, as for what could not be read, the origin stands for no place.
func isPlace(in *finding.Instance) bool {
	known := in.Relation != finding.None || in.At != (geom.Vec{}) || in.Normal != (geom.Vec{})
	return known && in.At.Finite() && in.At.Norm() < maxNumber
}

// surround is the middle of the places near the worst one, and how far from it
// they reach.
func surround(f *finding.Finding, w *finding.Instance) (centre geom.Vec, spread float64) {
	low, high := w.At, w.At
	for i := range f.Instances {
		in := &f.Instances[i]
		if !isPlace(in) || in.At.Dist(w.At) > reach {
			continue
		}
		low = geom.V(math.Min(low.X, in.At.X), math.Min(low.Y, in.At.Y), math.Min(low.Z, in.At.Z))
		high = geom.V(math.Max(high.X, in.At.X), math.Max(high.Y, in.At.Y), math.Max(high.Z, in.At.Z))
	}
	return low.Lerp(high, 0.5), low.Dist(high) / 2
}

// openSide is the direction out of the concrete where that is known, at the
// worst place or at another one.
func openSide(f *finding.Finding, w *finding.Instance) geom.Vec {
	if n := w.Normal.Unit(); n != (geom.Vec{}) {
		return n
	}
	for i := range f.Instances {
		if n := f.Instances[i].Normal.Unit(); n != (geom.Vec{}) {
			return n
		}
	}
	return geom.Vec{}
}

// outward gives the direction from the scene to the eye for a face with normal
// n, and the up vector: both of length 1 and at a right angle.
func outward(n geom.Vec) (back, up geom.Vec) {
	if n == (geom.Vec{}) {
		n = geom.V(-0.6, -0.8, 0) // from outside and a little from above, as a person looks at a wall
	}
	above := geom.V(0, 0, 1)
	if math.Abs(n.Z) > 0.7 {
		above = geom.V(0, 1, 0) // a plan has north at its top
	}
	right := above.Cross(n).Unit()
	back = n.Add(n.Cross(right).Mul(slantUp)).Add(right.Mul(slantSide)).Unit()
	up = above.Sub(back.Mul(above.Dot(back))).Unit()
	return back, up
}
