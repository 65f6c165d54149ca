package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// FlushTol is how far the open end of an item that lies wholly inside may be
// sunk below a face that still counts as its entry face, in mm.
const FlushTol = 10

// Entry finds where the anchor's axis enters the solid. ownRecess says that the
// open end stands in a recess of the item's own, so that any depth below the
// face is accepted. nil when the axis meets no concrete, or when the open end is
// buried.
func Entry(a *model.Anchor, solid *geom.Mesh, ownRecess bool) *model.Entry {
	in, ok := embedded(a, solid)
	if !ok {
		return nil
	}
	if in.From < -FlushTol-geom.Tol && !ownRecess {
		return nil
	}
	return &model.Entry{
		Point:     a.At(in.From),
		Normal:    in.FromHit.Normal,
		Dist:      in.From,
		Thickness: in.To - in.From,
		Solid:     solid,
		Tri:       in.FromHit.Tri,
	}
}

// EmbeddedLength is the length of the axis, from the open end to the deepest
// point, that lies in the solid, in mm.
func EmbeddedLength(a *model.Anchor, solid *geom.Mesh) float64 {
	var sum float64
	for _, in := range solid.Inside(a.Open, a.Dir) {
		sum += max(0, min(in.To, a.Deepest)-max(in.From, 0))
	}
	return sum
}

// embedded is the piece of concrete on the axis that the anchor enters first,
// seen from its open end. An axis that only grazes the concrete for less than
// a millimetre does not enter it.
func embedded(a *model.Anchor, solid *geom.Mesh) (geom.Interval, bool) {
	for _, in := range solid.Inside(a.Open, a.Dir) {
		if math.Min(in.To, a.Deepest)-math.Max(in.From, 0) > 1 {
			return in, true
		}
	}
	return geom.Interval{}, false
}
