package rules

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// cone is what the edges of the concrete leave of a set's breakout cone. The
// figures are those of ACI 318-19 17.6.2 and EN 1992-4 7.2.1.4, which agree in
// all that is geometry: a pyramid with sides of 1.5 embedment depths.
type cone struct {
	Depth  float64 // mm, that the figures go by: reduced in a narrow member
	Area   float64 // mm2, projected area of the set as far as there is concrete
	One    float64 // mm2, of one anchor far from all edges
	Edge   float64 // factor for the nearest edge, 0.7 to 1
	Share  float64 // of what the set would have far from all edges, 0 to 1
	Narrow bool    // three or more edges within 1.5 embedment depths
}

// reachOfCone is how far a cone reaches, in embedment depths.
const reachOfCone = 1.5

// pad is what the plan of a set's cones is drawn on: the entry face in its own
// frame.
type pad struct {
	outline [][]geom.Vec2 // of the concrete just below the face
	at      []geom.Vec2   // the anchors
	depth   []float64     // their embedment depths, mm
	edge    float64       // least edge distance of all, mm; +Inf without one
}

// newPad draws the anchors of one face; false when they have no common outline.
func newPad(anchors []*model.Anchor, edgeOf func(*model.Anchor) (measure.Edge, bool)) (*pad, bool) {
	e := anchors[0].Entry
	p := &pad{edge: math.Inf(1)}
	var x geom.Vec
	for _, a := range anchors {
		if d, ok := edgeOf(a); ok && d.Dist < p.edge {
			p.edge, x = d.Dist, d.Dir
		}
	}
	if p.edge > reachOfCone*anchors[0].Embedment() && len(anchors) > 1 {
		x = anchors[1].Entry.Point.Sub(e.Point)
	}
	f := geom.FrameZX(e.Point, e.Normal, x)
	for _, a := range anchors {
		q := f.Local(a.Entry.Point)
		p.at = append(p.at, geom.Vec2{X: q.X, Y: q.Y})
		p.depth = append(p.depth, a.Embedment())
	}
	p.outlineOf(e.Solid, f, half(anchors))
	return p, len(p.outline) > 0
}

// half is half the least embedment depth, and no more than half the thickness:
// how deep below the face the concrete is cut to see its outline. On a round
// column a cut at the face itself would show one facet.
func half(anchors []*model.Anchor) float64 {
	d := math.Inf(1)
	for _, a := range anchors {
		d = min(d, a.Embedment()/2, a.Entry.Thickness/2)
	}
	return d
}

// outlineOf draws the concrete around the anchors, cut so deep below the face.
func (p *pad) outlineOf(solid *geom.Solid, f geom.Affine, deep float64) {
	cut := geom.PlaneAt(f.T.Sub(f.Z.Mul(deep)), f.Z)
	g := cut.Frame()
	flat := func(loop []geom.Vec2) []geom.Vec2 {
		out := make([]geom.Vec2, len(loop))
		for k, v := range loop {
			q := f.Local(g.Apply(geom.Vec{X: v.X, Y: v.Y}))
			out[k] = geom.Vec2{X: q.X, Y: q.Y}
		}
		return out
	}
	for _, poly := range solid.Section(cut) {
		outer := flat(poly.Outer)
		if !p.holdsAnchor(outer) {
			continue // a piece of concrete apart from the set's
		}
		p.outline = append(p.outline, outer)
		for _, h := range poly.Holes {
			if hole := flat(h); !p.holdsAnchor(hole) { // else the recess of an item of the set
				p.outline = append(p.outline, hole)
			}
		}
	}
}

func (p *pad) holdsAnchor(loop []geom.Vec2) bool {
	for _, q := range p.at {
		if evenOdd(q, loop) {
			return true
		}
	}
	return false
}

// evenOdd reports whether a point lies inside a loop.
func evenOdd(p geom.Vec2, loop []geom.Vec2) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// cone works the figures out.
func (p *pad) cone() cone {
	full := 0.0
	for _, d := range p.depth {
		full = max(full, d)
	}
	c := cone{Depth: full, Edge: 1}
	if d, ok := p.narrowDepth(full); ok {
		c.Depth, c.Narrow = d, true
	}
	c.One = math.Pow(2*reachOfCone*c.Depth, 2)
	c.Area = coveredArea(p.squares(c.Depth/full), p.outline)
	if far := reachOfCone * c.Depth; p.edge < far {
		c.Edge = 0.7 + 0.3*p.edge/far
	}
	open := coveredArea(p.squares(1), nil) / math.Pow(2*reachOfCone*full, 2) * math.Pow(full, 1.5)
	c.Share = min(1, c.Area/c.One*c.Edge*math.Pow(c.Depth, 1.5)/open)
	return c
}

// squares are the projected areas of the anchors, with their depths times k.
func (p *pad) squares(k float64) []square {
	out := make([]square, len(p.at))
	for i, q := range p.at {
		out[i] = square{q, reachOfCone * p.depth[i] * k}
	}
	return out
}

// narrowDepth is the reduced depth of a member with three or more edges within
// the reach of the cone (ACI 318-19 17.6.2.1.2; EN 1992-4 7.2.1.4 (8) has the
// same): the greatest of those edge distances over 1.5, or a third of the
// greatest spacing, whichever is more.
func (p *pad) narrowDepth(depth float64) (float64, bool) {
	reach := reachOfCone * depth
	near, most := 0, 0.0
	for _, dir := range [4]geom.Vec2{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		d := math.Inf(1)
		for _, q := range p.at {
			d = min(d, p.ray(q, dir))
		}
		if d < reach-geom.Tol {
			near, most = near+1, max(most, d)
		}
	}
	if near < 3 {
		return depth, false
	}
	return min(depth, max(most/reachOfCone, p.widest()/(2*reachOfCone))), true
}

// ray is the distance from a point along x or y to the outline.
func (p *pad) ray(q, dir geom.Vec2) float64 {
	best := math.Inf(1)
	side := geom.Vec2{X: -dir.Y, Y: dir.X}
	for _, loop := range p.outline {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			s, t := a.Sub(q).Dot(side), b.Sub(q).Dot(side)
			if (s > 0) == (t > 0) {
				continue
			}
			u, v := a.Sub(q).Dot(dir), b.Sub(q).Dot(dir)
			if d := u + (v-u)*s/(s-t); d >= 0 {
				best = min(best, d)
			}
		}
	}
	return best
}

// widest is the greatest spacing of neighbouring rows, along x or y.
func (p *pad) widest() float64 {
	var most float64
	for _, along := range []func(geom.Vec2) float64{
		func(v geom.Vec2) float64 { return v.X },
		func(v geom.Vec2) float64 { return v.Y },
	} {
		for _, q := range p.at {
			next := math.Inf(1)
			for _, r := range p.at {
				if d := along(r) - along(q); d > coaxial {
					next = min(next, d)
				}
			}
			if !math.IsInf(next, 1) {
				most = max(most, next)
			}
		}
	}
	return most
}
