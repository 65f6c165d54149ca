package geom

import "math"

// RodRod is the clear distance between two rods, surface to surface, and the
// point of each where it is taken. A tube's hole counts as solid. Rods without a
// path are +Inf apart.
//
// Where the nearest points of the axes lie between the ends, the distance is
// that of the axes less both radii; it is negative when the rods overlap there,
// and pa and pb are then the farthest points of each inside the other. Flat ends
// are measured as such. An overlap at a flat end is the least move that frees the
// pieces; pa is then a place in the overlap, and pb is pa after that move of b.
func RodRod(a, b Rod) (gap float64, pa, pb Vec) {
	gap, x, _ := rodRod(a, b, math.Inf(1))
	return gap, x.p, x.q
}

// RodRodWithin is RodRod that stops when the gap is surely more than limit; ok is
// false then, and the other results mean nothing.
func RodRodWithin(a, b Rod, limit float64) (gap float64, pa, pb Vec, ok bool) {
	gap, x, ok := rodRod(a, b, limit)
	return gap, x.p, x.q, ok
}

func rodRod(a, b Rod, limit float64) (gap float64, at pair, ok bool) {
	gap = math.Inf(1)
	if len(a.Path) == 0 || len(b.Path) == 0 || a.Box().gap(b.Box()) > max(limit, 0) {
		return gap, at, false
	}
	o := a.Path[0] // rods far from zero would lose digits in the search
	var buf [2][6]piece
	as, bs := pieces(buf[0][:0], a, o), pieces(buf[1][:0], b, o)
	for i := range as {
		for k := range bs {
			if g, x, near := as[i].gapTo(&bs[k], min(gap, limit)); near && g < gap {
				gap, at = g, x
			}
		}
	}
	return gap, pair{at.p.Add(o), at.q.Add(o)}, gap <= limit
}

// gapTo is the gap between two pieces; false when it is more than limit.
func (c *piece) gapTo(o *piece, limit float64) (float64, pair, bool) {
	x := nearestSegments(c.a, c.b, o.a, o.b)
	w := x.q.Sub(x.p)
	d := w.Norm()
	g := d - c.r - o.r // also a lower bound: flat ends only take away
	if g > limit {
		return g, x, false
	}
	if d > 1e-9 && !c.beyond(x.p, w) && !o.beyond(x.q, w.Neg()) ||
		d <= 1e-9 && !c.atFlatEnd(x.p) && !o.atFlatEnd(x.q) {
		if d > 1e-9 {
			w = w.Mul(1 / d)
		} else if w = c.axis.Cross(o.axis).Unit(); w == (Vec{}) {
			w = c.axis.Perp()
		}
		return g, pair{x.p.Add(w.Mul(c.r)), x.q.Sub(w.Mul(o.r))}, true
	}
	return gapAtEnd(*c, *o, w, limit)
}

// gapAtEnd is gapTo where a flat end takes part. w leads from one axis to the
// other.
func gapAtEnd(c, o piece, w Vec, limit float64) (float64, pair, bool) {
	dist, y, meet := convexGap(&c, &o, max(limit, 0))
	if !meet && dist > nearTouch {
		return dist, y, dist <= limit
	}
	e := c.escapePiece(&o, y.q.Sub(y.p), w)
	if e.gap >= 0 {
		return e.gap, pair{y.p, y.p.Add(e.v.Mul(e.gap))}, true
	}
	return e.gap, y.moved(e), true
}

// nearTouch is the distance in mm below which the search for nearest points has
// lost its direction, and the search for a plane between the bodies is better.
const nearTouch = 1e-3

// escapePiece looks at the directions in which two round pieces can leave each
// other: along an axis, where a flat end lets go; square to an axis, where a side
// does; and between, where two rims do. hints are directions to begin with.
func (c *piece) escapePiece(o *piece, hints ...Vec) escape {
	s := newEscapeSearch(c, o)
	for _, v := range hints {
		s.try(v)
	}
	s.try(c.axis)
	s.try(o.axis)
	s.try(c.axis.Cross(o.axis))
	for _, e := range [2]Vec{c.a, c.b} {
		s.try(e.Sub(nearestOnLine(e, o.a, o.axis)))
	}
	for _, e := range [2]Vec{o.a, o.b} {
		s.try(e.Sub(nearestOnLine(e, c.a, c.axis)))
	}
	s.around(c.axis)
	s.around(o.axis)
	s.refine()
	return s.best()
}

// moved is the place of an overlap and where the way out takes it.
func (x pair) moved(e escape) pair { return pair{x.p, x.p.Add(e.v.Mul(-e.gap))} }

func nearestOnLine(p, o, d Vec) Vec { return o.Add(d.Mul(p.Sub(o).Dot(d))) }

// gap is the distance between two boxes, 0 when they meet.
func (b Box) gap(o Box) float64 {
	return Vec{
		max(b.Min.X-o.Max.X, 0, o.Min.X-b.Max.X),
		max(b.Min.Y-o.Max.Y, 0, o.Min.Y-b.Max.Y),
		max(b.Min.Z-o.Max.Z, 0, o.Min.Z-b.Max.Z),
	}.Norm()
}
