package rod

import (
	"cmp"
	"slices"

	"embedcheck/internal/geom"
)

// facet is a plane of a shell's surface with all triangles in it, connected or
// not.
type facet struct {
	n    geom.Vec // unit, out of the steel
	d    float64  // of its points along n
	area float64
}

// maxFacets bounds how many planes of one shell are told apart.
const maxFacets = 64

// facets are the largest planes of the shell, by area. The sides of round bars
// are none.
func (s *shell) facets() []facet {
	type sized struct {
		area float64
		tri  int32
	}
	order := make([]sized, 0, len(s.tris))
	for i, t := range s.tris {
		p, q, r := s.verts[t[0]], s.verts[t[1]], s.verts[t[2]]
		if s.normal[i] != (geom.Vec{}) && !s.used[i] {
			order = append(order, sized{q.Sub(p).Cross(r.Sub(p)).Norm() / 2, int32(i)})
		}
	}
	slices.SortFunc(order, func(a, b sized) int {
		return cmp.Or(cmp.Compare(b.area, a.area), cmp.Compare(a.tri, b.tri))
	})
	var out []facet
	for _, o := range order {
		n := s.normal[o.tri]
		p := s.verts[s.tris[o.tri][0]]
		found := false
		for i := range out {
			f := &out[i]
			if n.Dot(f.n) > 0.99996 && abs(p.Dot(f.n)-f.d) < 0.1 {
				f.area += o.area
				found = true
				break
			}
		}
		if !found && len(out) < maxFacets {
			out = append(out, facet{n, p.Dot(n), o.area})
		}
	}
	slices.SortStableFunc(out, func(a, b facet) int { return cmp.Compare(b.area, a.area) })
	return out
}

func abs(x float64) float64 { return max(x, -x) }
