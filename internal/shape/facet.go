package shape

import (
	"fmt"
	"slices"

	"embedcheck/internal/geom"
)

// triangulated is the mesh of a closed shell whose faces agree, belong to the
// given bodies and have the given numbers.
func (s *shell) triangulated(group, number []int32) (*geom.Mesh, error) {
	m := &geom.Mesh{}
	use := make([]int32, len(s.points)) // index in the mesh plus one
	vert := func(v int32) int32 {
		for int(v) >= len(use) {
			use = append(use, 0) // a point within a curved face
		}
		if use[v] == 0 {
			m.Verts = append(m.Verts, s.points[v])
			use[v] = int32(len(m.Verts))
		}
		return use[v] - 1
	}
	var bodies []int32
	var cavity []bool
	for i := range s.faces {
		f := &s.faces[i]
		tris, err := s.facets(f)
		if err != nil {
			return nil, err
		}
		for int(group[i]) >= len(cavity) {
			cavity = append(cavity, false)
		}
		cavity[group[i]] = cavity[group[i]] || f.cavity
		for _, t := range tris {
			m.Tris = append(m.Tris, [3]int32{vert(t[0]), vert(t[1]), vert(t[2])})
			m.Face = append(m.Face, number[i])
			bodies = append(bodies, group[i])
		}
	}
	if len(m.Tris) == 0 {
		return nil, errEmpty
	}
	return m, outwards(m, bodies, cavity)
}

// facets are the triangles of one face.
func (s *shell) facets(f *face) ([][3]int32, error) {
	if f.curved != nil {
		return s.curvedFacets(f)
	}
	if len(f.loops) == 1 && len(f.loops[0]) == 3 {
		l := f.loops[0]
		return [][3]int32{{l[0], l[1], l[2]}}, nil
	}
	outer, all := s.corners(f.loops[0]), slices.Clone(f.loops[0])
	holes := make([][]geom.Vec, 0, len(f.loops)-1)
	want := geom.NewellNormal(outer)
	for _, l := range f.loops[1:] {
		h := s.corners(l)
		holes = append(holes, h)
		all = append(all, l...)
		want = want.Add(geom.NewellNormal(h))
	}
	var tris [][3]int32
	var got geom.Vec
	for _, t := range geom.TriangulateLoop3(outer, holes) {
		tri := [3]int32{all[t[0]], all[t[1]], all[t[2]]}
		a := s.points[tri[0]]
		got = got.Add(s.points[tri[1]].Sub(a).Cross(s.points[tri[2]].Sub(a)))
		tris = append(tris, tri)
	}
	if !(got.Dist(want) <= 1e-6*want.Norm()+1e-6) {
		p := outer[0]
		return nil, fmt.Errorf("a face near (%.1f, %.1f, %.1f) mm of its own coordinates crosses itself", p.X, p.Y, p.Z)
	}
	return tris, nil
}

func (s *shell) corners(l []int32) []geom.Vec {
	out := make([]geom.Vec, len(l))
	for i, v := range l {
		out[i] = s.points[v]
	}
	return out
}

// coplanar is the sine of the angle between two faces up to which they lie in
// one plane.
const coplanar = 1e-4

// flatGroups numbers the faces: neighbours in one plane or of one label share a
// number.
func (s *shell) flatGroups(uses []use) []int32 {
	f := newForest(len(s.faces))
	normal := make([]geom.Vec, len(s.faces))
	for i := range s.faces {
		normal[i] = newell(s.points, s.faces[i].loops[0]).Unit()
	}
	for u := range bySide(uses) {
		if len(u) != 2 {
			continue
		}
		a, b := u[0].face, u[1].face
		if l := s.faces[a].label; l != 0 && l == s.faces[b].label ||
			normal[a].Dot(normal[b]) > 0 && normal[a].Cross(normal[b]).Norm() <= coplanar {
			f.join(a, b, false)
		}
	}
	out := make([]int32, len(s.faces))
	var n int32
	for i := range out {
		root, _ := f.find(int32(i))
		if root == int32(i) {
			out[i] = n
			n++
		} else {
			out[i] = out[root]
		}
	}
	return out
}
