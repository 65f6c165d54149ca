package drawing

import (
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// drawCut draws the section without its dimensions. What lies in front hides
// what is drawn later.
func (c *cut) drawCut(v *view) {
	c.drawNamedBar(v)
	c.drawItems(v)
	c.drawBars(v)
	paper := c.host.on(v)
	for _, l := range paper {
		v.loop(l, Pen{Width: Thick})
	}
	for _, l := range c.other.on(v) {
		v.loop(l, Pen{Width: Thick})
	}
	v.breaks(paper)
	v.breaks(c.other.on(v))
	if c.s.Quantity == subject.Cone || c.s.Quantity == subject.BarDistance {
		c.drawCone(v, paper)
	}
	if r := paper.bounds().cut(v.clip); !r.empty() {
		v.core = r
	}
	c.drawAxis(v)
}

func (c *cut) drawItems(v *view) {
	box := c.reachBox(v, 40)
	for _, it := range c.s.Index.ItemsIn(box) {
		if it.Host != c.s.Host && it != c.s.Item && it != c.s.Aim.Item {
			continue
		}
		for i := range it.Bodies {
			b := &it.Bodies[i]
			if !c.shows(it, b) {
				continue
			}
			o := v.bodyOutline(b)
			pen := Pen{Width: Mid}
			if it == c.s.Item {
				pen.Width = Thick
			}
			for _, e := range o.edges {
				v.stroke(e.a, e.b, pen)
			}
			v.hide(o.covers...)
		}
	}
}

// shows reports whether a body belongs into the section: it is cut, or carries
// the anchor that is looked at.
func (c *cut) shows(it *model.Item, b *model.Body) bool {
	if it == c.s.Item && len(it.Bodies) == 1 || it == c.s.Aim.Item {
		return true
	}
	if b.Rod != nil && len(b.Rod.Path) > 0 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, q := range b.Rod.Path {
			z := c.frame.Local(q).Z
			lo, hi = min(lo, z), max(hi, z)
		}
		return lo <= b.Rod.Radius && hi >= -b.Rod.Radius
	}
	return meshMeets(b.Mesh, c.frame)
}

// meshMeets reports whether the plane of a frame cuts a mesh.
func meshMeets(m *geom.Mesh, f geom.Affine) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range m.Verts {
		z := f.Local(q).Z
		lo, hi = min(lo, z), max(hi, z)
	}
	return lo <= 0.5 && hi >= -0.5
}

func (c *cut) reachBox(v *view, depth float64) geom.Box {
	b := geom.EmptyBox
	for _, q := range v.clip.corners() {
		x := (q.X-v.middle.X)/v.k + v.centre.X
		y := (v.middle.Y-q.Y)/v.k + v.centre.Y
		b = b.Add(v.frame.Apply(geom.V(x, y, depth))).Add(v.frame.Apply(geom.V(x, y, -depth)))
	}
	return b
}

// drawNamedBar draws the bar that the finding is about, in front of the item.
func (c *cut) drawNamedBar(v *view) {
	if b := c.s.Aim.Bar; b != nil {
		c.drawPiece(v, b, Pen{Width: Thick})
	}
}

// drawBars draws bars that cross the plane as filled, those that run beside it
// as seen.
func (c *cut) drawBars(v *view) {
	for _, b := range c.s.Index.Bars(c.reachBox(v, 30), mostBars) {
		if c.s.Aim.Bar == nil || c.s.Aim.Bar.Piece != b.Piece {
			c.drawPiece(v, &b, Pen{Width: Fine})
		}
	}
}

func (c *cut) drawPiece(v *view, b *subject.Bar, pen Pen) {
	if b.Rod != nil {
		v.drawBar(*b.Rod, pen)
		return
	}
	if !meshMeets(b.Mesh, c.frame) && pen.Width < Thick {
		return
	}
	o := v.meshOutline(b.Mesh)
	for _, e := range o.edges {
		v.stroke(e.a, e.b, pen)
	}
	v.hide(o.covers...)
}

