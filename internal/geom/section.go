package geom

import "math"

// Section is what the plane cuts out of the body, in the plane's Frame. Points
// of the body that lie on the plane count as above it (where Dist is positive):
// the section is the one just below, so that a face in the plane belongs to it
// when the body is below that face and not when it is above.
func (m *Mesh) Section(p Plane) []Polygon {
	w := m
	if !m.joined() { // vertices of neighbours may differ in number only
		w = m.Weld(1e-6)
	}
	f := p.Frame()
	dist := make([]float64, len(w.Verts))
	for i, v := range w.Verts {
		dist[i] = p.Dist(v)
		if math.Abs(dist[i]) < 1e-6 {
			dist[i] = 0
		}
	}
	next := map[[2]int32][][2]int32{}
	at := map[[2]int32]Vec2{}
	key := func(a, b int32) [2]int32 {
		if a > b {
			a, b = b, a
		}
		k := [2]int32{a, b}
		if _, ok := at[k]; !ok {
			da, db := dist[a], dist[b]
			q := f.Local(w.Verts[a].Lerp(w.Verts[b], da/(da-db)))
			at[k] = Vec2{q.X, q.Y}
		}
		return k
	}
	var keys [][2]int32
	for _, t := range w.Tris {
		for k := range t {
			a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
			if (dist[a] < 0) == (dist[b] < 0) || (dist[a] < 0) != (dist[c] < 0) {
				continue // b is not alone on its side
			}
			from, to := key(a, b), key(b, c)
			if dist[b] >= 0 {
				from, to = to, from
			}
			if len(next[from]) == 0 {
				keys = append(keys, from)
			}
			next[from] = append(next[from], to)
		}
	}
	var loops [][]Vec2
	for _, k := range keys {
		for len(next[k]) > 0 {
			var loop []Vec2
			for c := k; ; {
				n := next[c]
				if len(n) == 0 {
					break
				}
				loop = append(loop, at[c])
				to := n[0]
				next[c] = n[1:]
				c = to
			}
			if len(loop) > 2 {
				loops = append(loops, loop)
			}
		}
	}
	return polygons(loops)
}

// polygons sorts loops into outer ones and the holes in them.
func polygons(loops [][]Vec2) []Polygon {
	var out []Polygon
	for _, l := range loops {
		if loopArea(l) > 0 {
			out = append(out, Polygon{Outer: l})
		}
	}
	for _, l := range loops {
		if loopArea(l) >= 0 {
			continue
		}
		best := -1
		for i := range out {
			if loopContains(out[i].Outer, l[0]) && (best < 0 || loopArea(out[i].Outer) < loopArea(out[best].Outer)) {
				best = i
			}
		}
		if best >= 0 {
			out[best].Holes = append(out[best].Holes, l)
		}
	}
	return out
}
