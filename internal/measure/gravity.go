package measure

import (
	"cmp"
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
	cut := make([]*geom.Mesh, 0, s.Parts())
	for i := 1; i < s.Parts(); i++ {
		cut = append(cut, s.Part(i))
	}
	slices.SortStableFunc(cut, func(a, b *geom.Mesh) int { return cmp.Compare(a.Volume(), b.Volume()) })
	left := 0.0
	for len(cut) > 0 && (left+cut[0].Volume())*reach < gravityTol*whole/2 {
		left += max(cut[0].Volume(), 0)
		cut = cut[1:]
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
