package geom

import "math"

// RodRod is the clear distance between two rods, surface to surface, and the
// point of each where it is taken. A tube's hole counts as solid. Rods without a
// path are +Inf apart.
//
// Where the nearest points of the axes lie between the ends, the distance is
// that of the axes less both radii; it is negative when the rods overlap there,
// and pa and pb are then the farthest points of each inside the other. Flat ends
// are measured as such, exactly. An overlap at a flat end is the least move that
// frees the rods, which is found by search; pa is then a place in the overlap,
// and pb is pa after that move.
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
	as, bs := pieces(a, o), pieces(b, o)
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
	if g, along, ok := c.beside(o, g); ok {
		return g, along, true
	}
	dist, y, meet := convexGap(c, o, max(limit, 0))
	if !meet {
		return dist, y, dist <= limit
	}
	s := newEscapeSearch(c, o)
	s.try(w)
	s.try(c.axis)
	s.try(o.axis)
	s.try(c.axis.Cross(o.axis))
	for _, e := range [2]Vec{c.a, c.b} {
		s.try(e.Sub(nearestOnLine(e, o.a, o.axis)))
	}
	for _, e := range [2]Vec{o.a, o.b} {
		s.try(e.Sub(nearestOnLine(e, c.a, c.axis)))
	}
	s.refine()
	return s.best().gap, y.moved(s.best()), true
}

// beside is the gap of pieces that run side by side: their axes' distance less
// both radii, unless pushing them apart along the axis is the shorter way out.
func (c *piece) beside(o *piece, gap float64) (float64, pair, bool) {
	if c.axis == (Vec{}) || math.Abs(c.axis.Dot(o.axis)) < 1-1e-12 {
		return 0, pair{}, false
	}
	x, y := o.a.Sub(c.a).Dot(c.axis), o.b.Sub(c.a).Dot(c.axis)
	from, to := max(0, min(x, y)), min(c.b.Dist(c.a), max(x, y))
	if to-from < max(0, -gap) || to <= from {
		return 0, pair{}, false
	}
	p := c.a.Add(c.axis.Mul((from + to) / 2))
	q := nearestOnLine(p, o.a, o.axis)
	w := q.Sub(p).Unit()
	if w == (Vec{}) {
		w = c.axis.Perp()
	}
	return gap, pair{p.Add(w.Mul(c.r)), q.Sub(w.Mul(o.r))}, true
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
