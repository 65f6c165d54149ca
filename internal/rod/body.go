package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// weldTol is the distance in mm under which two vertices are one.
const weldTol = 1e-3

// body is a mesh made ready: welded, moved to its own middle, split into shells,
// every shell turned outside out. The rest is scratch space for cutting it.
type body struct {
	origin geom.Vec
	verts  []geom.Vec
	shells []*shell
	budget int // triangles that may still be looked at

	height []float64 // of each vertex above the plane being cut
	sec    section
}

// shell is one connected part of the surface.
type shell struct {
	*body
	tris   [][3]int32
	normal []geom.Vec // unit, out of the steel; zero for a sliver
	ids    []int32    // its vertices
	box    geom.Box
	volume float64
	ridges []ridge    // candidate ridges of round sides, the longest first
	used   []bool     // triangles that belong to a tube already
	failed []geom.Vec // direction along which a triangle was tried in vain, nil before the first failure
	tubes  []*tube
}

// ridge is an edge where two facets may meet that are tangent to one cylinder.
type ridge struct {
	len2 float64
	tri  int32
	a, b int32
}

// work is how many triangles FromMesh looks at before it takes what it has
// found: a bound for hostile meshes, a thousand times what real ones need.
const work = 200e6

func newBody(m *geom.Mesh) *body {
	b := &body{budget: work}
	tris := b.weld(m)
	if len(tris) == 0 {
		return b
	}
	b.height = make([]float64, len(b.verts))
	b.split(tris)
	b.orient()
	twins := b.twins(tris)
	for _, s := range b.shells {
		s.findRidges(twins)
		s.used = make([]bool, len(s.tris))
	}
	return b
}

// weld takes over the usable triangles, with vertices relative to the middle of
// the mesh and near-equal ones made one.
func (b *body) weld(m *geom.Mesh) [][3]int32 {
	n := int32(len(m.Verts))
	box := geom.EmptyBox
	used := &geom.Mesh{Verts: m.Verts, Tris: make([][3]int32, 0, len(m.Tris))}
	for _, t := range m.Tris {
		if min(t[0], t[1], t[2]) < 0 || max(t[0], t[1], t[2]) >= n {
			continue
		}
		x, y, z := m.Verts[t[0]], m.Verts[t[1]], m.Verts[t[2]]
		if x.Finite() && y.Finite() && z.Finite() {
			used.Tris = append(used.Tris, t)
			box = box.Add(x).Add(y).Add(z)
		}
	}
	if size := box.Size(); !size.Finite() || size.Norm() > 1e9 {
		return nil // no steel body is a thousand kilometres long
	}
	b.origin = box.Center()
	w := used.Transform(geom.Identity.Shift(b.origin.Neg())).Weld(weldTol)
	b.verts = w.Verts
	return w.Tris
}

// split sorts the triangles into shells, in the order of their first triangles.
// tris is reordered to match.
func (b *body) split(tris [][3]int32) {
	root := geom.NewDisjoint(len(b.verts))
	for _, t := range tris {
		root.Join(t[0], t[1])
		root.Join(t[1], t[2])
	}
	number := make(map[int32]int)
	var count []int
	shellOf := make([]int, len(tris))
	for i, t := range tris {
		r := root.Find(t[0])
		k, ok := number[r]
		if !ok {
			k = len(count)
			number[r] = k
			count = append(count, 0)
		}
		shellOf[i] = k
		count[k]++
	}
	if len(count) > 1 {
		start := make([]int, len(count))
		for k := 1; k < len(count); k++ {
			start[k] = start[k-1] + count[k-1]
		}
		sorted := make([][3]int32, len(tris))
		for i, t := range tris {
			sorted[start[shellOf[i]]] = t
			start[shellOf[i]]++
		}
		copy(tris, sorted)
	}
	normals := make([]geom.Vec, len(tris))
	seen := make([]bool, len(b.verts))
	from := 0
	for _, n := range count {
		s := &shell{body: b, tris: tris[from : from+n], normal: normals[from : from+n], box: geom.EmptyBox}
		from += n
		for _, t := range s.tris {
			for _, v := range t {
				if !seen[v] {
					seen[v] = true
					s.ids = append(s.ids, v)
					s.box = s.box.Add(b.verts[v])
				}
			}
		}
		s.measure()
		b.shells = append(b.shells, s)
	}
}

// measure sets the normals and the volume of the shell.
func (s *shell) measure() {
	o := s.verts[s.ids[0]]
	s.volume = 0
	for i, t := range s.tris {
		p, q, r := s.verts[t[0]], s.verts[t[1]], s.verts[t[2]]
		s.volume += p.Sub(o).Dot(q.Sub(p).Cross(r.Sub(p))) / 6
		s.normal[i] = facetNormal(p, q, r)
	}
}

// facetNormal is zero for a triangle less high than the weld tolerance: its
// normal would be noise.
func facetNormal(p, q, r geom.Vec) geom.Vec {
	u, v := q.Sub(p), r.Sub(p)
	x := u.Cross(v)
	if longest := math.Max(u.Norm2(), math.Max(v.Norm2(), r.Sub(q).Norm2())); x.Norm2() < weldTol*weldTol*longest {
		return geom.Vec{}
	}
	return x.Unit()
}

// orient turns shells outside out that came inside out. A shell inside another
// one of the opposite sense is a cavity and stays as it is.
func (b *body) orient() {
	if len(b.shells) > 1000 {
		return
	}
	var flip []*shell
	for _, s := range b.shells {
		if s.volume < 0 && !b.cavity(s) {
			flip = append(flip, s)
		}
	}
	for _, s := range flip {
		for i, t := range s.tris {
			s.tris[i] = [3]int32{t[0], t[2], t[1]}
		}
		s.measure()
	}
}

func (b *body) cavity(s *shell) bool {
	for _, o := range b.shells {
		if o.volume > -s.volume && o.box.Has(s.box.Min) && o.box.Has(s.box.Max) {
			return true
		}
	}
	return false
}

// findRidges lists the edges between facets that turn outwards by an angle that
// a round side can have, and those whose other facet is not found.
func (s *shell) findRidges(twins *edgeTable) {
	const (
		least = 0.9999863 // cos 0.3 degrees: less is one flat facet
		most  = 0.2756374 // cos 74 degrees: a pentagon turns by 72
	)
	for i, t := range s.tris {
		if s.normal[i] == (geom.Vec{}) {
			continue
		}
		for e := range 3 {
			a, b := t[e], t[(e+1)%3]
			apex, found := twins.opposite(b, a)
			pa, pb := s.verts[a], s.verts[b]
			if found {
				p := s.verts[apex]
				n := facetNormal(pa, p, pb)
				switch c := n.Dot(s.normal[i]); {
				case n == (geom.Vec{}):
					// a sliver hides the other facet
				case a > b, c > least, c < most, p.Sub(pa).Dot(s.normal[i]) > 0:
					continue
				}
			}
			s.ridges = append(s.ridges, ridge{pb.Sub(pa).Norm2(), int32(i), a, b})
		}
	}
	slices.SortFunc(s.ridges, func(x, y ridge) int {
		return cmp.Or(cmp.Compare(y.len2, x.len2), cmp.Compare(x.tri, y.tri), cmp.Compare(x.a, y.a))
	})
}

// twins is the table of all directed edges.
func (b *body) twins(tris [][3]int32) *edgeTable {
	t := newEdgeTable(3 * len(tris))
	for _, s := range b.shells {
		for _, tri := range s.tris {
			for e := range 3 {
				t.put(tri[e], tri[(e+1)%3], tri[(e+2)%3])
			}
		}
	}
	return t
}
