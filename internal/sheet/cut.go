package sheet

import (
	"math"
	"slices"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
)

// cutFrame is that of an upright section through a set: along the axis of an
// anchor, and along its hook where it has one. The form is below.
func (b *book) cutFrame(s *setout.Set) geom.Affine {
	u := b.u.Frame
	across := geom.V(1, 0, 0)
	o := middle(s)
	if len(s.Anchors) > 0 {
		o = s.Anchors[0].At
		if h := s.Anchors[0].Hook; len(h) > 1 {
			d := u.Local(h[len(h)-1]).Sub(u.Local(h[0]))
			if math.Abs(d.Y) > math.Abs(d.X) {
				across = geom.V(0, 1, 0)
			}
		}
	}
	switch s.Face {
	case setout.Left, setout.Right:
		across = geom.V(1, 0, 0)
	case setout.Lower, setout.Upper:
		across = geom.V(0, 1, 0)
	}
	x := u.Turn(across)
	return geom.Affine{X: x, Y: u.Z, Z: x.Cross(u.Z), T: u.Apply(o)}
}

// setSection draws a section through the first anchor of a set.
func (b *book) setSection(p *page, s *setout.Set, field drawing.Rect) {
	f := b.cutFrame(s)
	r := b.cutBounds(f, s)
	scale := scaleFor(r.W(), r.H(), field.W()-2*dimRoom, field.H()-dimRoom)
	v := p.View(f, r, scale, field)
	solid := b.u.Host.Solid
	b.cutBodies(v, f, s)
	bars := b.bars(v, f, r)
	loops := drawing.Section(solid, f, 0)
	v.Outline(loops, drawing.Pen{Width: drawing.Thick})
	along := "left to right"
	if math.Abs(f.X.Dot(b.u.Frame.Y)) > 0.5 {
		along = "lower to upper side"
	}
	p.put(field.Min.X+3, field.Min.Y+4, "Section, "+along+", form below   "+drawing.ScaleText(scale), small, true, field.W()-6)
	for _, q := range []setout.Quantity{setout.Embedment, setout.Projection, setout.Sunk, setout.StandOff, setout.BackCover, setout.Extent, setout.Length, setout.Place} {
		for i := range s.Dims {
			if d := &s.Dims[i]; d.Quantity == q && d.MM > 0 && d.From != d.To && b.inSection(s, d) {
				b.dimension(v, d)
			}
		}
	}
	p.nameBars(v, bars, field)
	v.Hatch(loops)
}

// cutBodies draws the bodies of a set that a section cuts.
func (b *book) cutBodies(v *drawing.View, f geom.Affine, s *setout.Set) {
	for _, it := range s.Items {
		for i := range it.Bodies {
			if body := &it.Bodies[i]; meets(f, body) {
				v.Body(body, drawing.Pen{Width: drawing.Mid}, true)
			}
		}
	}
}

// inSection reports whether a dimension belongs on the section through a set.
func (b *book) inSection(s *setout.Set, d *setout.Dim) bool {
	if len(d.Anchors) > 0 && d.Anchors[0] != 1 || len(d.Anchors) > 1 {
		return false
	}
	switch d.Quantity {
	case setout.Place:
		return d.Axis == setout.Z && s.Face.Side() && (len(s.Plates) == 0 || len(d.Anchors) == 0)
	case setout.Length: // where it is not the embedment once more
		return !slices.ContainsFunc(s.Dims, func(o setout.Dim) bool {
			return o.Quantity == setout.Embedment && slices.Equal(o.Anchors, d.Anchors) && mm(o.MM) == mm(d.MM)
		})
	case setout.Extent:
		return math.Abs(d.Dir.Dot(s.Face.Normal())) > 0.9
	}
	return true
}

// cutBounds is what a section shows: the items that are cut, and the concrete
// around them down to the form where it is not much deeper.
func (b *book) cutBounds(f geom.Affine, s *setout.Set) drawing.Rect {
	var pts []geom.Vec
	for _, it := range s.Items {
		for i := range it.Bodies {
			body := &it.Bodies[i]
			if meets(f, body) && it != s.Template && (len(s.Plates) > 0 || beside(f, body)) {
				pts = append(pts, bodyPoints(body)...)
			}
		}
	}
	pts = append(pts, f.T)
	r := bounds(f, pts)
	if t := s.Template; t != nil {
		y := bounds(f, corners([]*model.Item{t}))
		r.Min.Y, r.Max.Y = min(r.Min.Y, y.Min.Y), max(r.Max.Y, y.Max.Y)
	}
	o := b.u.Frame.Local(f.T)
	form, top := -b.u.Size.Z-o.Z, -o.Z
	reach := max(r.H(), 150)
	under, over := 0.2*reach, 0.2*reach
	const beyond = 12
	if r.Min.Y-form < 1.5*reach {
		r.Min.Y, under = min(r.Min.Y, form), beyond
	}
	if top-r.Max.Y < 1.5*reach {
		r.Max.Y, over = max(r.Max.Y, top), beyond
	}
	side := max(80, 0.35*r.H())
	r.Min.X, r.Max.X = r.Min.X-side, r.Max.X+side
	r.Min.Y, r.Max.Y = r.Min.Y-under, r.Max.Y+over
	return r
}

// beside reports whether a body lies by the middle of a section: a second bolt
// far away would only make it small.
func beside(f geom.Affine, b *model.Body) bool {
	const near = 120
	r := bounds(f, bodyPoints(b))
	return r.Min.X < near && r.Max.X > -near
}

// meets reports whether the plane of a frame cuts a body.
func meets(f geom.Affine, b *model.Body) bool {
	play := 0.5
	if b.Rod != nil {
		play = b.Rod.Radius
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range bodyPoints(b) {
		z := f.Local(q).Z
		lo, hi = min(lo, z), max(hi, z)
	}
	return lo <= play && hi >= -play
}
