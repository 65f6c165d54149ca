package geom

// result is the surface of a boolean's result in the making.
type result struct {
	*soup
	loops []placed
	quiet []quiet
	local places
	tris  [][3]int32 // of the result
	faces []int32
}

// placed is an outline in a plane.
type placed struct {
	loop
	plane int32
}

// quiet is a triangle of an operand that no other shell touches.
type quiet struct {
	tri  int32
	side int8 // -1 when it looks the other way in the result
}

// combine is the result, and how many of its sides have no neighbour.
func (s *soup) combine(keep func(inA, inB bool) bool) (*Mesh, int) {
	s.meet()
	r := &result{soup: s}
	for g := range s.planes {
		if s.planes[g].busy {
			r.draw(int32(g), keep)
		}
	}
	r.addQuiet(keep)
	r.share()
	r.straighten()
	r.fill()
	return r.mesh()
}

// draw adds the outlines of what remains in a plane.
func (r *result) draw(g int32, keep func(inA, inB bool) bool) {
	d := &r.planes[g]
	frame := d.plane.Frame()
	a := &arrangement{pool: r.pool, frame: frame, tol: r.snap, local: &r.local}
	defer a.forget()
	for _, f := range d.faces {
		for _, t := range r.soup.faces[f].tris {
			v := r.soup.tris[t]
			for k := range v {
				if o := r.adj[t][k]; o == noSide || r.of[o/3] != f {
					a.add(v[k], v[(k+1)%3])
				}
			}
		}
	}
	for _, c := range d.cuts {
		a.add(c[0], c[1])
	}
	a.cut()
	c := newCells(a)
	c.mark(func(p Vec2) (label, bool) {
		seen := r.look(frame.Apply(Vec{p.X, p.Y, 0}), frame, g)
		return r.judge(seen, keep), seen.sure
	})
	for _, l := range c.outlines() {
		r.loops = append(r.loops, placed{l, g})
	}
}

// addQuiet adds the triangles of faces that no other shell touches. Those that
// hang together are all of one kind, so that one look is enough.
func (r *result) addQuiet(keep func(inA, inB bool) bool) {
	busy := func(t int32) bool {
		p := &r.planes[r.group[r.of[t]]]
		return p.busy || p.plane.N == (Vec{}) // a triangle without area is left out
	}
	parts := NewDisjoint(len(r.soup.tris))
	for t := range r.soup.tris {
		for _, o := range r.adj[t] {
			if o != noSide && !busy(int32(t)) && !busy(o/3) && r.shell[t] == r.shell[o/3] {
				parts.Join(int32(t), o/3)
			}
		}
	}
	largest := map[int32]int32{}
	area := func(t int32) float64 { return r.soup.normal2(t).Norm() }
	for t := range int32(len(r.soup.tris)) {
		if busy(t) {
			continue
		}
		root := parts.Find(t)
		if l, ok := largest[root]; !ok || area(t) > area(l) {
			largest[root] = t
		}
	}
	side := make(map[int32]int8, len(largest))
	for t := range int32(len(r.soup.tris)) {
		if busy(t) {
			continue
		}
		root := parts.Find(t)
		s, ok := side[root]
		if !ok {
			s = r.sideOf(largest[root], keep)
			side[root] = s
		}
		if s != 0 {
			r.quiet = append(r.quiet, quiet{t, s})
		}
	}
}

func (s *soup) normal2(t int32) Vec {
	v := s.tris[t]
	a, b, c := s.pool.pts[v[0]], s.pool.pts[v[1]], s.pool.pts[v[2]]
	return b.Sub(a).Cross(c.Sub(a))
}

// sideOf is 1 when the triangle belongs to the result, -1 when it does looking
// the other way, 0 when it does not.
func (r *result) sideOf(t int32, keep func(inA, inB bool) bool) int8 {
	v := r.soup.tris[t]
	n := r.soup.normal2(t).Unit()
	frame := FrameZX(r.pool.pts[v[0]], n, n.Perp())
	var seen sides
	for _, w := range [...]Vec{{0.351, 0.318, 0.331}, {0.513, 0.268, 0.219}, {0.197, 0.542, 0.261}} {
		p := r.pool.pts[v[0]].Mul(w.X).Add(r.pool.pts[v[1]].Mul(w.Y)).Add(r.pool.pts[v[2]].Mul(w.Z))
		if seen = r.look(p, frame, r.group[r.of[t]]); seen.sure {
			break
		}
	}
	return r.judge(seen, keep).side
}
