package geom

import (
	"math"
	"slices"
)

// flushTol is how far apart, in mm, faces of two bodies may be that are meant to
// lie in one plane: rounding of coordinates in files.
const flushTol = 1e-3

// flusher moves the vertices of bodies into the planes of faces of earlier
// bodies that they nearly lie in, so that no skins as thin as rounding errors
// remain between them.
type flusher struct {
	done  []*Mesh
	boxes []Box
}

// flush is m with vertices moved where a whole face of m nearly lies in the plane
// of an earlier one that it is near to.
func (f *flusher) flush(m *Mesh, tol float64) *Mesh {
	box := m.Box().Grow(flushTol)
	var faces []flat
	for i, o := range f.done {
		if f.boxes[i].Overlaps(box) {
			faces = append(faces, flatsIn(o, box, tol)...)
		}
	}
	if moves := flushMoves(m, faces, tol); len(moves) > 0 {
		verts := slices.Clone(m.Verts)
		for v, planes := range moves {
			verts[v] = nearestOnPlanes(verts[v], planes)
		}
		m = &Mesh{Verts: verts, Tris: m.Tris, Face: m.Face}
	}
	f.done = append(f.done, m)
	f.boxes = append(f.boxes, m.Box())
	return m
}

// flatsIn is the flat faces that the triangles of m near the box make.
func flatsIn(m *Mesh, box Box, tol float64) []flat {
	var tris [][3]int32
	for i, t := range m.Tris {
		if a, b, c := m.Tri(i); BoxOf(a, b, c).Overlaps(box) {
			tris = append(tris, t)
		}
	}
	faces, _, _ := flats(m.Verts, tris, nil, tol, 0)
	return faces
}

// flushMoves is, for each vertex to be moved, the planes it is to lie in.
func flushMoves(m *Mesh, faces []flat, tol float64) map[int32][]Plane {
	if len(faces) == 0 {
		return nil
	}
	boxes := make([]Box, len(faces))
	for i := range faces {
		boxes[i] = faces[i].box
	}
	tree := NewBoxTree(boxes)
	own, _, _ := flats(m.Verts, m.Tris, nil, tol, 0)
	var moves map[int32][]Plane
	for i := range own {
		tree.Query(own[i].box.Grow(flushTol), func(k int) bool {
			p := faces[k].plane
			if math.Abs(p.N.Dot(own[i].plane.N)) < 0.999 || offPlane(m, own[i].tris, p) > flushTol {
				return true
			}
			if moves == nil {
				moves = map[int32][]Plane{}
			}
			for _, t := range own[i].tris {
				for _, v := range m.Tris[t] {
					moves[v] = addPlane(moves[v], p)
				}
			}
			return true
		})
	}
	return moves
}

// offPlane is the largest distance of the triangles from the plane.
func offPlane(m *Mesh, tris []int32, p Plane) float64 {
	worst := 0.0
	for _, t := range tris {
		for _, v := range m.Tris[t] {
			worst = max(worst, math.Abs(p.Dist(m.Verts[v])))
		}
	}
	return worst
}

// addPlane appends p unless one nearly parallel to it is there, or there are
// three already.
func addPlane(planes []Plane, p Plane) []Plane {
	for _, q := range planes {
		if math.Abs(p.N.Dot(q.N)) > 0.999 {
			return planes
		}
	}
	if len(planes) == 2 && math.Abs(planes[0].N.Cross(planes[1].N).Dot(p.N)) < 0.05 || len(planes) == 3 {
		return planes
	}
	return append(planes, p)
}

// nearestOnPlanes is the point nearest to v that lies in all of up to three
// planes, by turns: they meet at good angles.
func nearestOnPlanes(v Vec, planes []Plane) Vec {
	if len(planes) == 3 {
		n0, n1, n2 := planes[0].N, planes[1].N, planes[2].N
		det := n0.Dot(n1.Cross(n2))
		d := n1.Cross(n2).Mul(-planes[0].Dist(v)).Add(n2.Cross(n0).Mul(-planes[1].Dist(v))).Add(n0.Cross(n1).Mul(-planes[2].Dist(v)))
		return v.Add(d.Mul(1 / det))
	}
	if len(planes) == 2 {
		n0, n1 := planes[0].N, planes[1].N
		c := n0.Dot(n1)
		e0, e1 := -planes[0].Dist(v), -planes[1].Dist(v)
		det := 1 - c*c
		return v.Add(n0.Mul((e0 - c*e1) / det)).Add(n1.Mul((e1 - c*e0) / det))
	}
	for _, p := range planes {
		v = v.Sub(p.N.Mul(p.Dist(v)))
	}
	return v
}
