package shape

import (
	"fmt"
	"slices"

	"embedcheck/internal/geom"
)

// triangulated is the mesh of a closed shell. Neighbouring faces in one plane,
// and pieces of one curved face, get one number.
func (s *shell) triangulated() (*geom.Mesh, error) {
	m := &geom.Mesh{}
	use := make([]int32, len(s.points)) // index in the mesh plus one
	vert := func(v int32) int32 {
		if use[v] == 0 {
			m.Verts = append(m.Verts, s.points[v])
			use[v] = int32(len(m.Verts))
		}
		return use[v] - 1
	}
	group := s.flatGroups()
	for i := range s.faces {
		tris, err := s.facets(&s.faces[i])
		if err != nil {
			return nil, err
		}
		for _, t := range tris {
			m.Tris = append(m.Tris, [3]int32{vert(t[0]), vert(t[1]), vert(t[2])})
			m.Face = append(m.Face, group[i])
		}
	}
	return m, nil
}

// facets are the triangles of one face.
func (s *shell) facets(f *face) ([][3]int32, error) {
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
	if got.Dist(want) > 1e-6*want.Norm()+1e-6 {
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
func (s *shell) flatGroups() []int32 {
	root := make([]int32, len(s.faces))
	normal := make([]geom.Vec, len(s.faces))
	for i, f := range s.faces {
		root[i] = int32(i)
		normal[i] = newell(s.points, f.loops[0]).Unit()
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, u := range s.sides() {
		if len(u) != 2 || u[0].face == u[1].face {
			continue
		}
		a, b := u[0].face, u[1].face
		if l := s.faces[a].label; l != 0 && l == s.faces[b].label ||
			normal[a].Dot(normal[b]) > 0 && normal[a].Cross(normal[b]).Norm() <= coplanar {
			ra, rb := find(a), find(b)
			root[max(ra, rb)] = min(ra, rb)
		}
	}
	out := make([]int32, len(s.faces))
	var n int32
	for i := range out {
		if r := find(int32(i)); r == int32(i) {
			out[i] = n
			n++
		} else {
			out[i] = out[r]
		}
	}
	return out
}
