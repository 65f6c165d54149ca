package sheet

import (
	"cmp"
	"slices"
	"strings"

	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/pdf"
	"embedcheck/internal/setout"
)

// station is a value on a running dimension, with the marks that are there.
type station struct {
	mm    float64
	marks []string
}

// chain is the stations of one side of the elevation, taped from the datum.
type chain struct {
	axis     setout.Axis
	stations []station
}

// add puts a mark at a value; marks at one value share a station.
func (c *chain) add(mm float64, mark string) {
	const same = 0.25
	for i := range c.stations {
		s := &c.stations[i]
		if d := s.mm - mm; d < same && d > -same {
			if mark != "" && !slices.Contains(s.marks, mark) {
				s.marks = append(s.marks, mark)
			}
			return
		}
	}
	st := station{mm: mm}
	if mark != "" {
		st.marks = []string{mark}
	}
	c.stations = append(c.stations, st)
}

func (c *chain) sort() {
	slices.SortStableFunc(c.stations, func(a, b station) int { return cmp.Compare(a.mm, b.mm) })
}

// text is the value and the marks, as many as there is room for.
func (s *station) text() string {
	const longest = 30
	marks := s.marks
	more := ""
	for len(marks) > 1 && len([]rune(strings.Join(marks, ", "))) > longest {
		marks = marks[:len(marks)-1]
		more = ", .."
	}
	t := mm(s.mm)
	if len(marks) > 0 {
		t += " (" + finding.Short(strings.Join(marks, ", "), longest+4) + more + ")"
	}
	return pdf.Printable(t)
}

// depth is the room that a chain takes away from the outline, in mm on paper.
func (c *chain) depth() float64 {
	if len(c.stations) == 0 {
		return 0
	}
	most := 0.0
	for i := range c.stations {
		most = max(most, drawing.TextWidth(c.stations[i].text(), small, false))
	}
	return chainOff + chainJog + most + 3
}

const (
	chainOff  = 7.0 // from the outline to the dimension line
	chainJog  = 6.0 // from the dimension line to the texts
	chainStep = 3.7 // between texts side by side
)

// side says where a chain stands: which way is away from the outline, and which
// way values grow on paper.
type side struct {
	out, along geom.Vec2
}

var (
	below = side{geom.Vec2{Y: 1}, geom.Vec2{X: 1}}
	left  = side{geom.Vec2{X: -1}, geom.Vec2{Y: -1}}
)

// draw draws the chain beside an outline on paper. zero is the datum there, k mm
// on paper for each mm.
func (c *chain) draw(p *page, s side, outline drawing.Rect, zero geom.Vec2, k float64) {
	if len(c.stations) == 0 {
		return
	}
	c.sort()
	thin := drawing.Pen{Width: drawing.Thin}
	edge := outline.Max
	if s.out.X+s.out.Y < 0 {
		edge = outline.Min
	}
	base := edge.Dot(geom.Vec2{X: abs(s.out.X), Y: abs(s.out.Y)}) * (s.out.X + s.out.Y) // along out
	line := base + chainOff
	on := func(t, out float64) geom.Vec2 { return s.along.Mul(t).Add(s.out.Mul(out)) }
	origin := zero.Dot(s.along)
	last := c.stations[len(c.stations)-1].mm
	first := min(0, c.stations[0].mm)
	p.Line(on(origin+first*k, line), on(origin+last*k, line), thin)
	p.Disc(on(origin, line), 0.9, thin, drawing.White)
	p.Line(on(origin, base+1), on(origin, line+1.5), thin)
	places := spread(c.stations, func(st *station) float64 { return origin + st.mm*k }, chainStep)
	for i := range c.stations {
		st := &c.stations[i]
		t := origin + st.mm*k
		p.Line(on(t, base+1), on(t, line+1.5), thin)
		if st.mm != 0 {
			p.arrow(on(t, line), s.along.Mul(sign(st.mm)))
		}
		p.Line(on(t, line+1.5), on(places[i], line+chainJog-1), thin)
		p.stationText(st.text(), on(places[i], line+chainJog), s)
	}
}

// stationText writes along the extension line, read from below or from the right.
func (p *page) stationText(text string, q geom.Vec2, s side) {
	t := drawing.Text{Text: text, Size: small, At: q}
	if s.out.Y != 0 {
		t.Turn, t.At = 90, q.Add(geom.Vec2{X: small / 2})
		if s.out.Y > 0 {
			t.Align = drawing.Right
		}
	} else {
		t.At = q.Add(geom.Vec2{Y: small / 2})
		if s.out.X < 0 {
			t.Align = drawing.Right
		}
	}
	p.Write(t)
}

// arrow is the head of a dimension line with its point at q.
func (p *page) arrow(q, d geom.Vec2) {
	w := geom.Vec2{X: -d.Y, Y: d.X}
	back := q.Sub(d.Mul(2.2))
	p.Fill(drawing.Poly{Points: []geom.Vec2{q, back.Add(w.Mul(0.4)), back.Sub(w.Mul(0.4))}, Closed: true, Fill: drawing.Black})
}

// spread moves places apart to a least step, each as little as may be: those that
// touch share the middle of where they want to be.
func spread(st []station, want func(*station) float64, step float64) []float64 {
	type block struct {
		from, to int     // stations
		sum      float64 // of wanted place less index * step
	}
	var blocks []block
	mean := func(b block) float64 { return b.sum / float64(b.to-b.from) }
	dir := 1.0
	if len(st) > 1 && want(&st[len(st)-1]) < want(&st[0]) {
		dir = -1
	}
	for i := range st {
		blocks = append(blocks, block{i, i + 1, dir*want(&st[i]) - step*float64(i)})
		for n := len(blocks); n > 1 && mean(blocks[n-1]) < mean(blocks[n-2]); n-- {
			blocks[n-2].to = blocks[n-1].to
			blocks[n-2].sum += blocks[n-1].sum
			blocks = blocks[:n-1]
		}
	}
	out := make([]float64, len(st))
	for _, b := range blocks {
		for i := b.from; i < b.to; i++ {
			out[i] = dir * (mean(b) + step*float64(i))
		}
	}
	return out
}

func abs(v float64) float64 { return max(v, -v) }

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}
