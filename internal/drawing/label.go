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
	dot    bool    // the leader ends in a dot inside an outline, not on a line
}

// put draws a label where it costs least.
func (s *sheet) put(l label, field rect) {
	if l.text == "" || !finite(l.at) {
		return
	}
	if l.size == 0 {
		l.size = dimText
	}
	t := Text{Text: l.text, Size: l.size, Bold: l.figure != nil}
	t.Width = textWidth(t.Text, t.Size, t.Bold)
	pad := 0.0
	if l.figure != nil {
		pad = 0.9
	}
	var best struct {
		text   Text
		box    box
		leader [2]seg
		halo   bool
	}
	least := math.Inf(1)
	for _, far := range []float64{6, 9, 13, 18, 24, 32, 42} {
		for k := range 16 {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / 16)
			knee := l.at.Add(geom.Vec2{X: cos, Y: -sin}.Mul(far))
			for _, dir := range [2]float64{math.Copysign(1, cos), -math.Copysign(1, cos)} {
				t.Align = Left
				if dir < 0 {
					t.Align = Right
				}
				t.At = knee.Add(geom.Vec2{X: dir * (1 + pad), Y: -0.9 - pad})
				b := textBox(&t).grow(pad)
				foot := seg{knee, knee.Add(geom.Vec2{X: dir * (t.Width + 1 + 2*pad)})}
				slope := seg{l.at, knee}
				cost, on := s.textCost(b, field)
				cost += s.leaderCost(slope, foot) + far
				if _, _, ok := b.crossing(slope.a, slope.b); ok {
					cost += costLineText
				}
				if dir*cos < 0 {
					cost += 8
				}
				if cost < least-1e-9 {
					least = cost
					best.text, best.box, best.halo = t, b, on
					best.leader = [2]seg{slope, foot}
				}
			}
		}
	}
	s.drawLabel(l, best.text, best.box, best.leader, best.halo)
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

func (s *sheet) drawLabel(l label, t Text, b box, leader [2]seg, halo bool) {
	pen := Pen{Width: Thin}
	g := Group{Name: "label"}
	if l.figure != nil {
		pen = Pen{Width: Thick, Ink: Accent}
		g.Name, g.Figure = "figure", l.figure
	}
	g.Marks = append(g.Marks, Line{leader[0].a, leader[0].b, pen}, Line{leader[1].a, leader[1].b, pen})
	if l.dot {
		g.Marks = append(g.Marks, Circle{l.at, 0.5, pen.Ink, Pen{}})
	} else {
		g.Marks = append(g.Marks, arrow(l.at, leader[0].b, pen.Ink))
	}
	t.Halo = halo && l.figure == nil
	if l.figure != nil {
		g.Marks = append(g.Marks, Poly{Points: b.corners(), Closed: true, Fill: White, Pen: pen})
	}
	g.Marks = append(g.Marks, t)
	s.texts = append(s.texts, g)
	s.boxes = append(s.boxes, b)
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
