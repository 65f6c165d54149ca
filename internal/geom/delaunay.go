package geom

// improve turns the diagonals of a triangulation over where that makes the
// smallest angle larger, so that no needles remain that need not be there: the
// normal of a needle is mostly noise.
func improve(pts []Vec2, tris [][3]int) {
	if len(tris) < 2 {
		return
	}
	if len(tris) == 2 { // nearly every profile has four corners
		improveQuad(pts, tris)
		return
	}
	f := flipper{pts, tris, make(map[[2]int]int, 3*len(tris)), nil}
	for t := range tris {
		if !f.claim(t) {
			return // triangles overlap: leave them alone
		}
	}
	for t := range tris {
		f.todo = append(f.todo, t)
	}
	for budget := 20*len(tris) + 100; len(f.todo) > 0 && budget > 0; budget-- {
		t := f.todo[len(f.todo)-1]
		f.todo = f.todo[:len(f.todo)-1]
		for k := range 3 {
			if f.flip(t, k) {
				break
			}
		}
	}
}

// improveQuad is improve for two triangles.
func improveQuad(pts []Vec2, tris [][3]int) {
	s, t := tris[0], tris[1]
	for i := range 3 {
		for k := range 3 {
			a, b := t[i], t[(i+1)%3]
			if s[k] != b || s[(k+1)%3] != a {
				continue
			}
			c, d := t[(i+2)%3], s[(k+2)%3]
			if f := (&flipper{pts: pts}); c != d && f.better(a, b, c, d) {
				tris[1], tris[0] = [3]int{a, d, c}, [3]int{d, b, c}
			}
			return
		}
	}
}

type flipper struct {
	pts  []Vec2
	tris [][3]int
	side map[[2]int]int // triangle to the left of a directed side
	todo []int
}

func (f *flipper) claim(t int) bool {
	v := f.tris[t]
	for k := range v {
		s := [2]int{v[k], v[(k+1)%3]}
		if _, taken := f.side[s]; taken {
			return false
		}
		f.side[s] = t
	}
	return true
}

// flip turns side k of triangle t over when that is an improvement.
func (f *flipper) flip(t, k int) bool {
	a, b, c := f.tris[t][k], f.tris[t][(k+1)%3], f.tris[t][(k+2)%3]
	o, ok := f.side[[2]int{b, a}]
	if !ok {
		return false
	}
	var d int
	for i, v := range f.tris[o] {
		if v == b && f.tris[o][(i+1)%3] == a {
			d = f.tris[o][(i+2)%3]
		}
	}
	if d == c || !f.better(a, b, c, d) {
		return false
	}
	if _, taken := f.side[[2]int{c, d}]; taken {
		return false
	}
	if _, taken := f.side[[2]int{d, c}]; taken {
		return false
	}
	delete(f.side, [2]int{a, b})
	delete(f.side, [2]int{b, a})
	f.tris[t], f.tris[o] = [3]int{a, d, c}, [3]int{d, b, c}
	for _, i := range [2]int{t, o} {
		v := f.tris[i]
		for k := range v {
			f.side[[2]int{v[k], v[(k+1)%3]}] = i
		}
		f.todo = append(f.todo, i)
	}
	return true
}

// better reports whether the diagonal c-d suits the four corners more than a-b:
// whether the angles at c and d make more than half a turn.
func (f *flipper) better(a, b, c, d int) bool {
	pa, pb, pc, pd := f.pts[a], f.pts[b], f.pts[c], f.pts[d]
	if !(orient2d(pa, pd, pc) > 0 && orient2d(pd, pb, pc) > 0) {
		return false
	}
	ca, cb, da, db := pa.Sub(pc), pb.Sub(pc), pa.Sub(pd), pb.Sub(pd)
	sinC, cosC := ca.Cross(cb), ca.Dot(cb)
	sinD, cosD := db.Cross(da), da.Dot(db)
	size := ca.Norm() * cb.Norm() * da.Norm() * db.Norm()
	return sinC*cosD+cosC*sinD < -1e-9*size
}
