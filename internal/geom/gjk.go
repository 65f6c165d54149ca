package geom

import "math"

// gjkSteps bounds the search; bodies of building models need 10 to 40 steps.
const gjkSteps = 300

// gjkTol is the error of a distance in mm at which the search stops.
const gjkTol = 1e-9

// convexGap is the distance between two convex bodies and the points where it is
// taken, by the algorithm of Gilbert, Johnson and Keerthi (1988). meet is true,
// and the rest without meaning, when they have a point in common. The search
// stops when the distance is surely more than limit.
//
// The bodies' difference, all p - q of their points, is as far from zero as the
// bodies from each other. A simplex of its points moves towards zero; the plane
// through each new point bounds the distance from below, so that the error is
// known.
func convexGap(a, b convex, limit float64) (dist float64, at pair, meet bool) {
	first := a.support(Vec{1, 0, 0})
	s := simplex{n: 1, weight: [4]float64{1}}
	s.of[0] = corner{pair{first, b.support(Vec{-1, 0, 0})}}
	v := s.point()
	for range gjkSteps {
		size := v.Norm()
		if size <= gjkTol {
			return 0, s.pair(), true
		}
		w := corner{pair{a.support(v.Neg()), b.support(v)}}
		low := v.Dot(w.diff()) / size
		if low > limit {
			return low, s.pair(), false
		}
		if size-low <= gjkTol || s.has(w) {
			break
		}
		next := s
		next.of[next.n] = w
		next.n++
		if !next.reduce() {
			return 0, next.pair(), true
		}
		nv := next.point()
		if !(nv.Norm2() < v.Norm2()) {
			break // rounding has the last word
		}
		s, v = next, nv
	}
	return v.Norm(), s.pair(), false
}

// corner is a point of the difference, kept as the points that it comes from.
type corner struct{ pair }

func (c corner) diff() Vec { return c.p.Sub(c.q) }

// simplex is up to four points of the difference, and the weights that make the
// point nearest to zero of them.
type simplex struct {
	n      int
	of     [4]corner
	weight [4]float64
}

func (s *simplex) point() Vec {
	var v Vec
	for i := range s.n {
		v = v.Add(s.of[i].diff().Mul(s.weight[i]))
	}
	return v
}

func (s *simplex) pair() pair {
	var x pair
	for i := range s.n {
		x.p, x.q = x.p.Add(s.of[i].p.Mul(s.weight[i])), x.q.Add(s.of[i].q.Mul(s.weight[i]))
	}
	return x
}

func (s *simplex) has(c corner) bool {
	for i := range s.n {
		if s.of[i] == c {
			return true
		}
	}
	return false
}

// reduce drops the points that the one nearest to zero does not need; false when
// zero lies inside.
func (s *simplex) reduce() bool {
	best := simplex{n: 0}
	least := math.Inf(1)
	take := func(c simplex) {
		if d := c.point().Norm2(); d < least {
			best, least = c, d
		}
	}
	last := s.n - 1 // the newest: what does not use it has been looked at before
	for _, set := range subsets[s.n] {
		switch set.n {
		case 1:
			take(simplex{1, [4]corner{s.of[last]}, [4]float64{1}})
		case 2:
			take(nearestOnEdge(s.of[set.i], s.of[last]))
		case 3:
			if c, ok := nearestOnFace(s.of[set.i], s.of[set.j], s.of[last]); ok {
				take(c)
			}
		}
	}
	if s.n == 4 && s.holdsZero() {
		return false
	}
	*s = best
	return true
}

// subsets are the points, besides the newest, of the sets to look at.
var subsets = [5][]struct{ n, i, j int }{
	2: {{1, 0, 0}, {2, 0, 0}},
	3: {{1, 0, 0}, {2, 0, 0}, {2, 1, 0}, {3, 0, 1}},
	4: {{1, 0, 0}, {2, 0, 0}, {2, 1, 0}, {2, 2, 0}, {3, 0, 1}, {3, 1, 2}, {3, 0, 2}},
}

func nearestOnEdge(a, b corner) simplex {
	p, q := a.diff(), b.diff()
	d := q.Sub(p)
	l := d.Norm2()
	t := 1.0
	if l > 0 {
		t = min(1, max(0, -p.Dot(d)/l))
	}
	return simplex{2, [4]corner{a, b}, [4]float64{1 - t, t}}
}

// nearestOnFace is the foot of the perpendicular from zero, when it lies inside
// the triangle and the triangle is no needle.
func nearestOnFace(a, b, c corner) (simplex, bool) {
	p, q, r := a.diff(), b.diff(), c.diff()
	n := q.Sub(p).Cross(r.Sub(p))
	l := n.Norm2()
	u, v, w := q.Cross(r).Dot(n), r.Cross(p).Dot(n), p.Cross(q).Dot(n)
	if !(l > 0) || u < 0 || v < 0 || w < 0 {
		return simplex{}, false
	}
	sum := u + v + w
	if !(sum > 0) {
		return simplex{}, false
	}
	return simplex{3, [4]corner{a, b, c}, [4]float64{u / sum, v / sum, w / sum}}, true
}

// holdsZero reports whether zero lies inside the four points.
func (s *simplex) holdsZero() bool {
	a, b, c, d := s.of[0].diff(), s.of[1].diff(), s.of[2].diff(), s.of[3].diff()
	z := Vec{}
	all := sign3(orient3d(a, b, c, d))
	return all != 0 &&
		sign3(orient3d(z, b, c, d)) == all && sign3(orient3d(a, z, c, d)) == all &&
		sign3(orient3d(a, b, z, d)) == all && sign3(orient3d(a, b, c, z)) == all
}

func sign3(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
