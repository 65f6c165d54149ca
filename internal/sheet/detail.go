package sheet

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
	"embedcheck/internal/setout"
)

// Sizes of a detail on paper.
const (
	cellW, cellH = 186.0, 122.0
	headH        = 8.0
	dimRoom      = 22.0 // around a view
)

// details draws each kind of set once: its face, and a section through its first
// anchor. Few share a page, so that each is as large as may be.
func (b *book) details() {
	kins := b.kins()
	for len(kins) > 0 {
		p := b.newPage("details of sets", false)
		cols, rows := grid(len(kins), max(1, int(p.room.W()/cellW)), max(1, int(p.room.H()/cellH)))
		w, h := p.room.W()/float64(cols), p.room.H()/float64(rows)
		n := min(len(kins), cols*rows)
		for i, k := range kins[:n] {
			b.detail(p, k, drawing.RectAt(p.room.Min.X+float64(i%cols)*w, p.room.Min.Y+float64(i/cols)*h, w, h))
		}
		kins = kins[n:]
	}
}

// grid is how n cells share a page that has room for cols x rows small ones.
func grid(n, cols, rows int) (c, r int) {
	if n >= cols*rows {
		return cols, rows
	}
	r = min(n, rows)
	return (n + r - 1) / r, r
}

// detail fills one cell: the face on the left, the section on the right.
func (b *book) detail(p *page, k *kin, cell drawing.Rect) {
	s := k.first
	p.Frame(cell, drawing.Pen{Width: drawing.Thin})
	p.put(cell.Min.X+3, cell.Min.Y+5, join(k.title(), what(s), b.faceText(s.Face)), small, true, cell.W()-6)
	part := 0.54
	body := drawing.Rect{Min: at(cell.Min.X, cell.Min.Y+headH), Max: cell.Max}
	face, cut := body, body
	face.Max.X = body.Min.X + part*body.W()
	cut.Min.X = face.Max.X
	b.faceView(p, s, face)
	b.sectionView(p, s, cut)
}

// faceFrame looks at the side of the form that a set lies in, from outside; at
// the form face from above, through the concrete.
func (b *book) faceFrame(f setout.Face) geom.Affine {
	t := b.u.Frame
	right, up := geom.V(1, 0, 0), geom.V(0, 1, 0)
	if f.Side() {
		up = geom.V(0, 0, 1)
		right = up.Cross(f.Normal())
	}
	x, y := b.turn(right), b.turn(up)
	return geom.Affine{X: x, Y: y, Z: x.Cross(y), T: t.T}
}

// flatIn is a point of the cast frame in the plane of a view's frame.
func (b *book) flatIn(f geom.Affine, q geom.Vec) geom.Vec2 {
	l := f.Local(b.world(q))
	return geom.Vec2{X: l.X, Y: l.Y}
}

// faceView dimensions the set in the face it lies in.
func (b *book) faceView(p *page, s *setout.Set, field drawing.Rect) {
	f := b.faceFrame(s.Face)
	shown := drawing.RectOf(b.spots(s, f)...).Grow(60)
	if s.Face.Side() { // heights are taped from the form
		form := drawing.RectOf(b.flatIn(f, geom.V(0, 0, -b.u.Size.Z)), b.flatIn(f, geom.V(b.u.Size.X, b.u.Size.Y, 0)))
		shown.Min.Y, shown.Max.Y = form.Min.Y-5, form.Max.Y+5
	}
	scale := scaleFor(shown.W(), shown.H(), field.W()-2*dimRoom, field.H()-2*dimRoom)
	v := p.View(f, shown, scale, field)
	loops := b.loops()
	if s.Face.Side() {
		loops = drawing.Section(b.u.Host.Solid, f, b.depthOf(f, s)-2)
	}
	v.Outline(loops, drawing.Pen{Width: drawing.Thick})
	b.nearBars(v, s)
	b.drawSet(v, s)
	for i := range s.Anchors {
		a := &s.Anchors[i]
		v.Circle(b.world(a.At), a.Diameter/2, 0.7, drawing.Pen{Width: drawing.Mid})
	}
	if len(s.Anchors) > 1 {
		for i := range s.Anchors {
			a := &s.Anchors[i]
			p.Label(v.At(b.world(a.At)), fmt.Sprintf("no. %d", a.Number), false, field)
		}
	}
	for i := range s.Dims {
		if d := &s.Dims[i]; inFace(s, d) {
			v.Dimension(d.What, b.world(d.From), b.world(d.To), b.turn(d.Dir), d.MM)
		}
	}
	if t := diagonals(s); t != "" {
		p.put(field.Min.X+3, field.Max.Y-6.8, t, small, false, field.W()-6)
	}
	b.captionOf(p, field, "face, "+viewedFrom(s.Face), scale)
}

// diagonals are told in words: lines across the set would hide it.
func diagonals(s *setout.Set) string {
	var out []string
	for i := range s.Dims {
		if d := &s.Dims[i]; d.Quantity == setout.Diagonal {
			out = append(out, strings.TrimPrefix(d.What, "diagonal ")+" = "+mm(d.MM))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "diagonals " + strings.Join(out, ", ")
}

func viewedFrom(f setout.Face) string {
	switch f {
	case setout.Up:
		return "from above"
	case setout.Down:
		return "from above, through the concrete"
	}
	return "from outside the form"
}

// inFace reports whether a dimension is shown in the face of its set.
func inFace(s *setout.Set, d *setout.Dim) bool {
	switch d.Quantity {
	case setout.Spacing:
		return true
	case setout.Extent:
		return d.From != d.To && math.Abs(d.Dir.Dot(s.Face.Normal())) < 0.5
	case setout.Place:
		return d.Axis == setout.Z && s.Face.Side()
	}
	return false
}

// spots are the points that a view of a set has to show.
func (b *book) spots(s *setout.Set, f geom.Affine) []geom.Vec2 {
	var out []geom.Vec2
	add := func(q geom.Vec) { out = append(out, b.flatIn(f, q)) }
	for i := range s.Anchors {
		add(s.Anchors[i].At)
	}
	for i := range s.Plates {
		for _, c := range s.Plates[i].Corners {
			add(c)
		}
	}
	for i := range s.Bodies {
		add(s.Bodies[i].Min)
		add(s.Bodies[i].Max)
	}
	if s.Template != nil {
		for _, c := range s.Template.Box.Corners() {
			l := f.Local(c)
			out = append(out, geom.Vec2{X: l.X, Y: l.Y})
		}
	}
	if len(out) == 0 {
		add(middleOf(s))
	}
	return out
}

// depthOf is where the face of a set lies in a view's frame, along z.
func (b *book) depthOf(f geom.Affine, s *setout.Set) float64 {
	return f.Local(b.world(middleOf(s))).Z
}

// captionOf stands under a view.
func (b *book) captionOf(p *page, field drawing.Rect, text string, scale float64) {
	p.put(field.Min.X+3, field.Max.Y-2.5, text+", "+drawing.ScaleText(scale), small, false, field.W()-6)
}

// nearBars draws the bars that matter: those within a hand's width of the set.
func (b *book) nearBars(v *drawing.View, s *setout.Set) {
	for _, it := range s.Items {
		for _, bar := range b.k.index.Bars(it.Box.Grow(80), 40) {
			if bar.Rod == nil {
				continue
			}
			for i := 1; i < len(bar.Rod.Path); i++ {
				v.Stroke(bar.Rod.Path[i-1], bar.Rod.Path[i], drawing.Pen{Width: drawing.Thin, Dash: drawing.Dashed})
			}
		}
	}
}
