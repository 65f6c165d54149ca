// Package shape turns IFC instances into geometry: units, placements,
// representations, profiles, curves and solids. It is the only package that
// evaluates them; what an element is for is decided elsewhere.
//
// Lengths that leave the package are mm, angles radians. A solid has its own
// local coordinates near zero, whatever map coordinates the file carries, so
// that products of coordinates keep their precision; Part.At leads from them
// to the object's coordinates and Reader.Placement from there to the world.
//
// What cannot be read is named with a reason. Nothing in the package panics on
// a broken file, follows a cycle for ever or drops an item silently.
package shape
