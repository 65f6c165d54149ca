package shape

import (
	"fmt"
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// smooth is the cosine of the turn under which neighbouring facets belong to
// one curved face.
const smooth = 0.94 // 20 degrees

// ringed is a body between rings of points: each ring is joined to the next,
// and the first and the last are filled, or joined to each other when closed.
// sizes are the numbers of points of the loops that a ring consists of: the
// outer one, then the holes.
func ringed(rings [][]geom.Vec, sizes []int, closed bool) *shell {
	s := &shell{}
	per := len(rings[0])
	for _, r := range rings {
		s.points = append(s.points, r...)
	}
	if !closed {
		s.faces = append(s.faces, lid(0, sizes, false), lid((len(rings)-1)*per, sizes, true))
	}
	steps := len(rings) - 1
	if closed {
		steps++
	}
	for k := range steps {
		a, b := k*per, (k+1)%len(rings)*per
		at := 0
		for _, n := range sizes {
			for i := range n {
				p, q := at+i, at+(i+1)%n
				s.quad(int32(a+p), int32(a+q), int32(b+q), int32(b+p))
			}
			at += n
		}
	}
	s.label(rings[0], sizes, steps)
	return s
}

// lid is the face that fills a ring; the first one faces against the sweep.
func lid(from int, sizes []int, last bool) face {
	var f face
	for _, n := range sizes {
		l := make([]int32, n)
		for i := range l {
			if last {
				l[i] = int32(from + i)
			} else {
				l[i] = int32(from + n - 1 - i)
			}
		}
		from += n
		f.loops = append(f.loops, l)
	}
	return f
}

// quad adds a four-sided face as two triangles: it may be twisted.
func (s *shell) quad(a, b, c, d int32) {
	s.faces = append(s.faces, face{loops: [][]int32{{a, b, c}}}, face{loops: [][]int32{{a, c, d}}})
}

// label gives the side faces over smooth runs of the profile one label each.
func (s *shell) label(ring []geom.Vec, sizes []int, steps int) {
	per := len(ring)
	labels := make([]int32, per)
	at, next := 0, int32(1)
	for _, n := range sizes {
		l := ring[at : at+n]
		side := func(i int) geom.Vec { return l[(i+1)%n].Sub(l[i%n]).Unit() }
		for i := range n {
			if i > 0 && side(i-1).Dot(side(i)) < smooth {
				next++
			}
			labels[at+i] = next
		}
		if first := labels[at]; side(n-1).Dot(side(0)) >= smooth {
			for i := n - 1; i >= 0 && labels[at+i] == next; i-- {
				labels[at+i] = first
			}
		}
		next++
		at += n
	}
	sides := s.faces[len(s.faces)-2*per*steps:]
	for i := range sides {
		sides[i].label = labels[i/2%per]
	}
}

// loops are the outlines of an area: the outer one, then the holes.
func (a region) loops() [][]geom.Vec2 { return append([][]geom.Vec2{a.outer}, a.holes...) }

func (a region) sizes() []int {
	out := []int{len(a.outer)}
	for _, h := range a.holes {
		out = append(out, len(h))
	}
	return out
}

// ring is all outlines of an area mapped into space.
func (a region) ring(m geom.Affine) []geom.Vec {
	var out []geom.Vec
	for _, l := range a.loops() {
		for _, q := range l {
			out = append(out, m.Apply(geom.Vec{X: q.X, Y: q.Y}))
		}
	}
	return out
}

// between is the area part of the way from a to b, which have the same number
// of corners.
func between(a, b region, t float64) region {
	mix := func(p, q []geom.Vec2) []geom.Vec2 {
		out := make([]geom.Vec2, len(p))
		for i := range p {
			out[i] = p[i].Add(q[i].Sub(p[i]).Mul(t))
		}
		return out
	}
	out := region{outer: mix(a.outer, b.outer)}
	for i := range a.holes {
		out.holes = append(out.holes, mix(a.holes[i], b.holes[i]))
	}
	return out
}

// matched is the pair of areas of two profiles with the same corners; circles
// are divided alike.
func matched(p, q *profile) (a, b region, err error) {
	if len(p.areas) != 1 || len(q.areas) != 1 {
		return a, b, fmt.Errorf("its profiles have %d and %d areas; one each is read", len(p.areas), len(q.areas))
	}
	a, b = p.areas[0], q.areas[0]
	if p.Radius > 0 && q.Radius > 0 && (p.Wall > 0) == (q.Wall > 0) {
		n := sides(max(p.Radius, q.Radius), bodyTol)
		return p.circles(n), q.circles(n), nil
	}
	la, lb := a.loops(), b.loops()
	if len(la) != len(lb) {
		return a, b, fmt.Errorf("its profiles have %d and %d outlines", len(la), len(lb))
	}
	for i := range la {
		if len(la[i]) != len(lb[i]) {
			return a, b, fmt.Errorf("its profiles have %d and %d corners", len(la[i]), len(lb[i]))
		}
	}
	return a, b, nil
}

// circles is a round profile with n corners.
func (p *profile) circles(n int) region {
	ring := func(r float64) []geom.Vec2 {
		pts := make([]geom.Vec2, n)
		for i := range pts {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			pts[i] = geom.Vec2{X: p.Center.X + r*c, Y: p.Center.Y + r*s}
		}
		return pts
	}
	a := region{outer: ring(p.Radius)}
	if p.Wall > 0 {
		a.holes = [][]geom.Vec2{cw(ring(p.Radius - p.Wall))}
	}
	return a
}

// extrudedTapered reads an IfcExtrudedAreaSolidTapered.
func (r *Reader) extrudedTapered(in ifcread.Inst) (*Solid, error) {
	prof, pos, err := r.sweptArea(in)
	if err != nil {
		return nil, err
	}
	end, err := r.endArea(in, 4)
	if err != nil {
		return nil, err
	}
	dir, depth, err := r.sweep(in, pos)
	if err != nil {
		return nil, err
	}
	a, b, err := matched(prof, end)
	if err != nil {
		return nil, bad(in, "%v", err)
	}
	top := pos
	top.T = top.T.Add(dir.Mul(depth))
	s, err := ringed([][]geom.Vec{a.ring(pos), b.ring(top)}, a.sizes(), false).solid(in)
	if err == nil {
		s.Profile = prof.Name
	}
	return s, err
}

func (r *Reader) endArea(in ifcread.Inst, n int) (*profile, error) {
	q, err := need(in, n, "end profile")
	if err != nil {
		return nil, err
	}
	return r.profile(q, 0)
}
