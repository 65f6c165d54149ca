// Package geom holds the geometry of embeds: small value types, closed meshes,
// distances and indexes. It knows neither IFC nor rules.
//
// Lengths are millimetres, angles radians, in a local origin near the bodies:
// callers move models at map coordinates close to zero first, since products of
// coordinates are taken here. Nothing in the package changes its arguments.
package geom

// Tol is the slack in mm that a comparison with a limit allows. Coordinates
// carry float noise of about 1e-6 mm; a tape on the form reads 1 mm.
const Tol = 1e-3

// Short reports whether got falls short of want by more than Tol.
func Short(got, want float64) bool { return got < want-Tol }

// Over reports whether got exceeds want by more than Tol.
func Over(got, want float64) bool { return got > want+Tol }
