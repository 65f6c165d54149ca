package geom

import "math"

// Polygon is a piece of a plane: inside the outer loop, which runs
// counter-clockwise, and outside the holes, which run clockwise. Loops do not
// repeat their first point.
type Polygon struct {
	Outer []Vec2
	Holes [][]Vec2
}

// loopArea is positive when the loop runs counter-clockwise.
func loopArea(loop []Vec2) float64 {
	var sum float64
	for i := 2; i < len(loop); i++ {
		sum += loop[i-1].Sub(loop[0]).Cross(loop[i].Sub(loop[0]))
	}
	return sum / 2
}

// Area is the area in mm2 without the holes.
func (p Polygon) Area() float64 {
	sum := math.Abs(loopArea(p.Outer))
	for _, h := range p.Holes {
		sum -= math.Abs(loopArea(h))
	}
	return sum
}

// Contains reports whether q lies inside; on the boundary, the answer is either.
func (p Polygon) Contains(q Vec2) bool {
	in := loopContains(p.Outer, q)
	for _, h := range p.Holes {
		if loopContains(h, q) {
			in = !in
		}
	}
	return in
}

func loopContains(loop []Vec2, q Vec2) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > q.Y) != (b.Y > q.Y) && (orient2d(a, b, q) > 0) == (b.Y > a.Y) {
			in = !in
		}
	}
	return in
}

// Dist is the distance of q from the boundary, of the outer loop or of a hole;
// it is not signed.
func (p Polygon) Dist(q Vec2) float64 {
	d := loopDist(p.Outer, q)
	for _, h := range p.Holes {
		d = min(d, loopDist(h, q))
	}
	return d
}

func loopDist(loop []Vec2, q Vec2) float64 {
	best := math.Inf(1)
	for i, a := range loop {
		best = min(best, NearestOnSegment2(q, a, loop[(i+1)%len(loop)]).Dist(q))
	}
	return best
}

// NearestOnSegment2 is the point of segment a-b nearest to p.
func NearestOnSegment2(p, a, b Vec2) Vec2 {
	d := b.Sub(a)
	l := d.Dot(d)
	if !(l > 0) {
		return a
	}
	t := p.Sub(a).Dot(d) / l
	if t <= 0 {
		return a
	}
	if t >= 1 {
		return b
	}
	return a.Add(d.Mul(t))
}
