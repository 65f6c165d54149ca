package rod

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// ring is a loop of a section seen along the prism that its facets form.
type ring struct {
	axis             // through the middle of the loop, along the prism
	r        float64 // radius of the fitted circle
	residual float64 // worst distance of a corner from it
	misfit   float64 // the same without the corners left out at a seam
	near     float64 // least distance of the outline from the centre
	least    float64 // least and
	most     float64 // greatest distance of a corner from the centre
	sides    int     // corners
	tilt     float64 // root mean square of the sine between facets and axis
	outward  bool    // every facet faces away from the centre
	inward   bool    // every facet faces the centre: a hole
	gap      float64 // widest angle between neighbouring corners
	cover    float64 // length of the outline against the polygon through the corners
	normals  [3]float64

	distorted bool // on no circle, but all of the outline near the one around it
}

const (
	cosFacet = 0.99978  // 1.2 degrees: more than the noise of a short facet, less than the turn of 128 sides
	cosFine  = 0.999998 // 0.1 degrees: for sections of more sides
)

// fewCorners is the least that a round section is drawn with.
const fewCorners = 5

// fit fits a prism and a circle to a loop; d is roughly the direction of the
// axis. ok is false when the loop has too few corners to say anything.
func (sec *section) fit(lp int32, d geom.Vec) (ring, bool) {
	var g ring
	if sec.findCorners(lp, cosFacet) < fewCorners && sec.findCorners(lp, cosFine) < fewCorners {
		return g, false
	}
	g.d, g.tilt, g.normals = sec.prismAxis(lp)
	if g.d.Dot(d) < 0 {
		g.d = g.d.Neg()
	}
	o := sec.loops[lp].mean
	var buf [64]geom.Vec2
	pts := sec.flatten(lp, o, g.d, buf[:0])
	c, r, kept, ok := fitMost(pts)
	if !ok {
		return g, false
	}
	sec.place(lp, &g, o, pts, c, r)
	g.misfit = misfit(pts[:kept], c, r)
	return g, true
}

// fitDistorted is fit for a section that lies on no circle: with the circle
// around it, when all of the outline lies within a tenth of its radius.
func (sec *section) fitDistorted(lp int32, d geom.Vec) (ring, bool) {
	g, ok := sec.fit(lp, d)
	if !ok || g.misfit <= offCircle(g.r) || g.sides < 8 || g.sides > manyCorners {
		return g, ok
	}
	exact := g
	o := sec.loops[lp].mean
	var buf [64]geom.Vec2
	pts := sec.flatten(lp, o, g.d, buf[:0])
	c, r := enclosing(pts)
	sec.place(lp, &g, o, pts, c, r)
	if g.near < 0.9*r || g.gap > 50*math.Pi/180 {
		return exact, true
	}
	g.misfit, g.distorted = 0, true
	return g, true
}

// flatten are the corners of a loop in the plane through o square to d.
func (sec *section) flatten(lp int32, o, d geom.Vec, pts []geom.Vec2) []geom.Vec2 {
	e1 := d.Perp()
	e2 := d.Cross(e1)
	nodes := sec.nodesOf(lp)
	for i := range nodes {
		if nd := &nodes[i]; nd.corner {
			p := nd.at.Sub(o)
			pts = append(pts, geom.Vec2{X: p.Dot(e1), Y: p.Dot(e2)})
		}
	}
	return pts
}

// place sets the circle of g and measures the outline against it.
func (sec *section) place(lp int32, g *ring, o geom.Vec, pts []geom.Vec2, c geom.Vec2, r float64) {
	e1 := g.d.Perp()
	e2 := g.d.Cross(e1)
	g.a, g.r, g.sides = o.Add(e1.Mul(c.X)).Add(e2.Mul(c.Y)), r, len(pts)
	g.spread(pts, c)
	sec.faces(lp, g)
}

// prismAxis is the direction that the facets of a loop have in common: the one
// in which their normals have the least weight.
func (sec *section) prismAxis(lp int32) (d geom.Vec, tilt float64, normals [3]float64) {
	var m sym3
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		m.add(sec.shell.normal[sg.tri], sg.p.Dist(sg.q))
	}
	val, vec := m.eigen()
	sum := val[0] + val[1] + val[2]
	if sum <= 0 {
		return sec.n, 1, val
	}
	for i := range val {
		val[i] /= sum
	}
	return vec[0], math.Sqrt(math.Max(0, val[0])), val
}

// spread measures how the corners lie about the centre.
func (g *ring) spread(pts []geom.Vec2, c geom.Vec2) {
	g.least, g.most, g.gap = math.Inf(1), 0, 0
	var buf [64]float64
	angles := buf[:0]
	for _, p := range pts {
		p = p.Sub(c)
		l := p.Norm()
		g.least, g.most = math.Min(g.least, l), math.Max(g.most, l)
		angles = append(angles, math.Atan2(p.Y, p.X))
	}
	g.residual = math.Max(g.most-g.r, g.r-g.least)
	slices.Sort(angles)
	polygon := 0.0
	for i := range angles {
		next := angles[0] + 2*math.Pi
		if i+1 < len(angles) {
			next = angles[i+1]
		}
		g.gap = math.Max(g.gap, next-angles[i])
		polygon += 2 * g.r * math.Sin(math.Min(next-angles[i], math.Pi)/2)
	}
	g.cover = polygon
}

// faces says which way the facets face and how near they come to the centre, and
// turns cover into a share.
func (sec *section) faces(lp int32, g *ring) {
	out, in, length := 0.0, 0.0, 0.0
	g.near = math.Inf(1)
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		p, q := sg.p.Sub(g.a), sg.q.Sub(g.a)
		p, q = p.Sub(g.d.Mul(p.Dot(g.d))), q.Sub(g.d.Mul(q.Dot(g.d)))
		l := p.Dist(q)
		length += l
		g.near = math.Min(g.near, offSegment(geom.Vec{}, p, q))
		if sec.shell.normal[sg.tri].Dot(p.Add(q)) > 0 {
			out += l
		} else {
			in += l
		}
	}
	g.outward, g.inward = in <= 0.01*length, out <= 0.01*length
	if g.cover > 0 {
		g.cover = length / g.cover
	}
}

// round reports whether the loop is the section of a straight round bar or
// bore: at least five corners on one circle, evenly around it, on a true prism.
// Five are a coarse round bar, since no steel is pentagonal; six are a hexagon:
// nothing in its section tells it from a coarse round bar. A distorted
// section, as exporters write them that put two halves together, passes too.
func (g *ring) round() bool {
	const tilt = 0.0105 // 0.6 degrees: a cone is no bar
	gap := 65 * math.Pi / 180
	if g.sides == fewCorners {
		gap = 73 * math.Pi / 180
	}
	return g.r > 10*weldTol && g.tilt <= tilt && g.gap <= gap && (g.distorted || g.misfit <= offCircle(g.r)) &&
		g.cover > 0.95 && g.cover < 2.1 && g.normals[1] > 0.3
}

// offCircle is how far corners of a round section may lie from the circle.
func offCircle(r float64) float64 { return 0.02*r + 0.01 }

// bent reports whether the loop can be one step round a bend of a bar with
// radius r: a ring squeezed by the half turn of the step.
func (g *ring) bent(r float64) bool {
	return g.outward && g.tilt <= 0.02 && g.most <= 1.06*r+0.02 && g.most >= 0.94*r-0.02 && g.least >= 0.6*r && g.gap < math.Pi/2
}
