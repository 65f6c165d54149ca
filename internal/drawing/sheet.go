package drawing

import (
	"embedcheck/internal/geom"
)

// seg is a line on paper.
type seg struct{ a, b geom.Vec2 }

func (s seg) bounds() rect { return rectOf(s.a, s.b) }

// placed is a box that is taken.
type placed struct {
	box
	r rect // around it
}

// sheet collects marks, and remembers where lines and texts are, so that texts
// find room.
type sheet struct {
	under []Mark // hatching
	lines []Mark
	texts []Mark
	dims  []Dim

	drawn    []seg    // lines of the object
	dimmed   []seg    // dimension lines
	extended []seg    // extension lines and leaders
	boxes    []placed // texts
}

// line draws a line of the object.
func (s *sheet) line(a, b geom.Vec2, p Pen) {
	if !finite(a) || !finite(b) {
		return
	}
	s.lines = append(s.lines, Line{a, b, p})
	s.drawn = append(s.drawn, seg{a, b})
}

// ring draws a circle of the object.
func (s *sheet) ring(c geom.Vec2, r float64, p Pen, fill Ink) {
	if !finite(c) || !(r > 0) || r > 1e5 {
		return
	}
	s.lines = append(s.lines, Circle{c, r, fill, p})
	pts := circlePoints(c, r, 12)
	for i, a := range pts {
		s.drawn = append(s.drawn, seg{a, pts[(i+1)%len(pts)]})
	}
}

// fixed places a text where it has to stand.
func (s *sheet) fixed(t Text) {
	if t.Text == "" {
		return
	}
	t.Width = textWidth(t.Text, t.Size, t.Bold)
	s.texts = append(s.texts, t)
	s.take(textBox(&t))
}

// take keeps a box from other texts.
func (s *sheet) take(b box) { s.boxes = append(s.boxes, placed{b, b.bounds()}) }

// all is the marks in the order of drawing.
func (s *sheet) all() []Mark {
	out := append([]Mark(nil), s.under...)
	out = append(out, s.lines...)
	return append(out, s.texts...)
}

// failed reports whether a dimension that misses its limit was drawn.
func (s *sheet) failed() bool {
	for _, d := range s.dims {
		if d.Fails {
			return true
		}
	}
	return false
}

// Costs of what a text or a dimension may get in the way of: a reader must not
// meet a text on a text, should not meet one on a line, and likes short ways.
const (
	costOutside   = 50000.0
	costTextText  = 20000.0
	costLineText  = 6000.0
	costLineLine  = 900.0 // dimension lines side by side without room
	costTextLine  = 300.0
	costAlong     = 120.0
	costCross     = 12.0
	costCrossDim  = 60.0
	costCrossThin = 2.0
)

// textCost is what it costs to have a text at a place: the lines it lies on
// count, besides the box they have in common with it.
func (s *sheet) textCost(t box, field rect) (cost float64, onLine bool) {
	r := t.bounds()
	if !field.holds(r) {
		cost += costOutside
	}
	g := t.grow(0.6)
	gr := g.bounds()
	for i := range s.boxes {
		if o := &s.boxes[i]; !o.r.cut(gr).empty() && g.meets(o.box) {
			cost += costTextText
		}
	}
	n := 0
	for _, list := range [3][]seg{s.drawn, s.dimmed, s.extended} {
		for _, l := range list {
			if !mayMeet(gr, l) {
				continue
			}
			if _, _, ok := g.crossing(l.a, l.b); ok {
				n++
			}
		}
	}
	const most = 8 // more lines are no worse
	return cost + costTextLine*float64(min(n, most)), n > 0
}

func mayMeet(r rect, l seg) bool {
	return min(l.a.X, l.b.X) <= r.max.X && max(l.a.X, l.b.X) >= r.min.X && min(l.a.Y, l.b.Y) <= r.max.Y && max(l.a.Y, l.b.Y) >= r.min.Y
}

// written reports whether a place is on a text, or next to one.
func (s *sheet) written(p geom.Vec2) bool {
	for i := range s.boxes {
		if s.boxes[i].r.grow(1).has(p) {
			return true
		}
	}
	return false
}

// throughTexts is what it costs to draw a line through texts.
func (s *sheet) throughTexts(l seg) float64 {
	cost := 0.0
	const clear = 0.3
	for i := range s.boxes {
		o := &s.boxes[i]
		if !mayMeet(o.r.grow(clear), l) {
			continue
		}
		if _, _, ok := o.grow(clear).crossing(l.a, l.b); ok {
			cost += costLineText
		}
	}
	return cost
}

// crossings counts the lines of a list that l crosses.
func crossings(l seg, list []seg) int {
	n := 0
	r := l.bounds()
	for _, o := range list {
		if mayMeet(r, o) && segsCross(l, o) {
			n++
		}
	}
	return n
}

func segsCross(l, o seg) bool {
	d := l.b.Sub(l.a)
	e := o.b.Sub(o.a)
	s, t := d.Cross(o.a.Sub(l.a)), d.Cross(o.b.Sub(l.a))
	u, v := e.Cross(l.a.Sub(o.a)), e.Cross(l.b.Sub(o.a))
	return s*t < 0 && u*v < 0
}

// alongside counts the lines of a list that run beside l, nearer than gap mm,
// for some way.
func alongside(l seg, list []seg, gap float64) int {
	d := l.b.Sub(l.a)
	length := d.Norm()
	if length == 0 {
		return 0
	}
	u := d.Mul(1 / length)
	n := 0
	around := l.bounds().grow(gap)
	for _, o := range list {
		if !mayMeet(around, o) {
			continue
		}
		e := o.b.Sub(o.a)
		if en := e.Norm(); en == 0 || abs(u.Cross(e))/en > 0.03 {
			continue
		}
		if abs(u.Cross(o.a.Sub(l.a))) > gap {
			continue
		}
		s, t := u.Dot(o.a.Sub(l.a)), u.Dot(o.b.Sub(l.a))
		if min(max(s, t), length)-max(min(s, t), 0) > 0.8 {
			n++
		}
	}
	return n
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
