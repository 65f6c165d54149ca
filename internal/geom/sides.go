package geom

import "math"

// sides is what lies just above and just below a place of a plane.
type sides struct {
	above, below [2]int   // how often each class goes around
	tri          [2]int32 // first triangle of each class in the plane there, -1 for none
	sure         bool     // nothing else touches the plane there
}

// tilts are ways to look from a place of a plane, in its frame.
var tilts = [...]Vec{
	{0, 0, 1}, {0.31, 0.17, 0.9}, {-0.43, 0.29, 0.8}, {0.11, -0.47, 0.85}, {-0.23, -0.37, 0.9}, {0.52, -0.13, 0.7},
}

// look finds the sides of p, a point of the plane that belongs to group, as seen
// along frame's z axis. A line that slips through a gap in an operand goes in and
// out a different number of times: another is taken then.
func (s *soup) look(p Vec, frame Affine, group int32) sides {
	var first sides
	for i, tilt := range tilts {
		r, even := s.lookAlong(p, frame.Turn(tilt).Unit(), group)
		if even {
			return r
		}
		if i == 0 {
			first = r
		}
	}
	return first
}

func (s *soup) lookAlong(p, d Vec, group int32) (r sides, even bool) {
	r.tri, r.sure = [2]int32{-1, -1}, true
	var in, all [2]int
	c := newCaster(p, d)
	s.tree.line(p, d, func(i int) {
		v := s.tris[i]
		t, side := c.cross(s.pool.pts[v[0]], s.pool.pts[v[1]], s.pool.pts[v[2]])
		if side == 0 {
			return
		}
		class := s.class[i]
		all[class] += side
		switch {
		case s.group[s.of[i]] == group:
			in[class] += side
			if r.tri[class] < 0 || int32(i) < r.tri[class] {
				r.tri[class] = int32(i)
			}
		default:
			r.sure = r.sure && math.Abs(t) > s.snap
			if t > 0 {
				r.above[class] += side
			}
		}
	})
	for k := range in {
		r.below[k] = r.above[k] + in[k]
	}
	return r, all == [2]int{}
}

// judge is the label of a place.
func (s *soup) judge(r sides, keep func(inA, inB bool) bool) label {
	if r.tri == [2]int32{-1, -1} {
		return label{}
	}
	above := keep(r.above[classA] != 0, r.above[classB] != 0)
	below := keep(r.below[classA] != 0, r.below[classB] != 0)
	if above == below {
		return label{}
	}
	// The face that makes the difference gives its number, a's first.
	t := r.tri[classA]
	if t < 0 || r.tri[classB] >= 0 && (r.above[classA] != 0) == (r.below[classA] != 0) {
		t = r.tri[classB]
	}
	l := label{1, s.number[t]}
	if above {
		l.side = -1
	}
	return l
}
