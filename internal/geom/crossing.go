package geom

import (
	"cmp"
	"math"
	"slices"
)

// drawing is what lies in one plane: the outlines of faces in it and the lines
// along which other faces cross these.
type drawing struct {
	plane Plane
	faces []int32    // flats in the plane
	cuts  [][2]int32 // pool points
	busy  bool       // the faces touch those of another shell
}

// meet puts each face into a drawing and finds where faces of different shells
// cut each other.
func (s *soup) meet() {
	pairs := s.facePairs()
	s.groupFaces(pairs)
	for _, p := range pairs {
		if s.group[p[0]] != s.group[p[1]] {
			s.cross(p[0], p[1])
		}
	}
}

// groupFaces makes one drawing of faces that touch and lie in one plane: that of
// the largest.
func (s *soup) groupFaces(pairs [][2]int32) {
	order := make([]int32, len(s.faces))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int {
		if c := cmp.Compare(s.faces[b].area, s.faces[a].area); c != 0 {
			return c
		}
		return cmp.Compare(a, b)
	})
	rank := make([]int32, len(s.faces))
	for i, f := range order {
		rank[f] = int32(i)
	}
	coplanar := make([][]int32, len(s.faces)) // with each face, the larger ones in its plane
	for _, p := range pairs {
		big, small := p[0], p[1]
		if rank[big] > rank[small] {
			big, small = small, big
		}
		if s.inPlane(small, s.faces[big].plane) {
			coplanar[small] = append(coplanar[small], big)
		}
	}
	s.group = make([]int32, len(s.faces))
	for _, f := range order {
		s.group[f] = int32(len(s.planes))
		s.planes = append(s.planes, drawing{plane: s.faces[f].plane, faces: []int32{f}})
		slices.SortFunc(coplanar[f], func(a, b int32) int { return cmp.Compare(rank[a], rank[b]) })
		for _, big := range coplanar[f] {
			s.unite(s.group[big], s.group[f])
		}
	}
}

// unite takes the faces of drawing h over into g, when they lie in its plane.
func (s *soup) unite(g, h int32) {
	if g == h {
		return
	}
	for _, f := range s.planes[h].faces {
		if !s.inPlane(f, s.planes[g].plane) {
			return
		}
	}
	for _, f := range s.planes[h].faces {
		s.group[f] = g
	}
	s.planes[g].faces = append(s.planes[g].faces, s.planes[h].faces...)
	s.planes[g].busy = true
	s.planes[h] = drawing{}
}

// facePairs is the pairs of faces whose boxes meet, of different shells unless
// shells are to be cut by themselves too.
func (s *soup) facePairs() [][2]int32 {
	boxes := make([]Box, len(s.faces))
	shell := make([]int32, len(s.faces))
	around := make([]Box, s.shells)
	for i := range around {
		around[i] = EmptyBox
	}
	for i := range boxes {
		boxes[i] = s.faces[i].box.Grow(s.snap)
		shell[i] = s.shell[s.faces[i].tris[0]]
		around[shell[i]] = around[shell[i]].Union(boxes[i])
	}
	shells := NewBoxTree(around)
	for i := range boxes { // leave out what no other shell can touch
		near := s.selfs
		shells.Query(boxes[i], func(k int) bool {
			near = near || int32(k) != shell[i]
			return !near
		})
		if !near || s.faces[i].plane.N == (Vec{}) {
			boxes[i] = EmptyBox
		}
	}
	tree := NewBoxTree(boxes)
	var pairs [][2]int32
	for i := range boxes {
		if boxes[i].Empty() {
			continue
		}
		tree.Query(boxes[i], func(k int) bool {
			if k > i && (s.selfs || shell[k] != shell[i]) {
				pairs = append(pairs, [2]int32{int32(i), int32(k)})
			}
			return true
		})
	}
	return pairs
}

