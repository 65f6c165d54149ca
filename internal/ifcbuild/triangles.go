package ifcbuild

import (
	"math"
	"slices"
)

// triangles cuts a face into triangles by clipping ears; holes are joined to
// the outline by bridges first. Faces are small, so that the plain way will do.
func (m *Mesh) triangles(f Face) [][3]int {
	if len(f.Holes) == 0 && len(f.Outer) == 3 {
		return [][3]int{{f.Outer[0], f.Outer[1], f.Outer[2]}}
	}
	flat := m.flattened(f)
	loop := slices.Clone(f.Outer)
	holes := slices.Clone(f.Holes)
	rightmost := func(h []int) int {
		best := 0
		for i := range h {
			if flat[h[i]].X > flat[h[best]].X {
				best = i
			}
		}
		return best
	}
	slices.SortStableFunc(holes, func(a, b []int) int { // the rightmost hole is bridged first
		x, y := flat[a[rightmost(a)]].X, flat[b[rightmost(b)]].X
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for i, h := range holes {
		loop = bridge(flat, loop, h, rightmost(h), holes[i+1:])
	}
	return clipEars(flat, loop)
}

// flattened are the face's corners in its plane.
func (m *Mesh) flattened(f Face) map[int]XY {
	var n Vec
	o := m.Verts[f.Outer[0]]
	for i := range f.Outer {
		a, c := m.Verts[f.Outer[i]].Sub(o), m.Verts[f.Outer[(i+1)%len(f.Outer)]].Sub(o)
		n = n.Add(a.Cross(c))
	}
	at := along(o, o.Add(n))
	flat := map[int]XY{}
	for _, l := range append([][]int{f.Outer}, f.Holes...) {
		for _, v := range l {
			d := m.Verts[v].Sub(o)
			flat[v] = XY{d.Dot(at.X), d.Dot(at.Y)}
		}
	}
	return flat
}

// bridge joins a hole to the loop by the shortest way that meets no side.
func bridge(flat map[int]XY, loop, hole []int, from int, others [][]int) []int {
	free := func(a, c XY) bool {
		for _, l := range append([][]int{loop, hole}, others...) {
			for i := range l {
				if cross(a, c, flat[l[i]], flat[l[(i+1)%len(l)]]) {
					return false
				}
			}
		}
		return true
	}
	best, at := math.Inf(1), -1
	p := flat[hole[from]]
	for i, v := range loop {
		q := flat[v]
		if d := math.Hypot(q.X-p.X, q.Y-p.Y); d < best && free(p, q) {
			best, at = d, i
		}
	}
	if at < 0 {
		panic("ifcbuild: a hole lies outside its face")
	}
	out := slices.Clone(loop[:at+1])
	out = append(out, hole[from:]...)
	out = append(out, hole[:from+1]...)
	return append(out, loop[at:]...)
}

// cross reports whether two sides properly cross each other.
func cross(a, b, c, d XY) bool {
	return turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0
}

// turn is twice the area of a triangle: positive when it runs counter-clockwise.
func turn(a, b, c XY) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

func clipEars(flat map[int]XY, loop []int) [][3]int {
	var out [][3]int
	for len(loop) > 3 {
		ear := -1
		for i := range loop {
			if isEar(flat, loop, i) {
				ear = i
				break
			}
		}
		if ear < 0 {
			panic("ifcbuild: a face crosses itself")
		}
		n := len(loop)
		out = append(out, [3]int{loop[(ear+n-1)%n], loop[ear], loop[(ear+1)%n]})
		loop = slices.Delete(loop, ear, ear+1)
	}
	return append(out, [3]int{loop[0], loop[1], loop[2]})
}

func isEar(flat map[int]XY, loop []int, i int) bool {
	n := len(loop)
	ia, ic := (i+n-1)%n, (i+1)%n
	a, p, c := flat[loop[ia]], flat[loop[i]], flat[loop[ic]]
	if turn(a, p, c) <= 1e-9 {
		return false
	}
	for k, v := range loop {
		q := flat[v]
		if k == ia || k == i || k == ic || q == a || q == p || q == c {
			continue
		}
		if turn(a, p, q) >= 0 && turn(p, c, q) >= 0 && turn(c, a, q) >= 0 {
			return false
		}
	}
	return true
}
