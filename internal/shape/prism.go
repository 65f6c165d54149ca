package shape

import "embedcheck/internal/geom"

// Prism is a profile swept along a straight line. The profile lies in the xy
// plane of Frame; the sweep goes Depth along Dir.
type Prism struct {
	Section Section
	Outer   []geom.Vec2 // counter-clockwise, not repeated at the end
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
	Center geom.Vec2 // of the rectangle or the circle
	Turn   float64   // of the rectangle's X against the x axis of the frame
	X, Y   float64   // full sides of a rectangle
	Radius float64   // outer radius of a circle
	Wall   float64   // of a hollow rectangle or circle
}
