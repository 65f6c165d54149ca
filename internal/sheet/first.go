package sheet

import (
	"math"

	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/pdf"
	"embedcheck/internal/setout"
)

const (
	headH  = 11.0 // of a view's heading
	around = 5.0  // mm on paper that are shown around the form, for what stands out of it

	standOut = 14.0 // the same in a section, where bolts stand out of the face
)

// first is the elevation of the form from above with everything taped from the
// datum corner, a section through it, and how it is cast.
func (b *book) first() {
	p := b.newPage("form from above", true)
	u := b.u
	sets := b.chains(p)
	room := p.room
	room.Min.Y += headH
	wide, low, cutRoom := sets.y.depth(), sets.x.depth(), 34.0
	w, h := room.W()-wide-cutRoom, room.H()-low-12
	scale := scaleFor(u.Size.X+u.Size.Z, u.Size.Y, w, h)
	sw, sh := u.Size.X/scale, u.Size.Y/scale
	spareX, spareY := max(0, room.W()-wide-cutRoom-sw-u.Size.Z/scale), max(0, room.H()-low-12-sh)
	out := drawing.RectAt(room.Min.X+wide+2+spareX/3, room.Min.Y+6+spareY*0.55, sw, sh)
	v := p.View(u.Frame, drawing.Rect{Max: at(u.Size.X, u.Size.Y)}.Grow(around*scale), scale, out.Grow(around))
	p.heading(p.room.Min, "Form from above: "+u.Cast.UpName+" up, "+u.Cast.DownName+" on the form", b.view(), scale)
	b.elevation(v)
	zero := v.At(u.Frame.Apply(geom.Vec{}))
	sets.x.draw(p, below, out, zero, 1/scale)
	sets.y.draw(p, left, out, zero, 1/scale)
	p.datum(zero)
	b.formSection(p, out, scale)
	b.labels(p, v, drawing.Rect{Min: at(out.Min.X-2, room.Min.Y), Max: at(out.Max.X+8, out.Max.Y+chainOff-2)})
	p.ScaleBar(at(p.room.Max.X-58, p.room.Max.Y-4), scale)
	b.notes(p)
}

// cutSeen says how section A-A is seen.
const cutSeen = " A-A is seen from the right."

// view says how the reader sees the form.
func (b *book) view() string {
	c := b.u.Cast
	if c.Mirrored {
		return "MIRRORED against the outside elevation: the outside lies on the form, and is seen from behind. " + upper(c.Turn) + "." + cutSeen
	}
	return upper(c.Turn) + "." + cutSeen
}

func (p *page) heading(o geom.Vec2, title, note string, scale float64) {
	text := pdf.Printable(title) + "   " + drawing.ScaleText(scale)
	p.put(o.X+3, o.Y+5.5, text, large, true, p.room.Max.X-o.X-6)
	p.put(o.X+3, o.Y+9.8, note, small, p.b.u.Cast.Mirrored, p.room.Max.X-o.X-6)
}

// datum marks the corner that everything is taped from.
func (p *page) datum(q geom.Vec2) {
	p.Disc(q, 1.6, drawing.Pen{Width: drawing.Mid}, drawing.White)
	p.Disc(q, 0.7, drawing.Pen{Width: drawing.Mid}, drawing.Black)
	p.put(q.X-15.5, q.Y+9, "DATUM", small, true, 20)
}

// elevation draws the form with what is cast in; what is below the concrete is
// dashed.
func (b *book) elevation(v *drawing.View) {
	u := b.u
	for _, w := range u.Voids {
		b.void(v, w)
	}
	v.Edges(u.Host.Body, math.Inf(-1), math.Inf(1), drawing.Pen{Width: drawing.Fine})
	v.Outline(drawing.Loops(u.Outline), drawing.Pen{Width: drawing.Thick})
	for _, s := range u.Sets {
		b.draw(v, s, s.Face == setout.Up)
	}
}

// void draws an opening with the cross of what is open, a recess with its sides.
func (b *book) void(v *drawing.View, w setout.Void) {
	pen := drawing.Pen{Width: drawing.Mid}
	if !w.Through && w.Face == setout.Down {
		pen.Dash = drawing.Dashed
	}
	c := [4]geom.Vec{w.Min, {X: w.Max.X, Y: w.Min.Y}, w.Max, {X: w.Min.X, Y: w.Max.Y}}
	on := func(q geom.Vec) geom.Vec { q.Z = 0; return b.u.Frame.Apply(q) }
	for i := range c {
		v.Stroke(on(c[i]), on(c[(i+1)%4]), pen)
	}
	if w.Through {
		v.Stroke(on(c[0]), on(c[2]), drawing.Pen{Width: drawing.Thin})
		v.Stroke(on(c[1]), on(c[3]), drawing.Pen{Width: drawing.Thin})
	}
}

