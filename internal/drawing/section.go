package drawing

import (
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
)

// cut is the section through the worst anchor, before it is drawn.
type cut struct {
	s     *subject.Subject
	frame geom.Affine // at the entry point; z towards the reader
	host  region      // concrete in the plane
	other region      // of another host
	whole rect
	scale float64
	crop  rect
	told  bool // the view of the face has the failing dimension
}

func newCut(s *subject.Subject, p *plan) *cut {
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
	return c
}

// turn sets the frame. What is up in the world is up in the section, too, where
// the plane stands. In a section that lies, the entry face is at the bottom, as
// the reader stands before it. Left and right are as in the view of the face.
func (c *cut) turn(p *plan) {
	in, g := c.s.Axis(), c.s.Aim.Dir
	n := in.Neg()
	if c.s.Face != nil { // the face is straight on the sheet, also where the anchor is not
		n = c.s.Face.Normal
		z := in.Cross(g).Unit()
		if d := n.Sub(z.Mul(n.Dot(z))); d.Norm() > 0.7 {
			in = d.Unit().Neg()
			g = z.Cross(in).Unit()
		}
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
}

func (c *cut) flat(q geom.Vec) geom.Vec2 {
	l := c.frame.Local(q)
	return geom.Vec2{X: l.X, Y: l.Y}
}

// must is what cannot be left out: the anchor and what the figure was measured
// to. Of small clear distances it is their surroundings.
func (c *cut) must() rect {
	s := c.s
	if c.isDetail() {
		r := rectOf(c.flat(s.Aim.From), c.flat(s.Aim.To))
		around := 30.0
		if s.Anchor != nil {
			around = max(around, 1.5*s.Anchor.Diameter)
		}
		if b := s.Aim.Bar; b != nil && b.Rod != nil {
			around = max(around, 3*b.Rod.Radius)
		}
		return r.grow(around)
	}
	r := c.itemRect()
	a := s.Anchor
	if a != nil && a.Entry != nil {
		in := c.flat(a.Entry.Point)
		r = r.add(in)
		if s.Quantity == subject.Thickness || s.Quantity == subject.BackCover {
			r = r.add(c.flat(a.Entry.Point.Add(a.Dir.Mul(a.Entry.Thickness))))
		}
		if s.Quantity == subject.Cone {
			r = r.union(rect{in, in}.grow(coneReach * a.Embedment()).cut(c.whole))
		}
	}
	switch s.Quantity {
	case subject.EdgeDistance, subject.PlateEdge, subject.DepthToEdge, subject.BarDistance, subject.HookCover:
		if s.Aim.Known {
			r = r.add(c.flat(s.Aim.From)).add(c.flat(s.Aim.To))
		}
		if s.Aim.Edge != nil && s.Quantity != subject.BarDistance {
			r = r.add(c.flat(s.Aim.Edge.At))
		}
	}
	if o := s.Aim.Anchor; o != nil {
		r = r.add(c.flat(o.Open)).add(c.flat(o.At(o.Deepest)))
	}
	return r
}

// isDetail reports whether the figure is a distance so small that its
// surroundings have to be drawn large.
func (c *cut) isDetail() bool {
	s := c.s
	return s.Aim.Known && (s.Quantity == subject.BarClearance || s.Quantity == subject.ItemClearance)
}

// wants is what is good to see besides: the entry face, the whole anchor, the
// far face, the edge.
func (c *cut) wants() []want {
	s := c.s
	most := 5.0
	if c.isDetail() {
		most = 0
	}
	in := c.flat(s.Entry())
	out := []want{{rect{in, in}, most}, {c.itemRect(), most}}
	if s.Face != nil && !c.isDetail() {
		q := c.flat(s.Entry().Sub(s.Face.Normal.Mul(s.Face.Thickness)))
		out = append(out, want{rect{q, q}, c.farScale()})
	}
	if s.Aim.Edge != nil {
		q := c.flat(s.Aim.Edge.At)
		out = append(out, want{rect{q, q}, most})
	}
	if len(s.Item.Anchors) < 2 {
		r := emptyRect
		for _, q := range s.Item.Box.Corners() {
			r = r.add(c.flat(q))
		}
		out = append(out, want{r, most})
	}
	return out
}

// farScale is the smallest scale at which the far face is shown: the anchor is
// still to be 20 mm long on paper.
func (c *cut) farScale() float64 {
	if a := c.s.Anchor; a != nil && a.Deepest >= 200 {
		return 10
	}
	return 5
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

// choose takes the scale and what is shown for a room of w x h mm on paper.
func (c *cut) choose(w, h float64) {
	around := float64(context)
	if c.isDetail() {
		around = closeContext
	}
	c.crop, c.scale = frameUp(c.must(), c.wants(), c.whole, w, h, around)
}
