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
// of their shell; nil when all agree with their neighbours. Triangles in which a
// shell is not connected over sides that two triangles share are left alone.
func (m *Mesh) disagreeing() []bool {
	if m.joined() {
		return nil
	}
	at, pts := weld(m.Verts, closeTol)
	tris := make([][3]int32, len(m.Tris))
	for i, t := range m.Tris {
		tris[i] = [3]int32{at[t[0]], at[t[1]], at[t[2]]}
	}
	lonely := false
	for _, a := range adjacency(len(pts), tris) {
		lonely = lonely || a[0] == noSide || a[1] == noSide || a[2] == noSide
	}
	if !lonely {
		return nil
	}
	sides := make(map[[2]int32][]int32, len(tris)*3/2) // triangle*2, +1 when it runs from the larger number
	for i, t := range tris {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			if a > b {
				sides[[2]int32{b, a}] = append(sides[[2]int32{b, a}], int32(2*i+1))
			} else if a < b {
				sides[[2]int32{a, b}] = append(sides[[2]int32{a, b}], int32(2*i))
			}
		}
	}
	flip, seen, any := make([]bool, len(tris)), make([]bool, len(tris)), false
	var todo []int32
	for first := range int32(len(tris)) {
		if seen[first] {
			continue
		}
		seen[first] = true
		for todo = append(todo, first); len(todo) > 0; {
			t := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for k := range 3 {
				on := sides[ordered(tris[t][k], tris[t][(k+1)%3])]
				if len(on) != 2 {
					continue
				}
				o := on[0]
				if o/2 == t {
					o = on[1]
				}
				if !seen[o/2] {
					seen[o/2] = true
					same := on[0]&1 == on[1]&1
					flip[o/2] = flip[t] != same
					any = any || flip[o/2]
					todo = append(todo, o/2)
				}
			}
		}
	}
	if !any {
		return nil
	}
	return flip
}
