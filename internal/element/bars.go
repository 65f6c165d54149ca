package element

import (
	"embedcheck/ifcread"
	"embedcheck/internal/geom"
	"embedcheck/internal/shape"
)

// BarPieces visits the pieces of a reinforcing element in world coordinates:
// rods where the geometry is one. The path is only valid during the call. ok is
// false when the element has pieces of another form, which Shape then gives.
func (m *Model) BarPieces(bar ifcread.Inst, visit func(path []geom.Vec, radius float64, at geom.Affine)) (ok bool, problem string) {
	at, problem := m.place(bar)
	if problem != "" {
		return true, problem
	}
	ok = m.reader.Rods(bar, func(path []geom.Vec, radius float64, local geom.Affine) {
		visit(path, radius, at.Mul(local))
	})
	return ok, ""
}

// BarShape is the whole shape of a reinforcing element, and its place.
func (m *Model) BarShape(bar ifcread.Inst) (*shape.Shape, geom.Affine) {
	at, _ := m.place(bar)
	return m.reader.Shape(bar), at
}
