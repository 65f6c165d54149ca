package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

// Sizes of ISO 129-1, in mm on paper.
const (
	dimText   = 2.5
	failText  = 3.5
	dimGap    = 8.0 // between the object and the first dimension line
	dimStep   = 7.0 // between dimension lines
	extGap    = 1.0 // between the object and an extension line
	extBeyond = 1.5
	stroke45  = 1.4 // half length of an oblique stroke
)

// dimension is one to be placed: the distance from a to b along u.
type dimension struct {
	Dim
	a, b geom.Vec2 // paper
	u    geom.Vec2 // unit
	text string    // as shown
	near bool      // the line is to stand close to what it measures
}

// dimPlace is a way to draw a dimension.
type dimPlace struct {
	side  geom.Vec2 // unit, from the object to the line
	off   float64   // of the line along side, as a coordinate
	shift float64   // of the text's middle from the middle of the line, along u
	tail  seg       // the dimension line with what carries a text outside
	body  seg       // between the extension lines
	ext   [2]seg
	hasE  [2]bool
	text  Text
	box   box
	halo  bool
}

// place draws a dimension where it costs least. core is the object's extent on
// paper, field the room of the view.
func (s *sheet) place(d dimension, core, field rect) {
	if !finite(d.a) || !finite(d.b) || !(d.u.Norm() > 0.5) {
		return
	}
	var best dimPlace
	least := math.Inf(1)
	v := geom.Vec2{X: -d.u.Y, Y: d.u.X}
	for _, side := range [2]geom.Vec2{v, v.Mul(-1)} {
		edge := math.Inf(-1)
		for _, c := range core.corners() {
			edge = max(edge, c.Dot(side))
		}
		near := max(d.a.Dot(side), d.b.Dot(side))
		var offs []float64
		for k := range 5 {
			if !d.near {
				offs = append(offs, edge+dimGap+dimStep*float64(k))
			}
		}
		for k := range 4 {
			offs = append(offs, near+dimStep*float64(k+1))
		}
		offs = append(offs, near, near+4)
		for _, off := range offs {
			for _, p := range s.ways(&d, side, off) {
				if c := s.dimCost(&d, &p, field, least); c < least-1e-9 {
					best, least = p, c
				}
			}
		}
	}
	if least >= costOutside { // no room for the line: its figure with a leader
		l := label{at: lerp(d.a, d.b, 0.5), text: d.text, dim: &d.Dim}
		if d.Fails {
			l.size = failText
		}
		s.put(l, field)
		return
	}
	s.drawDim(&d, &best)
}

// ways are the places of the text on one dimension line.
func (s *sheet) ways(d *dimension, side geom.Vec2, off float64) []dimPlace {
	on := func(p geom.Vec2) geom.Vec2 { return p.Add(side.Mul(off - p.Dot(side))) }
	a, b := on(d.a), on(d.b)
	if b.Sub(a).Dot(d.u) < 0 {
		a, b = b, a
	}
	size := dimText
	if d.Fails {
		size = failText
	}
	t := Text{Text: d.text, Size: size, Align: Middle, Bold: d.Fails}
	t.Width = textWidth(t.Text, t.Size, t.Bold)
	t.Turn = readable(d.u)
	length := b.Sub(a).Norm()
	room := t.Width + 2
	if d.Fails {
		room += 3
	}
	shifts := make([]float64, 0, 15)
	if room < length {
		shifts = append(shifts, 0)
		for _, k := range []float64{0.5, -0.5, 0.9, -0.9} {
			shifts = append(shifts, k*(length-room)/2)
		}
	}
	outside := length/2 + room/2 + 1.5
	for _, far := range []float64{0, 5, 12, 20, 30} {
		shifts = append(shifts, outside+far, -outside-far)
	}
	up := upOf(t.Turn)
	mid := lerp(a, b, 0.5)
	out := make([]dimPlace, 0, len(shifts))
	for _, sh := range shifts {
		p := dimPlace{side: side, off: off, shift: sh, body: seg{a, b}, tail: seg{a, b}}
		lift := 0.9
		if d.Fails {
			lift = 2.4
		}
		t.At = mid.Add(d.u.Mul(sh)).Add(up.Mul(lift))
		p.text, p.box = t, textBox(&t)
		if d.Fails {
			p.box = p.box.grow(0.9)
		}
		reach := abs(sh) + room/2 - 1
		if reach > length/2 {
			end := mid.Add(d.u.Mul(math.Copysign(reach, sh)))
			if sh > 0 {
				p.tail = seg{a, end}
			} else {
				p.tail = seg{end, b}
			}
		}
		if length < 4*stroke45 {
			p.tail = seg{p.tail.a.Sub(d.u.Mul(3)), p.tail.b.Add(d.u.Mul(3))}
		}
		for i, q := range [2]geom.Vec2{d.a, d.b} {
			h := off - q.Dot(side)
			if h > 0.5 {
				p.ext[i], p.hasE[i] = seg{q.Add(side.Mul(min(extGap, h/2))), q.Add(side.Mul(h + extBeyond))}, true
			}
		}
		out = append(out, p)
	}
	return out
}

