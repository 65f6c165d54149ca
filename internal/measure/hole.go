package measure

import (
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// HoleRoom is the clearance between the shank of an anchor and the edge of a
// hole in a plate, and how far its axis is from the hole's middle, both in mm in
// the plane of the plate's upper side. The clearance is negative where steel
// meets steel. A round hole counts as round, not as its facets.
func HoleRoom(a *model.Anchor, s *model.Sheet, h *model.Hole) (room, off float64) {
	upper, _ := s.Along(a)
	at := a.At(upper)
	off = at.Dist(h.At)
	if h.Round {
		return h.Diameter/2 - off - a.Diameter/2, off
	}
	p := flatOn(s.Upper.Frame(), h.Loop...)
	q := flatOn(s.Upper.Frame(), at)[0]
	d := geom.Polygon{Outer: p}.Dist(q)
	if !(geom.Polygon{Outer: p}).Contains(q) {
		d = -d
	}
	return d - a.Diameter/2, off
}

// OnSheet reports whether the axis of an anchor passes within the outline of a
// plate.
func OnSheet(a *model.Anchor, s *model.Sheet) bool {
	upper, _ := s.Along(a)
	f := s.Upper.Frame()
	return geom.Polygon{Outer: flatOn(f, s.Outline...)}.Contains(flatOn(f, a.At(upper))[0])
}

func flatOn(f geom.Affine, pts ...geom.Vec) []geom.Vec2 {
	out := make([]geom.Vec2, len(pts))
	for i, p := range pts {
		q := f.Local(p)
		out[i] = geom.Vec2{X: q.X, Y: q.Y}
	}
	return out
}
