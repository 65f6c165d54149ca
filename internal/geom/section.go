package geom

import (
	"math"
	"slices"
)

// onPlane is the distance in mm within which a vertex counts as on a plane.
const onPlane = 1e-6

// Section is what the plane cuts out of the body, in the plane's Frame: outer
// loops with their holes, without points on straight sides. Vertices on the plane
// count as above it (where Dist is positive), so that the section is the one just
// below: a face in the plane belongs to it when the body is below that face and
// not when it is above. What is open in a mesh that is not closed is left out.
func (m *Mesh) Section(p Plane) []Polygon {
	if p.N == (Vec{}) || !p.N.Finite() {
		return nil
	}
	box := m.Box()
	if d := p.Dist(box.Center()); !(math.Abs(d) <= box.Size().Norm()/2+onPlane) {
		return nil
	}
	w, _ := m.stitched()
	s := sectioner{m: w, frame: p.Frame(), dist: make([]float64, len(w.Verts))}
	for i, v := range w.Verts {
		if s.dist[i] = p.Dist(v); math.Abs(s.dist[i]) < onPlane {
			s.dist[i] = 0
		}
	}
	at := func(i int32) Vec2 { return s.at[i] }
	var loops [][]Vec2
	for _, l := range s.loops(at) {
		if l = dropStraight(l, at, 1e-7); len(l) > 2 {
			pts := make([]Vec2, len(l))
			for i, v := range l {
				pts[i] = at(v)
			}
			loops = append(loops, pts)
		}
	}
	var out []Polygon
	for _, n := range nest(loops, func(p Vec2) Vec2 { return p }) {
		out = append(out, n.Polygon)
	}
	return out
}

// sectioner makes the points in which sides cross a plane. A point is known by
// its side, so that the triangles on both sides of it agree.
type sectioner struct {
	m     *Mesh
	frame Affine
	dist  []float64 // of each vertex
	sides [][2]int32
	place map[[2]int32]int32 // of sides, when there are many of them
	at    []Vec2             // where each of sides crosses
}

// loops is the closed loops along which the plane cuts the triangles.
func (s *sectioner) loops(at func(int32) Vec2) [][]int32 {
	var next []int32 // by point; -1 where no way starts
	var starts []int32
	for _, t := range s.m.Tris {
		from, to, ok := s.cut(t)
		if !ok {
			continue
		}
		for len(next) < len(s.at) {
			next = append(next, -1)
		}
		if next[from] >= 0 {
			return s.branched(at)
		}
		next[from], starts = to, append(starts, from)
	}
	var out [][]int32
	for _, start := range starts {
		var loop []int32
		for v := start; next[v] >= 0; {
			loop = append(loop, v)
			v, next[v] = next[v], -1
			if v == start {
				out = append(out, loop)
			}
		}
	}
	return out
}

// branched is loops where several ways start at one point.
func (s *sectioner) branched(at func(int32) Vec2) [][]int32 {
	c := newChainer()
	for _, t := range s.m.Tris {
		if from, to, ok := s.cut(t); ok {
			c.add(from, to)
		}
	}
	return c.loops(at)
}

// cut is the way along which the plane cuts a triangle, the body to the left as
// seen from above.
func (s *sectioner) cut(t [3]int32) (from, to int32, ok bool) {
	for k := range t {
		a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
		if s.below(a) == s.below(b) || s.below(a) != s.below(c) {
			continue // b is not alone on its side
		}
		from, to = s.cross(a, b), s.cross(b, c)
		if !s.below(b) {
			from, to = to, from
		}
		return from, to, true
	}
	return 0, 0, false
}

func (s *sectioner) below(v int32) bool { return s.dist[v] < 0 }

func (s *sectioner) cross(a, b int32) int32 {
	side := ordered(a, b)
	if i, ok := s.find(side); ok {
		return i
	}
	da, db := s.dist[side[0]], s.dist[side[1]]
	q := s.frame.Local(s.m.Verts[side[0]].Lerp(s.m.Verts[side[1]], da/(da-db)))
	i := int32(len(s.at))
	s.at, s.sides = append(s.at, Vec2{q.X, q.Y}), append(s.sides, side)
	if s.place != nil {
		s.place[side] = i
	}
	return i
}

// find is the point of a side that was cut before. Most sections have a dozen
// points, which are compared quicker than hashed.
func (s *sectioner) find(side [2]int32) (int32, bool) {
	const few = 24
	if s.place == nil && len(s.sides) > few {
		s.place = make(map[[2]int32]int32, 4*few)
		for i, o := range s.sides {
			s.place[o] = int32(i)
		}
	}
	if s.place != nil {
		i, ok := s.place[side]
		return i, ok
	}
	i := slices.Index(s.sides, side)
	return int32(i), i >= 0
}
