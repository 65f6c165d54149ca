package sheet

import (
	"math"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
	"embedcheck/internal/setout"
)

// sectionView is a section through the first anchor, or the middle of the set,
// with the depths.
func (b *book) sectionView(p *page, s *setout.Set, field drawing.Rect) {
	o := middleOf(s)
	if len(s.Anchors) > 0 {
		o = s.Anchors[0].At
	}
	normal := s.Face.Normal()
	side := s.Face.Axes()[0].Dir()
	y, x := b.turn(normal), b.turn(side)
	f := geom.Affine{X: x, Y: y, Z: x.Cross(y), T: b.world(o)}
	shown := b.sectionExtent(s, f, o)
	scale := scaleFor(shown.W(), shown.H(), field.W()-2*dimRoom, field.H()-2*dimRoom)
	v := p.View(f, shown, scale, field)
	cut := drawing.Section(b.u.Host.Solid, f, 0)
	v.Outline(cut, drawing.Pen{Width: drawing.Thick})
	for _, it := range s.Items {
		for i := range it.Bodies {
			v.Body(&it.Bodies[i], drawing.Pen{Width: drawing.Mid}, false)
		}
	}
	b.cutBars(v, s, f)
	if len(s.Anchors) > 0 {
		a := &s.Anchors[0]
		v.Stroke(a.Anchor.At(-20), a.Anchor.At(a.Deepest+15), drawing.Pen{Width: drawing.Thin, Dash: drawing.Chain})
	}
	for i := range s.Dims {
		if d := &s.Dims[i]; inSection(s, d) {
			v.Dimension(d.What, b.world(d.From), b.world(d.To), b.turn(d.Dir), d.MM)
		}
	}
	v.Hatch(cut)
	text := "section"
	if len(s.Anchors) > 1 {
		text = "section through no. 1"
	}
	b.captionOf(p, field, text+", "+s.Face.String()+" at the top", scale)
}

// inSection reports whether a dimension is shown in the section: depths of the
// first anchor, and of plates.
func inSection(s *setout.Set, d *setout.Dim) bool {
	if d.From == d.To {
		return false
	}
	switch d.Quantity {
	case setout.Embedment, setout.Projection, setout.Sunk, setout.BackCover, setout.Length:
		return len(d.Anchors) == 0 || d.Anchors[0] == s.Anchors[0].Number
	case setout.StandOff, setout.Flush:
		return true
	case setout.Extent:
		return math.Abs(d.Dir.Dot(s.Face.Normal())) > 0.5
	}
	return false
}

// sectionExtent is what a section shows: the set from its outermost point to
// behind its deepest, and the far face where that is near.
func (b *book) sectionExtent(s *setout.Set, f geom.Affine, o geom.Vec) drawing.Rect {
	r := drawing.RectOf(geom.Vec2{})
	for _, it := range s.Items {
		for _, c := range it.Box.Corners() {
			l := f.Local(c)
			if math.Abs(l.X) < 400 {
				r = r.Union(drawing.RectOf(geom.Vec2{X: l.X, Y: l.Y}))
			}
		}
	}
	deep := -r.Min.Y
	r.Min.Y -= 60
	thick := 0.0
	for _, in := range b.u.Host.Body.Inside(f.Apply(geom.V(0, 5, 0)), f.Y.Neg()) {
		thick = max(thick, in.To-5)
	}
	if thick > 0 && thick < 1.8*deep+150 {
		r.Min.Y = min(r.Min.Y, -thick-8)
	}
	r.Max.Y = max(r.Max.Y, 20) + 5
	half := max(r.W()/2+40, (r.Max.Y-r.Min.Y)*0.28)
	c := (r.Min.X + r.Max.X) / 2
	r.Min.X, r.Max.X = c-half, c+half
	return r
}

// cutBars draws the bars near the set where the section cuts them, and beside it.
func (b *book) cutBars(v *drawing.View, s *setout.Set, f geom.Affine) {
	for _, bar := range b.k.index.Bars(s.Items[0].Box.Grow(80), 40) {
		if bar.Rod == nil {
			continue
		}
		for i := 1; i < len(bar.Rod.Path); i++ {
			p, q := bar.Rod.Path[i-1], bar.Rod.Path[i]
			zp, zq := f.Local(p).Z, f.Local(q).Z
			if zp*zq <= 0 && zp != zq {
				v.Round(p.Lerp(q, zp/(zp-zq)), bar.Rod.Radius, drawing.Pen{Width: drawing.Thin})
			} else if max(math.Abs(zp), math.Abs(zq)) < 60 {
				v.Stroke(p, q, drawing.Pen{Width: drawing.Thin, Dash: drawing.Dashed})
			}
		}
	}
}
