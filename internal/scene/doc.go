// Package scene packs the bodies around findings for a view in a browser that
// can be turned and cut: hosts, items and bars as they lie, each once for all
// findings that show it.
//
// A scene is the length of a JSON text in four bytes, lowest first, the text,
// and the shapes of its bodies one behind the other. Numbers of a shape are
// signed integers of variable length as encoding/binary has them; places are
// multiples of the shape's step, taken from the scene's origin, and each is
// written as the difference from the one before it.
//
//   - a mesh: 0, step, number of vertices, of triangles, the vertices, and the
//     corners of the triangles. A corner is written as how far it is behind the
//     next vertex that no triangle has used yet: 0 for that vertex itself.
//   - a rod: 1, step, radius and radius of its hole in steps, number of points
//     of its axis, the points.
//
// Steps are counted in tenths of a millimetre. A place differs from the model's
// by at most half a step in each coordinate. The step is one tenth, unless a mesh has more
// triangles than a browser should be given: then vertices go together until it
// has not.
package scene
