package shape

import (
	"errors"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// Reader evaluates the shapes of one file. It keeps what it has evaluated, so
// that a solid used a thousand times is computed once. It may be used by many
// goroutines at once.
type Reader struct {
	file  *ifcread.File
	units Units
}

// NewReader makes a reader for a file with the given units.
func NewReader(f *ifcread.File, u Units) *Reader { return &Reader{file: f, units: u} }

// Placement is the map from the coordinates of an object placed by p to world
// coordinates in mm.
func (r *Reader) Placement(p ifcread.Inst) (geom.Affine, error) {
	return geom.Identity, errors.New("placements are not read yet")
}

// Shape is the body of a product. A product without any representation has a
// Shape without parts and without unread items.
func (r *Reader) Shape(product ifcread.Inst) *Shape { return &Shape{} }

// Rods calls visit for every rod that the body of a product consists of, and
// reports whether it consists of rods only. The path is in solid-local mm and
// belongs to the reader: copy it. at leads from there to object coordinates and
// may scale the radius. When ok is false the body holds something else: nothing
// that was visited counts, and Shape tells more.
func (r *Reader) Rods(product ifcread.Inst, visit func(path []geom.Vec, radius float64, at geom.Affine)) (ok bool) {
	return false
}