// draw draws a set: its bodies, plates and centre lines.
func (b *book) draw(v *drawing.View, s *setout.Set, seen bool) {
	pen := drawing.Pen{Width: drawing.Mid}
	if !seen {
		pen = drawing.Pen{Width: drawing.Fine, Dash: drawing.Dashed}
	}
	for _, it := range s.Items {
		for i := range it.Bodies {
			v.Body(&it.Bodies[i], pen, false)
		}
	}
	for i := range s.Plates {
		c := s.Plates[i].Outline
		for k := range c {
			v.Stroke(c[k], c[(k+1)%len(c)], pen)
		}
	}
	if !s.Face.Side() {
		for i := range s.Anchors {
			v.Cross(b.u.Frame.Apply(s.Anchors[i].At), s.Anchors[i].Diameter/2, 0.5)
		}
	}
}

// labels writes the mark of each set beside it.
func (b *book) labels(p *page, v *drawing.View, field drawing.Rect) {
	for _, s := range b.u.Sets {
		q := v.At(b.u.Frame.Apply(middle(s)))
		text := finding.Short(s.Mark, 20)
		if s.Face == setout.Down {
			text += " (form face)"
		}
		for i := range s.Dims {
			if d := &s.Dims[i]; d.Quantity == setout.Place && d.Axis == setout.Z && s.Face.Side() {
				text += ", " + mm(d.MM) + " above form"
				break
			}
		}
		b.dense = !p.Label(q, pdf.Printable(text), field) || b.dense
	}
}

// middle is a place in a set that a leader points to.
func middle(s *setout.Set) geom.Vec {
	switch {
	case len(s.Plates) > 0:
		box := geom.BoxOf(s.Plates[0].Corners...)
		return box.Min.Lerp(box.Max, 0.3)
	case len(s.Anchors) > 0:
		return s.Anchors[0].At
	case len(s.Bodies) > 0:
		return s.Bodies[0].Min.Lerp(s.Bodies[0].Max, 0.5)
	}
	return geom.Vec{}
}

// formSection draws a section through the form beside the elevation, cut where the
// first set lies and seen from the right.
func (b *book) formSection(p *page, out drawing.Rect, scale float64) {
	u := b.u
	x := u.Size.X / 2
	for _, s := range u.Sets {
		if !s.Face.Side() {
			x = middle(s).X
			break
		}
	}
	x = min(max(x, 1), u.Size.X-1)
	f := geom.Affine{X: u.Frame.Z.Neg(), Y: u.Frame.Y, Z: u.Frame.X, T: u.Frame.Apply(geom.V(x, 0, 0))}
	v := p.View(f, drawing.Rect{Max: at(u.Size.Z, u.Size.Y)}.Grow(standOut*scale), scale, drawing.RectAt(out.Max.X+22, out.Min.Y, u.Size.Z/scale, out.H()).Grow(standOut))
	for _, s := range u.Sets {
		b.cutBodies(v, f, s)
	}
	loops := drawing.Section(u.Host.Solid, f, 0)
	v.Outline(loops, drawing.Pen{Width: drawing.Thick})
	v.Hatch(loops)
	a := v.At(u.Frame.Apply(geom.V(x, u.Size.Y, 0)))
	c := v.At(u.Frame.Apply(geom.V(x, u.Size.Y, -u.Size.Z)))
	thin := drawing.Pen{Width: drawing.Thin}
	y := a.Y - 3
	p.Line(at(a.X, y+2), at(a.X, y-1), thin)
	p.Line(at(c.X, y+2), at(c.X, y-1), thin)
	p.Line(at(a.X-3, y), at(c.X+3, y), thin)
	p.arrow(at(a.X, y), at(1, 0))
	p.arrow(at(c.X, y), at(-1, 0))
	p.Write(drawing.Text{At: at((a.X+c.X)/2, y-1.6), Text: mm(u.Size.Z), Size: small, Align: drawing.Middle})
	mid := (a.X + c.X) / 2
	apart := max((c.X-a.X)/2, 2)
	p.Write(drawing.Text{At: at(mid-apart+1, out.Max.Y+5), Text: "up", Size: small, Align: drawing.Right})
	p.Write(drawing.Text{At: at(mid+apart-1, out.Max.Y+5), Text: "form", Size: small})
	p.Write(drawing.Text{At: at(mid, out.Max.Y+10), Text: "A-A", Size: small, Bold: true, Align: drawing.Middle})
	cut := out.Min.X + x/scale
	thick := drawing.Pen{Width: drawing.Thick}
	p.Line(at(cut, out.Min.Y-1), at(cut, out.Min.Y-4), thick)
	p.Line(at(cut, out.Min.Y), at(cut, out.Max.Y), drawing.Pen{Width: drawing.Thin, Dash: drawing.Chain})
	p.Write(drawing.Text{At: at(cut+1.2, out.Min.Y-1.5), Text: "A", Size: small})
}