// readable is the turn of a text along u that is read from below or from the
// right, in degrees; within 10 degrees of upright, from the right.
func readable(u geom.Vec2) float64 {
	w := math.Atan2(-u.Y, u.X) * 180 / math.Pi
	for w > 100 {
		w -= 180
	}
	for w <= -80 {
		w += 180
	}
	return w
}

// upOf is the direction on paper from the foot of a turned text to its head.
func upOf(turn float64) geom.Vec2 {
	s, c := math.Sincos(turn * math.Pi / 180)
	return geom.Vec2{X: -s, Y: -c}
}

// dimCost is what a way to draw a dimension costs; it is not worked out where
// that is more than most in any case.
func (s *sheet) dimCost(d *dimension, p *dimPlace, field rect, most float64) float64 {
	cost, on := s.textCost(p.box, field)
	if cost >= most {
		return cost
	}
	p.halo = on
	for _, k := range p.ticks(d) {
		cost += s.throughTexts(k)
	}
	if !field.has(p.tail.a) || !field.has(p.tail.b) {
		cost += costOutside
	}
	cost += s.throughTexts(p.tail)
	cost += costLineLine * float64(alongside(p.tail, s.dimmed, 5.5))
	along, cross := costAlong, costCross
	if d.near {
		along, cross = costAlong/10, costCross/2
	}
	cost += along * float64(alongside(p.tail, s.drawn, 1.2))
	cost += cross * float64(crossings(p.tail, s.drawn))
	cost += costCrossDim * float64(crossings(p.tail, s.dimmed)+crossings(p.tail, s.extended))
	for i, e := range p.ext {
		if !p.hasE[i] {
			continue
		}
		cost += s.throughTexts(e)
		cost += costCrossThin * float64(crossings(e, s.drawn))
		cost += costCrossDim * float64(crossings(e, s.dimmed))
		if d.near {
			cost += 12 * e.b.Dist(e.a)
		}
		cost += e.b.Dist(e.a)
	}
	if abs(p.shift) > p.body.a.Dist(p.body.b)/2 {
		cost += 10 + abs(p.shift)/3
	} else {
		cost += abs(p.shift) / 2
	}
	return cost
}

// ticks are the oblique strokes at the ends of a dimension line; they rise with
// the text.
func (p *dimPlace) ticks(d *dimension) [2]seg {
	up := upOf(p.text.Turn)
	slant := d.u.Add(up)
	if d.u.Dot(geom.Vec2{X: -up.Y, Y: up.X}) < 0 { // u runs against the text
		slant = up.Sub(d.u)
	}
	slant = slant.Mul(stroke45 / math.Sqrt2)
	if d.Fails {
		slant = slant.Mul(1.3)
	}
	a, b := p.body.a, p.body.b
	return [2]seg{{a.Sub(slant), a.Add(slant)}, {b.Sub(slant), b.Add(slant)}}
}

func (s *sheet) drawDim(d *dimension, p *dimPlace) {
	pen := Pen{Width: Thin}
	tick := Pen{Width: Mid}
	if d.Fails {
		pen = Pen{Width: Thick, Ink: Accent}
		tick = Pen{Width: Heavy, Ink: Accent}
	}
	g := Group{Name: "dim", Dim: &Dim{d.Name, d.ValueMM, d.Fails}}
	for i, e := range p.ext {
		if p.hasE[i] {
			g.Marks = append(g.Marks, Line{e.a, e.b, Pen{Width: Thin, Ink: pen.Ink}})
			s.extended = append(s.extended, e)
		}
	}
	g.Marks = append(g.Marks, Line{p.tail.a, p.tail.b, pen})
	for _, k := range p.ticks(d) {
		g.Marks = append(g.Marks, Line{k.a, k.b, tick})
		s.extended = append(s.extended, k)
	}
	p.text.Halo = p.halo
	if d.Fails {
		p.text.Halo = false
		frame := Poly{Points: p.box.corners(), Closed: true, Fill: White, Pen: Pen{Width: Thick, Ink: Accent}}
		g.Marks = append(g.Marks, frame)
	}
	g.Marks = append(g.Marks, p.text)
	s.texts = append(s.texts, g)
	s.dimmed = append(s.dimmed, p.tail)
	s.take(p.box)
	s.dims = append(s.dims, d.Dim)
}
