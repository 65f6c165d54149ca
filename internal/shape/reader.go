package shape

import (
	"sync/atomic"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// Reader evaluates the shapes of one file. It keeps what it has evaluated, so
// that a solid used a thousand times is computed once. It may be used by many
// goroutines at once.
type Reader struct {
	file       *ifcread.File
	units      Units
	world      geom.Affine // the WorldCoordinateSystem
	worldErr   error
	placements cache[geom.Affine] // of placements that others are relative to
	solids     cache[solidResult] // by solid instance
	bodies     cache[*Shape]      // by representation
	maps       recentMaps         // rods of mapped representations
	spent      atomic.Int64       // points, against the budget
}

type solidResult struct {
	solid *Solid
	err   error
}

// NewReader makes a reader for a file with the given units.
func NewReader(f *ifcread.File, u Units) *Reader {
	r := &Reader{file: f, units: u}
	r.world, r.worldErr = r.readWorld()
	return r
}

// Units are the units the reader works with.
func (r *Reader) Units() Units { return r.units }
