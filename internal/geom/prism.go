package geom

import "slices"

// Prism is a profile in the xy plane of frame, moved by depth along dir, which
// is given in frame's axes; holes go through. It is closed and looks outwards
// whichever way it is moved and its loops run. Face numbers: 0 the profile, 1
// the moved profile, then one a side, outer first, then each hole.
//
// runs, when given, has one slice for outer and one for each hole, with a number
// for each side (from its point to the next): neighbouring sides with the same
// number make one smooth face and share a face number. A nil slice, or a missing
// one, means that no sides do.
func Prism(outer []Vec2, holes [][]Vec2, frame Affine, dir Vec, depth float64, runs ...[]int) *Mesh {
	move := frame.Turn(dir.Unit().Mul(depth))
	n := len(outer)
	for _, h := range holes {
		n += len(h)
	}
	m := &Mesh{Verts: make([]Vec, 2*n)}
	for i, p := range append(outer[:len(outer):len(outer)], slices.Concat(holes...)...) {
		v := frame.Apply(Vec{p.X, p.Y, 0})
		m.Verts[i], m.Verts[n+i] = v, v.Add(move)
	}
	caps := Triangulate(outer, holes)
	m.Tris = make([][3]int32, 0, 2*(len(caps)+n))
	m.Face = make([]int32, 0, 2*(len(caps)+n))
	m.addCap(caps, 0, 0, true)
	m.addCap(caps, int32(n), 1, false)
	faces := sideFaces{next: 2}
	m.addSidesOf(outer, 0, int32(n), &faces, nth(runs, 0), loopArea(outer) < 0)
	first := int32(len(outer))
	for i, h := range holes {
		m.addSidesOf(h, first, int32(n), &faces, nth(runs, i+1), loopArea(h) > 0)
		first += int32(len(h))
	}
	m.lookOut()
	return m
}

func (m *Mesh) addSidesOf(loop []Vec2, first, up int32, faces *sideFaces, run []int, reverse bool) {
	faces.number(len(loop), run)
	m.addStrip(first, int32(len(loop)), up, faces.of, reverse)
}

// BoxMesh is the box between two corners.
func BoxMesh(lo, hi Vec) *Mesh {
	b := BoxOf(lo, hi)
	lo, hi = b.Min, b.Max
	outer := []Vec2{{lo.X, lo.Y}, {hi.X, lo.Y}, {hi.X, hi.Y}, {lo.X, hi.Y}}
	return Prism(outer, nil, Identity.Shift(Vec{0, 0, lo.Z}), Vec{0, 0, 1}, hi.Z-lo.Z)
}

// Loft joins two profiles by straight sides, point to point: two triangles a
// side, which need not lie in one plane. The first loop is the outer one, the
// others are holes; both profiles have the same loops with the same number of
// points, or the result is empty. Face numbers and runs are as in Prism.
func Loft(bottom, top [][]Vec, runs ...[]int) *Mesh {
	if len(bottom) == 0 || len(bottom) != len(top) {
		return &Mesh{}
	}
	m := &Mesh{}
	for i := range bottom {
		if len(bottom[i]) != len(top[i]) {
			return &Mesh{}
		}
		m.Verts = append(m.Verts, bottom[i]...)
	}
	for _, l := range top {
		m.Verts = append(m.Verts, l...)
	}
	n := int32(len(m.Verts) / 2)
	up := NewellNormal(bottom[0])
	m.addCap(TriangulateLoop3(bottom[0], bottom[1:]), 0, 0, true)
	m.addCap(TriangulateLoop3(top[0], top[1:]), n, 1, NewellNormal(top[0]).Dot(up) < 0)
	faces := sideFaces{next: 2}
	first := int32(0)
	for i, l := range bottom {
		k := int32(len(l))
		reverse := (NewellNormal(l).Dot(up) > 0) != (i == 0)
		faces.number(len(l), nth(runs, i))
		m.addStrip(first, k, n, faces.of, reverse)
		first += k
	}
	m.lookOut()
	return m
}

func nth(runs [][]int, i int) []int {
	if i < len(runs) {
		return runs[i]
	}
	return nil
}

// addCap adds triangles whose corners are counted from first on.
func (m *Mesh) addCap(tris [][3]int, first, face int32, reverse bool) {
	for _, t := range tris {
		a, b, c := first+int32(t[0]), first+int32(t[1]), first+int32(t[2])
		if reverse {
			b, c = c, b
		}
		m.Tris = append(m.Tris, [3]int32{a, b, c})
		m.Face = append(m.Face, face)
	}
}

// addStrip adds the sides between a ring of k vertices from first on and the
// ring that is up places further on.
func (m *Mesh) addStrip(first, k, up int32, faces []int32, reverse bool) {
	for i := range k {
		a, b := first+i, first+(i+1)%k
		if reverse {
			a, b = b, a
		}
		m.addQuad(a, b, b+up, a+up, faces[i])
	}
}

// addQuad adds two triangles, leaving out those without three corners.
func (m *Mesh) addQuad(a, b, c, d, face int32) {
	if a != b && b != c && c != a {
		m.Tris, m.Face = append(m.Tris, [3]int32{a, b, c}), append(m.Face, face)
	}
	if a != c && c != d && d != a {
		m.Tris, m.Face = append(m.Tris, [3]int32{a, c, d}), append(m.Face, face)
	}
}

// lookOut flips all triangles of a closed mesh that looks inwards.
func (m *Mesh) lookOut() {
	if m.Volume() < 0 {
		m.Tris = flipped(m.Tris)
	}
}

// sideFaces numbers the sides of loops.
type sideFaces struct {
	next int32   // number of the next face
	of   []int32 // by side
}

// number numbers the n sides of a loop; sides of one run share a number, also
// where the run goes past the loop's first point.
func (f *sideFaces) number(n int, run []int) {
	f.of = f.of[:0]
	for i := range n {
		if i > 0 && len(run) == n && run[i] == run[i-1] {
			f.of = append(f.of, f.of[i-1])
			continue
		}
		f.of = append(f.of, f.next)
		f.next++
	}
	if n == 0 || len(run) != n || run[0] != run[n-1] || f.of[0] == f.of[n-1] {
		return
	}
	for i := n - 1; i >= 0 && f.of[i] == f.next-1; i-- {
		f.of[i] = f.of[0]
	}
	f.next--
}
