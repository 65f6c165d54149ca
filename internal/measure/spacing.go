package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// sameFace limits what counts as one entry face: steps of more than this many
// mm, or turns of more than smoothTurn, part two faces.
const sameFace = 5

// Spacing is the distance between the axes of two anchors in the entry face of
// the first, in mm; false when they do not enter the same face.
func Spacing(a, b *model.Anchor) (float64, bool) {
	if a == b || a.Entry == nil || b.Entry == nil || a.Item.Host != b.Item.Host {
		return 0, false
	}
	n := a.Entry.Normal
	if n.Dot(b.Entry.Normal) < math.Cos(smoothTurn) {
		return 0, false
	}
	d := b.Entry.Point.Sub(a.Entry.Point)
	off := d.Dot(n)
	if flat := n.Dot(b.Entry.Normal) > math.Cos(geom.Tol); flat && math.Abs(off) > sameFace {
		return 0, false
	}
	return d.Sub(n.Mul(off)).Norm(), true
}