func (s *soup) inPlane(f int32, p Plane) bool {
	for _, t := range s.faces[f].tris {
		for _, v := range s.tris[t] {
			if !(math.Abs(p.Dist(s.pool.pts[v])) <= s.tol) {
				return false
			}
		}
	}
	return true
}

// stop is a point on the common line of two planes.
type stop struct {
	t float64
	p Vec
}

// cross adds what faces i and k have in common to the drawings of both.
func (s *soup) cross(i, k int32) {
	dir := s.faces[i].plane.N.Cross(s.faces[k].plane.N).Unit()
	if dir == (Vec{}) {
		return
	}
	a := s.along(i, s.faces[k].plane, s.faces[k].box, dir)
	if len(a) == 0 {
		return
	}
	b := s.along(k, s.faces[i].plane, s.faces[i].box, dir)
	for x, y := 0, 0; x < len(a) && y < len(b); {
		lo, hi := a[x][0], a[x][1]
		if b[y][0].t > lo.t {
			lo = b[y][0]
		}
		if b[y][1].t < hi.t {
			hi = b[y][1]
			y++
		} else {
			x++
		}
		if hi.t <= lo.t {
			continue
		}
		if u, v := s.pool.add(lo.p), s.pool.add(hi.p); u != v {
			for _, g := range [2]int32{s.group[i], s.group[k]} {
				s.planes[g].cuts = append(s.planes[g].cuts, [2]int32{u, v})
				s.planes[g].busy = true
			}
		}
	}
}

// along is the parts of the line in plane p that lie in face i, near the box, in
// rising order. dir is the line's direction.
func (s *soup) along(i int32, p Plane, box Box, dir Vec) [][2]stop {
	box = box.Grow(s.snap)
	var parts [][2]stop
	for _, t := range s.faces[i].tris {
		v := s.tris[t]
		a, b, c := s.pool.pts[v[0]], s.pool.pts[v[1]], s.pool.pts[v[2]]
		if !BoxOf(a, b, c).Overlaps(box) {
			continue
		}
		if part, ok := s.acrossTriangle(v, p, dir); ok {
			parts = append(parts, part)
		}
	}
	slices.SortFunc(parts, func(a, b [2]stop) int { return cmp.Compare(a[0].t, b[0].t) })
	out := parts[:0]
	for _, q := range parts {
		if n := len(out); n > 0 && q[0].t <= out[n-1][1].t+s.snap {
			if q[1].t > out[n-1][1].t {
				out[n-1][1] = q[1]
			}
			continue
		}
		out = append(out, q)
	}
	return out
}

// acrossTriangle is the part of plane p that lies in a triangle: corners within
// the tolerance lie in the plane, sides between corners beyond it cross it.
func (s *soup) acrossTriangle(tri [3]int32, p Plane, dir Vec) (part [2]stop, ok bool) {
	lo, hi := stop{t: math.Inf(1)}, stop{t: math.Inf(-1)}
	see := func(v Vec) {
		q := stop{v.Dot(dir), v}
		if q.t < lo.t {
			lo = q
		}
		if q.t > hi.t {
			hi = q
		}
	}
	var d [3]float64
	for k, v := range tri {
		if d[k] = p.Dist(s.pool.pts[v]); math.Abs(d[k]) <= s.tol {
			d[k] = 0
			see(s.pool.pts[v])
		}
	}
	for k, u := range tri {
		j := (k + 1) % 3
		if v := tri[j]; d[k]*d[j] < 0 {
			see(s.crossSide(u, v, d[k], d[j]))
		}
	}
	return [2]stop{lo, hi}, hi.t > lo.t
}

// crossSide is where the side u-v meets a plane; the same to the last bit for
// v-u, so that neighbours agree.
func (s *soup) crossSide(u, v int32, du, dv float64) Vec {
	if u > v {
		u, v, du, dv = v, u, dv, du
	}
	return s.pool.pts[u].Lerp(s.pool.pts[v], du/(du-dv))
}
