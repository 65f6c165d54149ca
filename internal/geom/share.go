package geom

import (
	"cmp"
	"slices"
)

// share gives every side of the result all points of the result that lie on it:
// a point may cut the side of one face and only touch that of its neighbour.
func (r *result) share() {
	var ends []int32
	zone := EmptyBox
	seen := map[int32]bool{}
	for _, l := range r.loops {
		for _, v := range l.ids {
			if !seen[v] {
				seen[v] = true
				ends = append(ends, v)
				zone = zone.Add(r.pool.pts[v])
			}
		}
	}
	zone = zone.Grow(r.snap)
	var near []quiet
	for _, q := range r.quiet {
		v := r.soup.tris[q.tri]
		if !BoxOf(r.pool.pts[v[0]], r.pool.pts[v[1]], r.pool.pts[v[2]]).Overlaps(zone) {
			continue
		}
		near = append(near, q)
		for _, p := range v {
			if !seen[p] {
				seen[p] = true
				ends = append(ends, p)
			}
		}
	}
	s := newSharer(r.pool.pts, ends, r.snap)
	for i := range r.loops {
		r.loops[i].ids = s.insert(r.loops[i].ids)
	}
	cut := map[int32]bool{}
	for _, q := range near {
		v := r.soup.tris[q.tri]
		ring := []int32{v[0], v[1], v[2]}
		if ids := s.insert(ring); len(ids) > 3 {
			cut[q.tri] = true
			r.addCut(q, ids)
		}
	}
	if len(cut) > 0 {
		r.quiet = slices.DeleteFunc(r.quiet, func(q quiet) bool { return cut[q.tri] })
	}
}

// addCut makes an outline of a triangle that got points on its sides.
func (r *result) addCut(q quiet, ids []int32) {
	g := r.group[r.of[q.tri]]
	if r.planes[g].plane.N.Dot(r.soup.normal2(q.tri)) < 0 {
		slices.Reverse(ids)
		q.side = -q.side
	}
	r.loops = append(r.loops, placed{loop{label{q.side, r.number[q.tri]}, ids}, g})
}

// sharer inserts points into sides that they lie on.
type sharer struct {
	pts  []Vec
	ends []int32
	tree *BoxTree
	tol  float64
}

func newSharer(pts []Vec, ends []int32, tol float64) *sharer {
	boxes := make([]Box, len(ends))
	for i, v := range ends {
		boxes[i] = Box{pts[v], pts[v]}
	}
	return &sharer{pts, ends, NewBoxTree(boxes), tol}
}

// on appends the points between u and v, in order.
func (s *sharer) on(dst []int32, u, v int32) []int32 {
	a, b := s.pts[u], s.pts[v]
	d := b.Sub(a)
	l := d.Norm2()
	n := len(dst)
	s.tree.Query(BoxOf(a, b).Grow(s.tol), func(i int) bool {
		w := s.ends[i]
		if w == u || w == v {
			return true
		}
		e := s.pts[w].Sub(a)
		t := e.Dot(d)
		if t > 0 && t < l && e.Sub(d.Mul(t/l)).Norm2() < s.tol*s.tol {
			dst = append(dst, w)
		}
		return true
	})
	slices.SortFunc(dst[n:], func(x, y int32) int {
		if c := cmp.Compare(s.pts[x].Sub(a).Dot(d), s.pts[y].Sub(a).Dot(d)); c != 0 {
			return c
		}
		return cmp.Compare(x, y)
	})
	return dst
}

// insert is the ring with the points on its sides; the ring itself when there
// are none.
func (s *sharer) insert(ring []int32) []int32 {
	out := make([]int32, 0, len(ring))
	for i, u := range ring {
		out = append(out, u)
		out = s.on(out, u, ring[(i+1)%len(ring)])
	}
	return out
}
