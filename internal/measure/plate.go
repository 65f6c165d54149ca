package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// PlateEdge is the least distance from a plate's outline to the edge of the
// concrete, in the plane of the plate's outer face and over the plate's
// thickness. Negative: the plate overhangs the concrete by that much.
func PlateEdge(it *model.Item) (Edge, bool) {
	if it.PlateIn == nil || len(it.Outline) < 3 {
		return Edge{}, false
	}
	p := it.PlateIn
	l := newLayer(p, p.Normal.Neg(), max(it.Thick, 1))
	l.frame = geom.FrameZX(p.Point, p.Normal.Neg(), it.Outline[1].Sub(it.Outline[0]))
	outline := make([]geom.Vec2, len(it.Outline))
	for i, c := range it.Outline {
		q := l.frame.Local(c)
		outline[i] = geom.Vec2{X: q.X, Y: q.Y}
	}
	if over, ok := l.overhang(outline); ok {
		return over, true
	}
	l.own = ownSlot(&l, outline, it.Thick)
	best := nearest{Dist: math.Inf(1)}
	var from geom.Vec2
	reach := 300.0
	for _, c := range outline {
		reach = max(reach, 2*c.Norm())
	}
	l.visit(reach, func(reach float64) bool { return best.Dist <= reach/2 }, func(poly []geom.Vec2, part, t int) {
		d, f, p := polygonGap(outline, poly)
		if d < best.Dist-1e-6 {
			from = f
		}
		best.take(&l, d, p, part, t)
	})
	if math.IsInf(best.Dist, 1) {
		return Edge{}, false
	}
	e := l.edge(&best)
	e.Dir = l.frame.Turn(geom.Vec{X: best.at.X - from.X, Y: best.at.Y - from.Y}).Unit()
	return e, true
}

// ownSlot tells the surface of a slot that is cut for the plate itself: within
// its outline, as deep as it is thick, and 3 mm around.
func ownSlot(l *layer, outline []geom.Vec2, thick float64) func(geom.Vec) bool {
	return func(v geom.Vec) bool {
		q := l.frame.Local(v)
		if q.Z > thick+slotPlay {
			return false
		}
		d, _ := pointPolygon(geom.Vec2{X: q.X, Y: q.Y}, outline)
		return d <= slotPlay
	}
}

// slotPlay is by how much, in mm, a slot may be wider than the plate in it.
const slotPlay = 3

// overhang looks for corners of the outline beyond the concrete just below the
// face. A corner that has concrete a little further out stands in a slot.
func (l *layer) overhang(outline []geom.Vec2) (Edge, bool) {
	n := l.frame.Z
	cut := geom.Plane{N: n, D: n.Dot(l.frame.T) + skin}
	worst := Edge{}
	for i, c := range outline {
		at := func(v geom.Vec2) geom.Vec { return l.frame.Apply(geom.Vec{X: v.X, Y: v.Y, Z: skin}) }
		if l.solid.Contains(at(c)) || l.solid.Contains(at(outwards(outline, i, slotPlay+0.5))) {
			continue
		}
		p := at(c)
		if d, on := sectionDistance(l.solid, cut, p); d > geom.Tol && -d < worst.Dist {
			worst = Edge{Dist: -d, At: on, Dir: p.Sub(on).Unit(), Depth: skin}
		}
	}
	return worst, worst.Dist < 0
}

// outwards is corner i moved out of its outline by d along both sides.
func outwards(outline []geom.Vec2, i int, d float64) geom.Vec2 {
	n := len(outline)
	c := outline[i]
	unit := func(v geom.Vec2) geom.Vec2 {
		if l := v.Norm(); l > 0 {
			return v.Mul(1 / l)
		}
		return geom.Vec2{}
	}
	out := unit(c.Sub(outline[(i+n-1)%n])).Add(unit(c.Sub(outline[(i+1)%n])))
	return c.Add(out.Mul(d))
}

// sectionDistance is the distance from a point in the plane to the outline of
// the solid's section there.
func sectionDistance(m *geom.Solid, cut geom.Plane, p geom.Vec) (float64, geom.Vec) {
	f := cut.Frame()
	q := f.Local(p)
	best, at := math.Inf(1), geom.Vec{}
	for _, poly := range m.Section(cut) {
		for _, loop := range append([][]geom.Vec2{poly.Outer}, poly.Holes...) {
			for i, a := range loop {
				n := geom.NearestOnSegment2(geom.Vec2{X: q.X, Y: q.Y}, a, loop[(i+1)%len(loop)])
				if d := n.Dist(geom.Vec2{X: q.X, Y: q.Y}); d < best {
					best, at = d, f.Apply(geom.Vec{X: n.X, Y: n.Y})
				}
			}
		}
	}
	return best, at
}

// polygonGap is the distance from the outline of a to the convex polygon b, 0
// when they meet, with the nearest points of both.
func polygonGap(a, b []geom.Vec2) (gap float64, onA, onB geom.Vec2) {
	gap = math.Inf(1)
	for i := range a {
		if d, p := pointPolygon(a[i], b); d < gap {
			gap, onA, onB = d, a[i], p
		}
		j := (i + 1) % len(a)
		for k := range b {
			d, p := sideDistance(a[i], a[j], b[k], b[(k+1)%len(b)])
			if d < gap {
				gap, onA, onB = d, geom.NearestOnSegment2(p, a[i], a[j]), p
			}
		}
	}
	return gap, onA, onB
}
