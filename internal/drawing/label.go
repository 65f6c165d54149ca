package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

// label is a text with a leader to a place of the object.
type label struct {
	at     geom.Vec2 // what it points at
	text   string
	size   float64
	figure *Figure // framed, as what misses its limit
	dim    *Dim    // stands for a dimension
	dot    bool    // the leader ends in a dot inside an outline, not on a line
}

// framed reports whether a label is what misses its limit.
func (l *label) framed() bool { return l.figure != nil || l.dim != nil && l.dim.Fails }

// labelPlace is a way to draw a label.
type labelPlace struct {
	text   Text
	box    box
	leader [2]seg // the slope from the place, and the foot below the text
	cost   float64
	halo   bool
}

// put draws a label where it costs least: near the place if there is room, else
// wherever there is.
func (s *sheet) put(l label, field rect) {
	if best, ok := s.findRoom(&l, field); ok {
		s.drawLabel(l, &best)
	}
}

// findRoom is the place for a label that costs least; false where there is
// nothing to be labelled.
func (s *sheet) findRoom(l *label, field rect) (labelPlace, bool) {
	if l.text == "" || !finite(l.at) || !field.has(l.at) {
		return labelPlace{}, false
	}
	if l.size == 0 {
		l.size = dimText
	}
	if textWidth(l.text, l.size, true) > field.w()-6 {
		l.size = dimText
		l.text = fit(l.text, l.size, true, field.w()-6)
	}
	best := labelPlace{cost: math.Inf(1)}
	try := func(knee geom.Vec2, dir float64) {
		if p := s.labelAt(l, knee, dir, field, best.cost); p.cost < best.cost-1e-9 {
			best = p
		}
	}
	for _, far := range []float64{6, 9, 13, 18, 24, 32, 42} {
		for k := range 16 {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / 16)
			knee := l.at.Add(geom.Vec2{X: cos, Y: -sin}.Mul(far))
			try(knee, 1)
			try(knee, -1)
		}
	}
	if best.cost >= costTextLine {
		for y := field.min.Y + 6; y < field.max.Y; y += 4 {
			for x := field.min.X + 1; x < field.max.X; x += 5 {
				try(geom.Vec2{X: x, Y: y}, 1)
				try(geom.Vec2{X: x, Y: y}, -1)
			}
		}
	}
	return best, true
}

// labelAt is a label whose text begins at a knee and runs to the right (dir 1) or
// to the left. It is not worked out where it costs more than most in any case.
func (s *sheet) labelAt(l *label, knee geom.Vec2, dir float64, field rect, most float64) labelPlace {
	t := Text{Text: l.text, Size: l.size, Bold: l.framed()}
	t.Width = textWidth(t.Text, t.Size, t.Bold)
	pad := 0.0
	if l.framed() {
		pad = 0.9
	}
	if dir < 0 {
		t.Align = Right
	}
	t.At = knee.Add(geom.Vec2{X: dir * (1 + pad), Y: -0.9 - pad})
	p := labelPlace{text: t, box: textBox(&t).grow(pad)}
	foot := seg{knee, knee.Add(geom.Vec2{X: dir * (t.Width + 1 + 2*pad)})}
	slope := seg{l.at, knee}
	p.leader = [2]seg{slope, foot}
	p.cost, p.halo = s.textCost(p.box, field)
	if p.cost >= most {
		return p
	}
	p.cost += s.leaderCost(slope, foot) + slope.a.Dist(slope.b)
	if dir*(knee.X-l.at.X) < 0 {
		p.cost += 8
	}
	if _, _, ok := p.box.crossing(slope.a, slope.b); ok {
		p.cost += costLineText
	}
	return p
}

// leaderCost is what it costs to draw a leader: its slope and the foot below the
// text.
func (s *sheet) leaderCost(slope, foot seg) float64 {
	cost := s.throughTexts(foot) + s.throughTexts(slope)
	cost += costAlong * float64(alongside(foot, s.drawn, 1)+alongside(foot, s.dimmed, 2)+alongside(slope, s.drawn, 0.6))
	cost += costCross * float64(crossings(foot, s.drawn))
	cost += costCrossDim * float64(crossings(slope, s.dimmed)+crossings(foot, s.dimmed)+crossings(slope, s.extended)+crossings(foot, s.extended))
	return cost + 4*float64(crossings(slope, s.drawn))
}

func (s *sheet) drawLabel(l label, p *labelPlace) {
	t, b, leader := p.text, p.box, p.leader
	pen := Pen{Width: Thin}
	g := Group{Name: "label"}
	if l.framed() {
		pen = Pen{Width: Thick, Ink: Accent}
		g.Name, g.Figure = "figure", l.figure
	}
	if l.dim != nil {
		g.Dim = l.dim
		s.dims = append(s.dims, *l.dim)
	}
	g.Marks = append(g.Marks, Line{leader[0].a, leader[0].b, pen}, Line{leader[1].a, leader[1].b, pen})
	if l.dot {
		g.Marks = append(g.Marks, Circle{l.at, 0.5, pen.Ink, Pen{}})
	} else {
		g.Marks = append(g.Marks, arrow(l.at, leader[0].b, pen.Ink))
	}
	t.Halo = p.halo && !l.framed()
	if l.framed() {
		g.Marks = append(g.Marks, Poly{Points: b.corners(), Closed: true, Fill: White, Pen: pen})
	}
	g.Marks = append(g.Marks, t)
	s.texts = append(s.texts, g)
	s.take(b)
	s.extended = append(s.extended, leader[0], leader[1])
}

// arrow is a filled arrow head at p for a line that comes from q.
func arrow(p, q geom.Vec2, ink Ink) Poly {
	d := q.Sub(p)
	if n := d.Norm(); n > 0 {
		d = d.Mul(1 / n)
	}
	side := geom.Vec2{X: -d.Y, Y: d.X}
	back := p.Add(d.Mul(2.2))
	return Poly{Points: []geom.Vec2{p, back.Add(side.Mul(0.37)), back.Sub(side.Mul(0.37))}, Closed: true, Fill: ink}
}
