package sheet

import (
	"fmt"
	"strings"

	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/pdf"
	"embedcheck/internal/setout"
)

// firstPage is the elevation as it is cast, with running dimensions from the
// datum corner to every axis, plate and opening.
func (b *book) firstPage() {
	p := b.newPage("elevation as cast, running dimensions", true)
	x, y := b.chains()
	room := p.room
	room.Min.Y += 6
	size := b.u.Size
	scale := scaleFor(size.X, size.Y, room.W()-leftRoom-10, room.H()-belowRoom-12)
	x.fit(size.X / scale)
	y.fit(size.Y / scale)
	field := drawing.Rect{
		Min: at(room.Min.X+y.depth()+3, room.Min.Y+3),
		Max: at(room.Max.X-6, room.Max.Y-x.depth()-4),
	}
	scale = scaleFor(size.X, size.Y, field.W()-6, field.H()-6)
	v := p.View(b.u.Frame, drawing.Rect{Max: at(size.X, size.Y)}.Grow(1), scale, field)
	b.drawElevation(p, v)
	outline := drawing.RectOf(v.At(b.at(0, 0, 0)), v.At(b.at(size.X, size.Y, 0)))
	zero := v.At(b.at(0, 0, 0))
	x.draw(p, below, outline, zero, 1/scale)
	y.draw(p, left, outline, zero, 1/scale)
	b.datum(p, zero)
	for _, s := range b.u.Sets {
		p.Label(v.At(b.world(pointedAt(s))), pdf.Printable(short(s.Mark, 24)+faceSign(s.Face)), true, field)
	}
	p.put(room.Min.X+3, room.Min.Y-0.5, "ELEVATION, FACE UP SEEN FROM ABOVE, "+drawing.ScaleText(scale), large, true, room.W()*0.6)
	p.ScaleBar(at(room.Max.X-62, room.Max.Y-5), scale)
	b.notes(p)
	if x.cut || y.cut {
		p.put(room.Min.X+room.W()*0.62, room.Min.Y-0.5, "more stations than there is room for: see the schedule of marks", small, true, room.W()*0.37)
	}
}

// Room that chains take at least, to choose a scale by.
const leftRoom, belowRoom = 45.0, 45.0

// chains are the stations along the form: its own sides, openings, and every
// place of a set that is taped from a side.
func (b *book) chains() (x, y *chain) {
	x, y = &chain{axis: setout.X}, &chain{axis: setout.Y}
	of := map[setout.Axis]*chain{setout.X: x, setout.Y: y}
	x.add(0, "")
	y.add(0, "")
	x.add(b.u.Size.X, "form")
	y.add(b.u.Size.Y, "form")
	for i := range b.u.Voids {
		v := &b.u.Voids[i]
		if !v.Through && v.Face.Side() {
			continue // with the item that it is for; its size is in the checklist
		}
		x.add(v.Min.X, v.Mark)
		x.add(v.Max.X, v.Mark)
		y.add(v.Min.Y, v.Mark)
		y.add(v.Max.Y, v.Mark)
	}
	for _, s := range b.u.Sets {
		for i := range s.Dims {
			d := &s.Dims[i]
			if c := of[d.Axis]; d.Quantity == setout.Place && c != nil {
				c.add(d.MM, s.Mark)
			}
		}
	}
	return x, y
}

func (b *book) at(x, y, z float64) geom.Vec { return b.u.Frame.Apply(geom.V(x, y, z)) }
func (b *book) world(q geom.Vec) geom.Vec   { return b.u.Frame.Apply(q) }
func (b *book) turn(d geom.Vec) geom.Vec    { return b.u.Frame.Turn(d) }
func (b *book) loops() drawing.Loops        { return drawing.Loops(b.u.Outline) }
func faceSign(f setout.Face) string {
	return [...]string{"", " (form face)", " (side)", " (side)", " (side)", " (side)"}[f]
}

// drawElevation draws the form, what is cut out, and what is cast in.
func (b *book) drawElevation(p *page, v *drawing.View) {
	v.Outline(b.loops(), drawing.Pen{Width: drawing.Thick})
	for i := range b.u.Voids {
		w := &b.u.Voids[i]
		v.Edges(w.Void.Mesh, -b.u.Size.Z-1e4, 1e4, drawing.Pen{Width: drawing.Mid})
		if w.Through {
			z := w.Max.Z
			v.Stroke(b.at(w.Min.X, w.Min.Y, z), b.at(w.Max.X, w.Max.Y, z), drawing.Pen{Width: drawing.Thin})
			v.Stroke(b.at(w.Min.X, w.Max.Y, z), b.at(w.Max.X, w.Min.Y, z), drawing.Pen{Width: drawing.Thin})
		}
	}
	for _, s := range b.u.Sets {
		b.drawSet(v, s)
	}
}

