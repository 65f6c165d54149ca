package schedule

import (
	"math"

	"embedcheck/internal/geom"
)

// Two shapes are the same when every distance between two points of one agrees
// with that in the other to sameWithin, and every diameter to sameDiameter:
// rounding of coordinates and units stays below, sizes that are made stay above.
// Volumes only keep apart what cannot go together: a polygon of 16 sides in a
// circle has 2.6 percent less than the circle.
const (
	sameWithin   = 0.5  // mm
	sameDiameter = 0.1  // mm
	sameVolume   = 0.04 // of the volume
)

// likeness is how two shapes stand to each other.
type likeness int

const (
	different likeness = iota
	mirrored           // one is the mirror image of the other, and no turn makes them the same
	same
)

// compare looks for a way to lay b on a, by turning and moving it, else by
// mirroring it too.
func compare(a, b *shape) likeness {
	if len(a.points) != len(b.points) {
		return different
	}
	// When points can be paired so that all distances agree, sorted ones do too:
	// what does not is told without trying.
	if !agree(a.reach, b.reach, 2*sameWithin) || !agree(a.distances(), b.distances(), sameWithin) {
		return different
	}
	c := comparison{a: a, b: b}
	for _, l := range []likeness{same, mirrored} {
		if c.laidOn(l == mirrored) {
			return l
		}
	}
	return different
}

// agree reports whether two sorted lists of one length agree place by place.
func agree(a, b []float64, within float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > within {
			return false
		}
	}
	return true
}

type comparison struct{ a, b *shape }

// alike reports whether two points may stand for one another.
func alike(p, q *point) bool {
	if p.what != q.what {
		return false
	}
	if p.what == middle {
		return math.Abs(p.size-q.size) <= sameVolume*math.Max(math.Abs(p.size), math.Abs(q.size))+1
	}
	if p.what == deep || p.what == corner || p.what == extent {
		return math.Abs(p.size-q.size) <= sameWithin
	}
	return math.Abs(p.size-q.size) <= sameDiameter
}

// laidOn tries the ways to lay two points of b, seen from its centre, on the two
// of a that fix how it lies.
func (c *comparison) laidOn(mirror bool) bool {
	first, second := c.a.fixed()
	if first < 0 {
		return c.fits(geom.Identity.Shift(c.a.centre), geom.Identity.Shift(c.b.centre), false) // all in one place
	}
	fa := c.a.frame(first, second)
	for i := range c.b.points {
		if !c.pairs(first, i) {
			continue
		}
		if second < 0 {
			if c.fits(fa, c.b.frame(i, -1), mirror) {
				return true
			}
			continue
		}
		for k := range c.b.points {
			if c.pairs(second, k) && c.near(first, second, i, k) && c.fits(fa, c.b.frame(i, k), mirror) {
				return true
			}
		}
	}
	return false
}

// fixed are the point farthest from the centre and that farthest from the line
// through both; -1 where there is none that stands off.
func (s *shape) fixed() (first, second int) {
	const off = 2 * sameWithin
	first, second = -1, -1
	far := off
	for i := range s.points {
		if d := s.points[i].at.Dist(s.centre); d > far+geom.Tol {
			first, far = i, d
		}
	}
	if first < 0 {
		return
	}
	dir := s.points[first].at.Sub(s.centre).Unit()
	far = off
	for i := range s.points {
		v := s.points[i].at.Sub(s.centre)
		if d := v.Sub(dir.Mul(v.Dot(dir))).Norm(); d > far+geom.Tol {
			second, far = i, d
		}
	}
	return
}

// frame is at the centre, its z axis through the first point and x towards the
// second.
func (s *shape) frame(first, second int) geom.Affine {
	z := s.points[first].at.Sub(s.centre)
	if second < 0 {
		return geom.FrameZX(s.centre, z, z.Perp())
	}
	return geom.FrameZX(s.centre, z, s.points[second].at.Sub(s.centre))
}

// pairs reports whether point i of a may lie on point k of b.
func (c *comparison) pairs(i, k int) bool {
	p, q := &c.a.points[i], &c.b.points[k]
	return alike(p, q) && math.Abs(p.at.Dist(c.a.centre)-q.at.Dist(c.b.centre)) <= 2*sameWithin
}

// near reports whether two points of a are as far apart as two of b.
func (c *comparison) near(i, k, m, n int) bool {
	d := c.a.points[i].at.Dist(c.a.points[k].at) - c.b.points[m].at.Dist(c.b.points[n].at)
	return math.Abs(d) <= sameWithin
}

// fits lays b on a, frame on frame, and holds all distances.
func (c *comparison) fits(fa, fb geom.Affine, mirror bool) bool {
	n := len(c.a.points)
	to := make([]int, n)
	used := make([]bool, n)
	for i := range c.a.points {
		p := fa.Local(c.a.points[i].at)
		if mirror {
			p.Y = -p.Y
		}
		k := c.nearest(&c.a.points[i], fb.Apply(p), used)
		if k < 0 {
			return false
		}
		used[k], to[i] = true, k
	}
	for i := range n {
		for k := i + 1; k < n; k++ {
			if !c.near(i, k, to[i], to[k]) {
				return false
			}
		}
	}
	return true
}

// nearest is the point of b nearest to where one of a would lie, -1 when none
// is near that is like it and not taken yet.
func (c *comparison) nearest(p *point, at geom.Vec, used []bool) int {
	const reach = 4 * sameWithin // the frames differ by what the points that fix them differ by
	best, k := reach, -1
	for i := range c.b.points {
		if q := &c.b.points[i]; !used[i] && alike(p, q) {
			if d := q.at.Dist(at); d < best {
				best, k = d, i
			}
		}
	}
	return k
}
