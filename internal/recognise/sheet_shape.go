package recognise

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// newSheet reads a body as a flat plate square to anchors that stand through it;
// nil when it is none.
func newSheet(m *geom.Mesh, anchors []*model.Anchor) *model.Sheet {
	faces := m.PlanarFaces()
	if len(faces) == 0 || len(faces[0].Outline) == 0 {
		return nil
	}
	big := &faces[0]
	other, thick := opposite(faces, big)
	if other == nil || thick > thickestSheet || 2*big.Area < flatShare*m.Area() || thick*thick > big.Area/4 {
		return nil
	}
	var square []*model.Anchor
	for _, a := range anchors {
		if math.Abs(a.Dir.Dot(big.Plane.N)) > squareTo {
			square = append(square, a)
		}
	}
	if len(square) == 0 {
		return nil
	}
	upper, under := big, other
	if upper.Plane.N.Dot(square[0].Dir) > 0 {
		upper, under = under, upper
	}
	s := &model.Sheet{
		Body: m, Upper: upper.Plane, Under: under.Plane, Thick: thick, Outline: upper.Outline[0],
		Holes: holes(upper, under),
	}
	for _, a := range square {
		if standsThrough(a, s) {
			s.Anchors = append(s.Anchors, a)
		}
	}
	if len(s.Anchors) == 0 {
		return nil
	}
	return s
}

// standsThrough reports whether an anchor passes a plate within its outline. A
// plate beyond the thread's end is meant for it only when it has a hole there.
func standsThrough(a *model.Anchor, s *model.Sheet) bool {
	_, under := s.Along(a)
	if under > a.Entry.Dist+s.Thick+1 || under < -beyondThread || !measure.OnSheet(a, s) {
		return false
	}
	return under > 0 || slices.ContainsFunc(s.Holes, func(h model.Hole) bool {
		_, off := measure.HoleRoom(a, s, &h)
		return off < a.Diameter && h.Diameter < 3*a.Diameter
	})
}

// narrowest is the least width of a plate's outline.
func narrowest(s *model.Sheet) float64 {
	return width(s.Outline, geom.FrameZX(s.Outline[0], s.Upper.N, s.Upper.N.Perp()))
}
