package geom

import "math"

// flatCos is the cosine of the turn between triangles of one flat face, 1 degree.
const flatCos = 0.99985

// PlanarFace is a piece of a mesh's surface that is flat and connected.
type PlanarFace struct {
	Plane   Plane   // N looks out of the body
	Outline [][]Vec // outer loop first, counter-clockwise seen from outside, then holes, clockwise
	Area    float64 // mm2
	Tris    []int32
}

// PlanarFaces groups the triangles into faces, each as large as it can be.
func (m *Mesh) PlanarFaces() []PlanarFace {
	w := m.Weld(closeTol)
	edge := map[[2]int32]int32{}
	for i, t := range w.Tris {
		for k := range t {
			edge[[2]int32{t[k], t[(k+1)%3]}] = int32(i)
		}
	}
	done := make([]bool, len(w.Tris))
	var out []PlanarFace
	for i := range w.Tris {
		if done[i] {
			continue
		}
		a, _, _ := w.Tri(i)
		pl := PlaneAt(a, w.normal2(i))
		f := PlanarFace{Plane: pl}
		done[i] = true
		todo := []int32{int32(i)}
		for len(todo) > 0 {
			t := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			f.Tris = append(f.Tris, t)
			f.Area += w.normal2(int(t)).Norm() / 2
			v := w.Tris[t]
			for k := range v {
				o, ok := edge[[2]int32{v[(k+1)%3], v[k]}]
				if !ok || done[o] || w.normal2(int(o)).Dot(pl.N) <= 0 {
					continue
				}
				a, b, c := w.Tri(int(o))
				if max(math.Abs(pl.Dist(a)), math.Abs(pl.Dist(b)), math.Abs(pl.Dist(c))) < closeTol {
					done[o] = true
					todo = append(todo, o)
				}
			}
		}
		f.Outline = outline(w, f)
		out = append(out, f)
	}
	return out
}

func outline(w *Mesh, f PlanarFace) [][]Vec {
	next := map[int32][]int32{}
	in := map[[2]int32]bool{}
	for _, t := range f.Tris {
		v := w.Tris[t]
		for k := range v {
			in[[2]int32{v[k], v[(k+1)%3]}] = true
		}
	}
	var starts []int32
	for _, t := range f.Tris {
		v := w.Tris[t]
		for k := range v {
			if !in[[2]int32{v[(k+1)%3], v[k]}] {
				next[v[k]] = append(next[v[k]], v[(k+1)%3])
				starts = append(starts, v[k])
			}
		}
	}
	var loops [][]Vec
	for _, s := range starts {
		var loop []Vec
		for len(next[s]) > 0 {
			loop = append(loop, w.Verts[s])
			n := next[s]
			next[s] = n[1:]
			s = n[0]
		}
		if len(loop) < 3 {
			continue
		}
		loops = append(loops, loop)
		if last := len(loops) - 1; NewellNormal(loop).Dot(f.Plane.N) > 0 {
			loops[0], loops[last] = loops[last], loops[0]
		}
	}
	return loops
}

// FeatureEdges are the edges between different planar faces, for drawings.
func (m *Mesh) FeatureEdges() [][2]Vec {
	seen := map[[2]Vec]bool{}
	var out [][2]Vec
	for _, f := range m.PlanarFaces() {
		for _, l := range f.Outline {
			for i, a := range l {
				b := l[(i+1)%len(l)]
				if !seen[[2]Vec{b, a}] {
					seen[[2]Vec{a, b}] = true
					out = append(out, [2]Vec{a, b})
				}
			}
		}
	}
	return out
}
