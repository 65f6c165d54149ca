package geom

import "slices"

// straighten takes out points in which two sides on one line meet and nothing
// else does.
func (r *result) straighten() {
	s := straightener{pts: r.pool.pts, tol2: r.snap * r.snap, of: map[int32]*ends{}}
	for _, l := range r.loops {
		for i, u := range l.ids {
			s.join(u, l.ids[(i+1)%len(l.ids)], true)
		}
	}
	for _, q := range r.quiet {
		v := r.soup.tris[q.tri]
		for k := range v {
			s.join(v[k], v[(k+1)%3], false)
		}
	}
	var gone map[int32]bool
	for _, l := range r.loops {
		for _, v := range l.ids {
			if !gone[v] && s.remove(v) {
				if gone == nil {
					gone = map[int32]bool{}
				}
				gone[v] = true
			}
		}
	}
	if gone == nil {
		return
	}
	for i := range r.loops {
		r.loops[i].ids = slices.DeleteFunc(r.loops[i].ids, func(v int32) bool { return gone[v] })
	}
}

// straightener knows the neighbours of each point of an outline.
type straightener struct {
	pts  []Vec
	tol2 float64
	of   map[int32]*ends
}

// ends is up to two neighbours of a point; more are counted as three.
type ends struct {
	n    int
	with [2]int32
}

// join notes a side. Sides of quiet triangles count only at points of outlines.
func (s *straightener) join(u, v int32, outline bool) {
	for _, x := range [2][2]int32{{u, v}, {v, u}} {
		e := s.of[x[0]]
		if e == nil {
			if !outline {
				continue
			}
			e = &ends{}
			s.of[x[0]] = e
		}
		e.add(x[1])
	}
}

func (e *ends) add(v int32) {
	for i := range min(e.n, 2) {
		if e.with[i] == v {
			return
		}
	}
	if e.n < 2 {
		e.with[e.n] = v
	}
	e.n = min(e.n+1, 3)
}

// remove takes v out when it is of no use.
func (s *straightener) remove(v int32) bool {
	e := s.of[v]
	if e == nil || e.n != 2 {
		return false
	}
	u, w := e.with[0], e.with[1]
	if !s.straight(u, v, w) {
		return false
	}
	for _, x := range [2][2]int32{{u, w}, {w, u}} {
		if o := s.of[x[0]]; o != nil {
			for i := range min(o.n, 2) {
				if o.with[i] == x[1] {
					return false // u and w are joined already: nothing would be left
				}
			}
		}
	}
	for _, x := range [2][2]int32{{u, w}, {w, u}} {
		if o := s.of[x[0]]; o != nil {
			for i := range min(o.n, 2) {
				if o.with[i] == v {
					o.with[i] = x[1]
				}
			}
		}
	}
	return true
}

// straight reports whether v lies on the way from u to w.
func (s *straightener) straight(u, v, w int32) bool {
	d := s.pts[w].Sub(s.pts[u])
	e := s.pts[v].Sub(s.pts[u])
	l := d.Norm2()
	t := e.Dot(d)
	return t > 0 && t < l && e.Sub(d.Mul(t/l)).Norm2() <= s.tol2
}