// drawBar draws a bar: where it crosses the plane steeply, its cut, filled; else
// its length within 30 mm of the plane.
func (v *view) drawBar(r geom.Rod, pen Pen) {
	near := 30 + r.Radius
	for i := 1; i < len(r.Path); i++ {
		a, b := v.frame.Local(r.Path[i-1]), v.frame.Local(r.Path[i])
		d := b.Sub(a)
		if math.Abs(d.Z) > 0.7*d.Norm() { // steep
			if (a.Z < 0) != (b.Z < 0) {
				t := a.Z / (a.Z - b.Z)
				q := v.paper(geom.Vec2{X: a.X + d.X*t, Y: a.Y + d.Y*t})
				rad := max(r.Radius*v.k, 0.35)
				v.drawRound(q, rad, pen)
			}
			continue
		}
		from, to, ok := within(a.Z, b.Z, near)
		if !ok {
			continue
		}
		part := geom.Rod{Radius: r.Radius, Path: []geom.Vec{r.Path[i-1].Lerp(r.Path[i], from), r.Path[i-1].Lerp(r.Path[i], to)}}
		o := v.rodOutline(part)
		for _, e := range o.edges {
			v.stroke(e.a, e.b, pen)
		}
		v.hide(o.covers...)
	}
}

// drawRound draws the cut of a bar: filled where it is small, else hatched.
func (v *view) drawRound(q geom.Vec2, r float64, pen Pen) {
	const small = 1.2
	fill := NoInk
	if r < small {
		fill = Black
	}
	v.circle(q, r, pen, fill)
	if fill == NoInk {
		for t := -math.Floor(r/0.9) * 0.9; t < r; t += 0.9 {
			h := math.Sqrt(max(0, r*r-t*t))
			n, d := geom.Vec2{X: 0.7071, Y: 0.7071}.Mul(t), geom.Vec2{X: 0.7071, Y: -0.7071}.Mul(h)
			v.stroke(q.Add(n).Sub(d), q.Add(n).Add(d), Pen{Width: Thin})
		}
	}
	v.hide(circlePoints(q, r, 24))
}

// within is the part of a way from height a to height b that lies within
// near of zero.
func within(a, b, near float64) (from, to float64, ok bool) {
	if a == b {
		return 0, 1, math.Abs(a) <= near
	}
	t0, t1 := (-near-a)/(b-a), (near-a)/(b-a)
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	from, to = max(0, t0), min(1, t1)
	return from, to, from < to
}

// drawCone draws the sides of the breakout cone, from the bearing side up to the
// face or to the edge.
func (c *cut) drawCone(v *view, host region) {
	a := c.s.Anchor
	if a == nil || a.Entry == nil || a.Embedment() <= 0 {
		return
	}
	foot := a.At(a.Bearing)
	for _, s := range [2]float64{1, -1} {
		top := a.Entry.Point.Add(c.s.Aim.Dir.Mul(s * coneReach * a.Embedment()))
		line := seg{v.at(foot), v.at(top)}
		for _, in := range host.inside(line) {
			v.stroke(lerp(line.a, line.b, in.from), lerp(line.a, line.b, in.to), Pen{Width: Mid, Dash: TwoDotted})
			break
		}
	}
}

// drawAxis draws the centre line of the anchor.
func (c *cut) drawAxis(v *view) {
	a := c.s.Anchor
	if a == nil {
		return
	}
	p, q := v.at(a.At(-6/v.k)), v.at(a.At(a.Deepest+6/v.k))
	if p, q, ok := v.clip.clipLine(p, q); ok {
		v.line(p, q, Pen{Width: Thin, Dash: Chain})
	}
	if a.Entry == nil || c.s.Quantity != subject.OutOfSquare {
		return
	}
	in, n := a.Entry.Point, a.Entry.Normal // what it should be
	p, q = v.at(in.Add(n.Mul(max(a.Entry.Dist, 0)+6/v.k))), v.at(in.Sub(n.Mul(a.Embedment())))
	if p, q, ok := v.clip.clipLine(p, q); ok {
		v.line(p, q, Pen{Width: Fine, Dash: Dashed, Ink: Accent})
	}
}
