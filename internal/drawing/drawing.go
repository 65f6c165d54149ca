package drawing

import (
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// The sheet is A4 on its side with a margin all around and a strip of titles at
// its foot.
const (
	sheetW, sheetH = 297.0, 210.0
	sheetMargin    = 8.0
	stripH         = 42.0
	dimRoomX       = 17.0 // mm on paper that a view leaves for dimensions on each side
	dimRoomY       = 13.0
)

// Maker draws findings of one model. It may be shared by goroutines.
type Maker struct{ index *subject.Index }

// New gets ready to draw findings of the model that an index is of.
func New(x *subject.Index) *Maker { return &Maker{x} }

// For draws a finding: a *subject.NoPlaceError when there is nothing to be seen
// of it in the model.
func (k *Maker) For(f *finding.Finding) (*Drawing, error) {
	s, err := k.index.Of(f)
	if err != nil {
		return nil, err
	}
	d := &Drawing{Width: sheetW, Height: sheetH, Title: finding.Plain(f.Title), Figure: figureOf(s)}
	area := rect{
		geom.Vec2{X: sheetMargin, Y: sheetMargin},
		geom.Vec2{X: sheetW - sheetMargin, Y: sheetH - sheetMargin - stripH},
	}
	p := newPlan(s)
	c := newCut(s, p)
	left, right := split(p, c, area)
	sh := &sheet{}
	d.Marks = append(d.Marks, Group{Name: "face", Marks: drawPlan(p, c, left, sh)})
	d.Dims = append(d.Dims, sh.dims...)
	c.told = sh.failed()
	sh = &sheet{}
	d.Marks = append(d.Marks, Group{Name: "section", Marks: drawSection(c, right, sh)})
	d.Dims = append(d.Dims, sh.dims...)
	d.Marks = append(d.Marks, Group{Name: "frame", Marks: frame(area, left)})
	strip := titleStrip(area)
	d.Marks = append(d.Marks, Group{Name: "key", Marks: keyPlan(p, strip.key)})
	d.Marks = append(d.Marks, Group{Name: "titles", Marks: titles(s, strip)})
	d.Fields = []Field{
		field("face", p.title, left), field("section", "Section A-A", right), field("key", "Place in the host", strip.key),
	}
	return d, nil
}

func field(name, label string, r rect) Field {
	return Field{name, label, r.min.X, r.min.Y, r.w(), r.h()}
}

// split divides the sheet between the two views so that both come out as large
// as may be, and sets their scales.
func split(p *plan, c *cut, area rect) (left, right rect) {
	best := math.Inf(1)
	var at float64
	try := func(part float64) float64 {
		left, right = area, area
		left.max.X = area.min.X + part*area.w()
		right.min.X = left.max.X
		l, r := body(left), body(right)
		p.choose(l.w()-2*dimRoomX, l.h()-2*dimRoomY)
		c.choose(r.w()-2*dimRoomX, r.h()-2*dimRoomY)
		return p.scale * c.scale
	}
	for _, part := range []float64{0.54, 0.5, 0.58, 0.46, 0.62, 0.42} {
		if s := try(part); s < best*0.999 {
			best, at = s, part
		}
	}
	try(at)
	return left, right
}

// headH is the height of a view's heading, footH that of its scale bar.
const headH, footH = 12.0, 9.0

func body(field rect) rect {
	field.min.Y += headH
	field.max.Y -= footH
	field.min.X += 2
	field.max.X -= 2
	return field
}

func drawPlan(p *plan, c *cut, field rect, sh *sheet) []Mark {
	sh.heading(field, p.title, p.note, p.scale)
	v := viewOn(sh, p.frame, p.crop, p.scale, body(field))
	p.drawFace(v)
	q := p.labelPoint(v) // a leader will end there
	v.drawn = append(v.drawn, seg{q.Sub(geom.Vec2{X: 1}), q.Add(geom.Vec2{X: 1})})
	c.drawCuttingLine(v)
	p.dimFace(v)
	p.nameFace(v)
	return sh.all()
}

func drawSection(c *cut, field rect, sh *sheet) []Mark {
	note := ""
	if c.s.Host == nil {
		note = "no concrete around the item"
	}
	sh.heading(field, "Section A-A", note, c.scale)
	v := viewOn(sh, c.frame, c.crop, c.scale, body(field))
	c.drawCut(v)
	c.dimCut(v)
	c.nameCut(v)
	v.hatch(c.host.on(v), 1)
	v.hatch(c.other.on(v), -1)
	return sh.all()
}

// heading writes what a view shows, its scale and its scale bar.
func (s *sheet) heading(field rect, title, note string, scale float64) {
	at := field.min.Add(geom.Vec2{X: 3, Y: 6})
	s.fixed(Text{At: at, Text: title, Size: failText, Bold: true})
	s.fixed(Text{At: at.Add(geom.Vec2{X: textWidth(title, failText, true) + 4}), Text: scaleText(scale), Size: failText, Bold: true})
	if note != "" {
		s.fixed(Text{At: at.Add(geom.Vec2{Y: 4.5}), Text: fit(note, dimText, false, field.w()-6), Size: dimText})
	}
	s.scaleBar(geom.Vec2{X: field.min.X + 5, Y: field.max.Y - 2.5}, scale)
}

func frame(area, left rect) []Mark {
	pen := Pen{Width: Thick}
	sheet := rect{area.min, geom.Vec2{X: area.max.X, Y: area.max.Y + stripH}}
	return []Mark{
		Poly{Points: sheet.corners(), Closed: true, Fill: NoInk, Pen: pen},
		Line{geom.Vec2{X: area.min.X, Y: area.max.Y}, area.max, pen},
		Line{geom.Vec2{X: left.max.X, Y: area.min.Y}, geom.Vec2{X: left.max.X, Y: area.max.Y}, Pen{Width: Thin}},
	}
}