// drawSet draws the items of a set and the axes of its anchors. What lies on the
// form is hidden by the concrete: its lines are broken.
func (b *book) drawSet(v *drawing.View, s *setout.Set) {
	pen := drawing.Pen{Width: drawing.Mid}
	if s.Face == setout.Down {
		pen = drawing.Pen{Width: drawing.Thin, Dash: drawing.Dashed}
	}
	for _, it := range s.Items {
		for i := range it.Bodies {
			v.Body(&it.Bodies[i], pen, false)
		}
	}
	for i := range s.Anchors {
		a := &s.Anchors[i]
		v.Cross(b.world(a.At), a.Diameter/2, 0.8)
	}
}

// datum marks the corner that all is taped from.
func (b *book) datum(p *page, q geom.Vec2) {
	p.Disc(q, 1.6, drawing.Pen{Width: drawing.Mid}, drawing.NoInk)
	p.Disc(q, 0.5, drawing.Pen{Width: drawing.Thin}, drawing.Black)
	p.Label(q, "DATUM 0,0", false, p.room)
}

// middleOf is the middle of what a set is set out by, in the cast frame.
func middleOf(s *setout.Set) geom.Vec {
	box := geom.EmptyBox
	for i := range s.Anchors {
		box = box.Add(s.Anchors[i].At)
	}
	for i := range s.Plates {
		for _, c := range s.Plates[i].Corners {
			box = box.Add(c)
		}
	}
	for i := range s.Bodies {
		box = box.Add(s.Bodies[i].Min).Add(s.Bodies[i].Max)
	}
	if box.Empty() {
		return geom.Vec{}
	}
	return box.Center()
}

// pointedAt is what a set's label points at.
func pointedAt(s *setout.Set) geom.Vec {
	if len(s.Plates) == 0 && len(s.Anchors) > 0 {
		return s.Anchors[0].At
	}
	return middleOf(s)
}

// notes stand left of the title block: how the form lies, what holds the pour.
func (b *book) notes(p *page) {
	f := p.b.paper.frame()
	x, y := f.Min.X+3, f.Max.Y-stripH+5.5
	width := f.W() - blockW - 8
	c := &b.u.Cast
	var lines []note
	add := func(bold bool, format string, args ...any) {
		lines = append(lines, note{fmt.Sprintf(format, args...), bold})
	}
	if b.holds > 0 {
		add(true, "DO NOT POUR: %s on hold, see the last page.", count(b.holds, "open finding"))
	} else if n := len(b.findings); n > 0 {
		add(true, "%s open for review, see the last page.", count(n, "finding"))
	}
	switch c.Basis {
	case setout.Unknown:
		add(true, "FACE UP NOT KNOWN: drawn with %s up. Ask before the form is made. %s.", c.UpName, sentence(c.Why))
	case setout.ByRule:
		add(true, "Face up: %s. Form face: %s. To be confirmed: %s.", c.UpName, c.DownName, c.Why)
	default:
		add(true, "Face up: %s. Form face: %s (%s).", c.UpName, c.DownName, c.Why)
	}
	if c.Mirrored {
		add(true, "MIRRORED against an elevation drawn from outside: left and right change places.")
	}
	if c.Turn != "" {
		add(false, "%s.", sentence(c.Turn))
	}
	corner := "the lower left corner of the form"
	if !b.u.Corner {
		corner += ", where its sides would meet: there is no concrete in it"
	}
	add(false, "Datum: %s, at the face that is up. x to the right, y up the sheet.", corner)
	add(false, "Broken lines: on the form face. Items in the sides: heights in their details.")
	add(false, "%s Torque, grout, lifting and bars: by the engineer's documentation.", finding.Caution)
	for _, n := range lines {
		if y > f.Max.Y-2 {
			break
		}
		y = p.paragraph(x, y, n.text, small, n.bold, width, 2) + 0.4
	}
}

type note struct {
	text string
	bold bool
}

func sentence(s string) string {
	s = strings.TrimSuffix(strings.TrimSpace(s), ".")
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
