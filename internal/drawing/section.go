package drawing

import (
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// cut is the section through the worst anchor, before it is drawn.
type cut struct {
	s     *subject.Subject
	frame geom.Affine // at the entry point; z towards the reader
	axis  geom.Vec2   // into the concrete, in the frame
	host  region      // concrete in the plane
	other region      // of another host
	whole rect
	scale float64
	crop  rect
}

func newCut(s *subject.Subject, p *plan, w, h float64) *cut {
	c := &cut{s: s}
	c.turn(p)
	if s.Host != nil && s.Host.Solid != nil {
		c.host = sectionLoops(s.Host.Solid, c.frame, 0)
	}
	if len(c.host) == 0 && s.Face != nil {
		c.host = sectionLoops(s.Face.Solid, c.frame, 0)
	}
	if o := s.Aim.Host; o != nil {
		switch {
		case o.Solid != nil:
			c.other = sectionLoops(o.Solid, c.frame, 0)
		case !o.Box.Empty():
			c.other = sectionLoops(geom.NewSolid(boxMesh(o.Box)), c.frame, 0)
		}
	}
	c.whole = c.host.bounds()
	c.choose(w, h)
	return c
}

// turn sets the frame. What is up in the world is up in the section, too, where
// the plane stands. In a section that lies, the entry face is at the bottom, as
// the reader stands before it. Left and right are as in the view of the face.
func (c *cut) turn(p *plan) {
	in, g := c.s.Axis(), c.s.Aim.Dir
	n := in.Neg()
	if c.s.Face != nil {
		n = c.s.Face.Normal
	}
	var up, right geom.Vec
	switch {
	case n.Z > 0.7: // looks up
		up, right = in.Neg(), g
	case n.Z < -0.7: // looks down
		up, right = in, g
	case math.Abs(g.Z) > 0.7: // stands, cut upright
		up, right = g, in
		if g.Z < 0 {
			up = g.Neg()
		}
	default: // stands, cut lying
		up, right = in, g
	}
	if right != in { // as in the view of the face
		d := geom.Vec2{X: right.Dot(p.frame.X), Y: right.Dot(p.frame.Y)}
		if d.X < -1e-6 || math.Abs(d.X) <= 1e-6 && d.Y < 0 {
			right = right.Neg()
		}
	}
	c.frame = geom.FrameZX(c.s.Entry(), right.Cross(up), right)
	c.axis = geom.Vec2{X: in.Dot(c.frame.X), Y: in.Dot(c.frame.Y)}
}

func (c *cut) flat(q geom.Vec) geom.Vec2 {
	l := c.frame.Local(q)
	return geom.Vec2{X: l.X, Y: l.Y}
}

// must is what cannot be left out: the anchor, its edge or bar, and the far face
// unless that is far away.
func (c *cut) must() rect {
	s := c.s
	r := c.itemRect()
	long := max(r.w(), r.h(), 100)
	if a := s.Anchor; a != nil && a.Entry != nil {
		r = r.add(c.flat(a.Entry.Point))
		if t := a.Entry.Thickness; t < 3*long || s.Quantity == subject.Thickness || s.Quantity == subject.BackCover {
			r = r.add(c.flat(a.Entry.Point.Add(a.Dir.Mul(t))))
		}
		if s.Quantity == subject.Cone {
			d := coneReach * a.Embedment()
			r = r.union(rect{c.flat(a.Entry.Point), c.flat(a.Entry.Point)}.grow(d).cut(c.whole))
		}
	} else if s.Face != nil && s.Face.Thickness < 3*long {
		r = r.add(c.flat(s.Face.Point)).add(c.flat(s.Face.Point.Sub(s.Face.Normal.Mul(s.Face.Thickness))))
	}
	if s.Aim.Known && (s.Quantity == subject.EdgeDistance || s.Quantity == subject.PlateEdge || s.Quantity == subject.Spacing || s.Aim.From.Dist(s.Aim.To) < 2.5*long) {
		r = r.add(c.flat(s.Aim.From)).add(c.flat(s.Aim.To))
	}
	if s.Aim.Edge != nil && s.Aim.Edge.Dist < 2.5*long {
		r = r.add(c.flat(s.Aim.Edge.At))
	}
	if a := s.Aim.Anchor; a != nil {
		r = r.add(c.flat(a.Open)).add(c.flat(a.At(a.Deepest)))
	}
	return r
}

// itemRect is the anchor with what hangs on it, or the item where there is none.
func (c *cut) itemRect() rect {
	a := c.s.Anchor
	if a == nil {
		r := emptyRect
		for _, q := range c.s.Item.Box.Corners() {
			r = r.add(c.flat(q))
		}
		return r
	}
	half := max(a.Diameter, a.HeadSize, 10) / 2
	r := emptyRect
	for _, t := range [2]float64{0, a.Deepest} {
		q := c.flat(a.At(t))
		r = r.union(rect{q, q}.grow(half))
	}
	for _, q := range a.Hook {
		r = r.union(rect{c.flat(q), c.flat(q)}.grow(half))
	}
	for _, q := range c.s.Item.Outline {
		if abs(c.frame.Local(q).Z) < 2000 {
			r = r.add(c.flat(q))
		}
	}
	return r
}

func (c *cut) choose(w, h float64) {
	const margin = 8
	r := c.must()
	side := max(20, 0.25*max(r.w(), r.h()))
	r = r.grow(side)
	at := scaleFor(r.w(), r.h(), w, h)
	if !c.whole.empty() {
		all := c.whole.union(c.must())
		if fit := scaleFor(all.w(), all.h(), w, h); fit <= at {
			c.scale, c.crop = fit, all.grow(margin*fit)
			return
		}
	}
	c.scale = at
	c.crop = snapTo(r, c.whole, margin*at)
	for range 3 {
		if c.crop.w() <= (w+2*margin)*c.scale && c.crop.h() <= (h+2*margin)*c.scale {
			break
		}
		c.scale = nextScale(c.scale)
	}
}

// drawCut draws the section without its dimensions. What lies in front hides
// what is drawn later.
func (c *cut) drawCut(v *view) {
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
	r := paper.bounds().cut(v.clip)
	if r.empty() {
		r = emptyRect
	}
	v.core = r
	c.drawAxis(v)
}

// inPlane reports whether a body is cut by the plane, or nearly so.
func (c *cut) inPlane(b geom.Box, slack float64) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range b.Corners() {
		z := c.frame.Local(q).Z
		lo, hi = min(lo, z), max(hi, z)
	}
	return lo <= slack && hi >= -slack
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
			var o outline
			if b.Rod != nil {
				o = v.rodOutline(*b.Rod)
			} else {
				o = v.meshOutline(b.Mesh)
			}
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

// drawBars draws bars that cross the plane as filled, those that run beside it
// as seen.
func (c *cut) drawBars(v *view) {
	for _, b := range c.s.Index.Bars(c.reachBox(v, 30), mostBars) {
		named := c.s.Aim.Bar != nil && c.s.Aim.Bar.Piece == b.Piece
		pen := Pen{Width: Fine}
		if named {
			pen.Width = Thick
		}
		if b.Mesh != nil {
			if named || meshMeets(b.Mesh, c.frame) {
				o := v.meshOutline(b.Mesh)
				for _, e := range o.edges {
					v.stroke(e.a, e.b, pen)
				}
				v.hide(o.covers...)
			}
			continue
		}
		c.drawBar(v, *b.Rod, pen)
	}
}

// drawBar draws a bar: where it crosses the plane steeply, its cut, filled; else
// its length within 30 mm of the plane.
func (c *cut) drawBar(v *view, r geom.Rod, pen Pen) {
	near := 30 + r.Radius
	for i := 1; i < len(r.Path); i++ {
		a, b := c.frame.Local(r.Path[i-1]), c.frame.Local(r.Path[i])
		d := b.Sub(a)
		if math.Abs(d.Z) > 0.7*d.Norm() { // steep
			if (a.Z < 0) != (b.Z < 0) {
				t := a.Z / (a.Z - b.Z)
				q := v.paper(geom.Vec2{X: a.X + d.X*t, Y: a.Y + d.Y*t})
				rad := max(r.Radius*v.k, 0.35)
				v.circle(q, rad, pen, Black)
				v.hide(circlePoints(q, rad, 16))
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
}

func snapTo(r, whole rect, margin float64) rect {
	p := plan{whole: whole}
	return p.snap(r, margin)
}
