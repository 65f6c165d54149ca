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
	l := layer{
		solid: p.Solid,
		frame: geom.FrameZX(p.Point, p.Normal.Neg(), it.Outline[1].Sub(it.Outline[0])),
		dir:   p.Normal.Neg(),
		depth: max(it.Thick, 1),
		skip:  patch(p.Solid, int32(p.Tri)),
	}
	outline := make([]geom.Vec2, len(it.Outline))
	for i, c := range it.Outline {
		q := l.frame.Local(c)
		outline[i] = geom.Vec2{X: q.X, Y: q.Y}
	}
	l.own = ownSlot(&l, outline, it.Thick)
	if over, ok := l.overhang(outline); ok {
		return over, true
	}
	best := math.Inf(1)
	var at, from geom.Vec2
	var tri int
	reach := 300.0
	for _, c := range outline {
		reach = max(reach, 2*c.Norm())
	}
	l.visit(reach, func(reach float64) bool { return best <= reach/2 }, func(poly []geom.Vec2, t int) {
		if d, f, p := polygonGap(outline, poly); d < best-1e-9 {
			best, at, from, tri = d, p, f, t
		}
	})
	if math.IsInf(best, 1) {
		return Edge{}, false
	}
	e := l.edge(at, best, tri)
	e.Dir = l.frame.Turn(geom.Vec{X: at.X - from.X, Y: at.Y - from.Y}).Unit()
	return e, true
}

// ownSlot tells the surface of a slot that is cut for the plate itself: within
// its outline, as deep as it is thick, and 3 mm around.
func ownSlot(l *layer, outline []geom.Vec2, thick float64) func(geom.Vec) bool {
	const play = 3
	return func(v geom.Vec) bool {
		q := l.frame.Local(v)
		if q.Z > thick+play {
			return false
		}
		d, _ := pointPolygon(geom.Vec2{X: q.X, Y: q.Y}, outline)
		return d <= play
	}
}

// overhang looks for corners of the outline beyond the concrete just below the
// face.
func (l *layer) overhang(outline []geom.Vec2) (Edge, bool) {
	n := l.frame.Z
	cut := geom.Plane{N: n, D: n.Dot(l.frame.T) + skin}
	worst := Edge{}
	for _, c := range outline {
		p := l.frame.Apply(geom.Vec{X: c.X, Y: c.Y, Z: skin})
		if l.solid.Contains(p) {
			continue
		}
		if d, at := sectionDistance(l.solid, cut, p); d > geom.Tol && -d < worst.Dist && !l.own(at) {
			worst = Edge{Dist: -d, At: at, Dir: p.Sub(at).Unit(), Depth: skin}
		}
	}
	return worst, worst.Dist < 0
}

// sectionDistance is the distance from a point in the plane to the outline of
// the solid's section there.
func sectionDistance(m *geom.Mesh, cut geom.Plane, p geom.Vec) (float64, geom.Vec) {
	f := cut.Frame()
	q := f.Local(p)
	best, at := math.Inf(1), geom.Vec{}
	for _, poly := range m.Section(cut) {
		for _, loop := range append([][]geom.Vec2{poly.Outer}, poly.Holes...) {
			for i, a := range loop {
				n := nearestOnSide(geom.Vec2{X: q.X, Y: q.Y}, a, loop[(i+1)%len(loop)])
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
				gap, onA, onB = d, nearestOnSide(p, a[i], a[j]), p
			}
		}
	}
	return gap, onA, onB
}
