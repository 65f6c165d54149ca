package geom

import "math"

// Oriented is the mesh with its triangles counter-clockwise seen from outside the
// body: m itself when they are. Within a shell, triangles are made to agree with
// their neighbours first. A shell that no other contains is turned so that its
// volume is positive, and the shells it contains are turned along with it: those
// that ran the other way, hollows, stay hollows.
func (m *Mesh) Oriented() *Mesh {
	at, n := m.shellOf()
	if n == 0 {
		return m
	}
	flip := m.disagreeing()
	volume := make([]float64, n)
	o := m.Box().Center()
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		v := a.Sub(o).Cross(b.Sub(o)).Dot(c.Sub(o)) / 6
		if flip != nil && flip[i] {
			v = -v
		}
		volume[at[i]] += v
	}
	wrong := false
	for _, v := range volume {
		wrong = wrong || v < 0
	}
	if !wrong && flip == nil {
		return m
	}
	around := make([]int, n)
	if wrong {
		around = m.outermost(volume)
	}
	r := &Mesh{Verts: m.Verts, Tris: make([][3]int32, len(m.Tris)), Face: m.Face}
	changed := false
	for i, t := range m.Tris {
		f := wrong && volume[around[at[i]]] < 0
		if flip != nil && flip[i] {
			f = !f
		}
		if f {
			t[1], t[2] = t[2], t[1]
			changed = true
		}
		r.Tris[i] = t
	}
	if !changed {
		return m
	}
	return r
}

// outermost is, for each shell, the largest shell that contains it; itself when
// none does.
func (m *Mesh) outermost(volume []float64) []int {
	shells := m.Shells()
	boxes := make([]Box, len(shells))
	for i, s := range shells {
		boxes[i] = s.Box()
	}
	tree := NewBoxTree(boxes)
	out := make([]int, len(shells))
	for i, s := range shells {
		out[i] = i
		tree.Query(boxes[i], func(k int) bool {
			larger := math.Abs(volume[k]) > math.Abs(volume[out[i]])
			if k != i && larger && boxes[k].Has(boxes[i].Min) && boxes[k].Has(boxes[i].Max) && shells[k].surrounds(s) {
				out[i] = k
			}
			return true
		})
	}
	return out
}

// surrounds reports whether shell s lies inside m. They do not cross, but may
// touch: a few places of s vote.
func (m *Mesh) surrounds(s *Mesh) bool {
	const voters = 5
	in := 0
	for i := range voters {
		a, b, c := s.Tri(i * len(s.Tris) / voters)
		if m.Contains(a.Add(b).Add(c).Mul(1. / 3)) {
			in++
		}
	}
	return 2*in > voters
}

// disagreeing marks the triangles that run the other way than the first triangle
// of their shell; nil when all agree with their neighbours. Where more or less
// than two triangles share a side, they are not compared over it.
func (m *Mesh) disagreeing() []bool {
	if m.joined() {
		return nil
	}
	w := &Mesh{Tris: make([][3]int32, len(m.Tris))}
	at, pts := weld(m.Verts, closeTol)
	for i, t := range m.Tris {
		w.Tris[i] = [3]int32{at[t[0]], at[t[1]], at[t[2]]}
	}
	w.Verts = pts
	if w.joined() {
		return nil
	}
	on := w.onSides()
	flip, seen, found := make([]bool, len(w.Tris)), make([]bool, len(w.Tris)), false
	var todo []int32
	for first := range int32(len(w.Tris)) {
		if seen[first] {
			continue
		}
		seen[first] = true
		for todo = append(todo, first); len(todo) > 0; {
			t := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for k := range 3 {
				o, same, ok := across(on[ordered(w.Tris[t][k], w.Tris[t][(k+1)%3])], t)
				if !ok || seen[o] {
					continue
				}
				seen[o] = true
				flip[o] = flip[t] != same
				found = found || flip[o]
				todo = append(todo, o)
			}
		}
	}
	if !found {
		return nil
	}
	return flip
}

// onSides is the triangles at each side, as 2*triangle, and 1 more for those that
// run from the larger vertex number to the smaller.
func (m *Mesh) onSides() map[[2]int32][]int32 {
	on := make(map[[2]int32][]int32, len(m.Tris)*3/2)
	for i, t := range m.Tris {
		for k := range t {
			e := [2]int32{t[k], t[(k+1)%3]}
			if e[0] == e[1] {
				continue
			}
			key := ordered(e[0], e[1])
			on[key] = append(on[key], int32(2*i+(1-direction(e))/2))
		}
	}
	return on
}

// across is the triangle on the other side than t, and whether both run the same
// way along it; false unless there are two.
func across(on []int32, t int32) (o int32, same, ok bool) {
	if len(on) != 2 {
		return 0, false, false
	}
	o = on[0]
	if o/2 == t {
		o = on[1]
	}
	return o / 2, on[0]&1 == on[1]&1, true
}
