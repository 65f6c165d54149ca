package geom

import (
	"math"
	"slices"
)

// flattened is m with the corners of faces that are flat but for rounding, within
// 1e-3 mm, moved into one plane for each face. Corners where more than three
// planes meet stay where they are.
func (m *Mesh) flattened(tol float64) *Mesh {
	faces, of, _ := flats(m.Verts, m.Tris, nil, flushTol, flatCos)
	rough := false
	for _, f := range faces {
		rough = rough || len(f.tris) > 1 && offPlane(m, f.tris, f.plane) > tol/4
	}
	if !rough {
		return m
	}
	at := make([][]int32, len(m.Verts)) // faces at each vertex
	for t, v := range m.Tris {
		for _, x := range v {
			if !slices.Contains(at[x], of[t]) {
				at[x] = append(at[x], of[t])
			}
		}
	}
	for i := range faces {
		faces[i].plane = fitPlane(m, faces[i])
	}
	r := &Mesh{Verts: slices.Clone(m.Verts), Tris: m.Tris, Face: m.Face}
	for i, fs := range at {
		var planes []Plane
		for _, f := range fs {
			planes = addPlane(planes, faces[f].plane)
		}
		if len(fs) > 3 || len(planes) != len(fs) {
			continue
		}
		if v := nearestOnPlanes(m.Verts[i], planes); v.Dist(m.Verts[i]) <= 2*flushTol {
			r.Verts[i] = v
		}
	}
	return r
}

// fitPlane is the plane of a face through the middle of its corners, weighted by
// area, at a right angle to its area vector.
func fitPlane(m *Mesh, f flat) Plane {
	var n, mid Vec
	sum := 0.0
	for _, t := range f.tris {
		a, b, c := m.Tri(int(t))
		v := b.Sub(a).Cross(c.Sub(a))
		w := v.Norm()
		n, sum = n.Add(v), sum+w
		mid = mid.Add(a.Add(b).Add(c).Mul(w / 3))
	}
	if p := PlaneAt(mid.Mul(1/sum), n); p.N != (Vec{}) && !math.IsNaN(p.D) {
		return p
	}
	return f.plane
}
