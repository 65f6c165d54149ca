package measure

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// gravityTol is by how much, in mm, small recesses that are left out may move a
// centre of gravity.
const gravityTol = 0.5

// CentreOfGravity is the middle of the concrete's volume, openings taken out. The
// steel in it does not count. Recesses so small that all of them together move it
// by less than half a millimetre are left in: booleans cost more than they tell.
// false when the volume cannot be worked out.
func CentreOfGravity(s *geom.Solid) (geom.Vec, bool) {
	body := s.Part(0)
	whole, reach := body.Volume(), body.Box().Size().Norm()
	if !(whole > 0) {
		return geom.Vec{}, false
	}
	cut := cutters(s)
	slices.SortStableFunc(cut, func(a, b *geom.Mesh) int { return cmp.Compare(a.Volume(), b.Volume()) })
	left := 0.0
	for len(cut) > 0 && (left+cut[0].Volume())*reach < gravityTol*whole/2 {
		left += max(cut[0].Volume(), 0)
		cut = cut[1:]
	}
	if v, c, left, ok := geom.CutVolume(body, cut, 1000); ok && len(left) == 0 {
		return c, v <= whole*(1+1e-6)
	}
	rest := body
	switch {
	case len(cut) == s.Parts()-1:
		rest = s.Mesh()
	case len(cut) > 0:
		rest = geom.Subtract(body, cut...)
	}
	c := rest.Centroid()
	v := rest.Volume()
	return c, v > 0 && v <= whole*(1+1e-6) && c.Finite()
}

// cutters are the parts of a solid that are taken out of its body.
func cutters(s *geom.Solid) []*geom.Mesh {
	cut := make([]*geom.Mesh, 0, s.Parts())
	for i := 1; i < s.Parts(); i++ {
		cut = append(cut, s.Part(i))
	}
	return cut
}

// GravityBounds is the centre of gravity of a solid with those openings filled
// that would need a boolean, and by how much, in mm, these can move it at most,
// wherever they lie in the concrete. false when the volume cannot be worked out,
// or when the openings might leave nothing.
func GravityBounds(s *geom.Solid) (centre geom.Vec, slack float64, ok bool) {
	cut := cutters(s)
	whole, centre := s.Part(0).Volume(), s.Part(0).Centroid()
	if v, c, left, ok := geom.CutVolume(s.Part(0), cut, 128); ok {
		whole, centre, cut = v, c, left
	}
	if !(whole > 0) || !centre.Finite() {
		return centre, 0, false
	}
	taken, moment := 0.0, 0.0
	for _, m := range cut {
		far := 0.0
		for _, q := range m.Box().Corners() {
			far = max(far, q.Dist(centre))
		}
		v := math.Abs(m.Volume())
		taken, moment = taken+v, moment+v*far
	}
	slack = moment / (whole - taken)
	return centre, slack + gravityTol, whole > taken && !math.IsNaN(slack)
}
