package drawing

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"embedcheck/internal/geom"
)

// Field is a part of the sheet that can be shown on its own, mm on paper. Its
// marks are those of the group of its name.
type Field struct {
	Name, Label string
	X, Y, W, H  float64
}

// perMM is the grid that Inline works on: 0.05 mm is finer than a screen shows.
const perMM = 20

// inlineWidths are the classes w0, w1, ... of line widths.
var inlineWidths = [...]float64{Hair, Thin, Fine, Mid, Thick, Heavy}

// inlineInks are the classes of colours, in the order of Ink: the page says
// what they are, so that a sheet can be dark.
var inlineInks = [...]string{Black: "ink", Grey: "faint", Accent: "accent", White: "paper"}

// InlineStyle is the style sheet of what Inline writes. The page around it sets
// the colours --ink, --faint, --accent and --paper.
func InlineStyle() string {
	var b strings.Builder
	b.WriteString(".dwg path,.dwg circle{fill:none}.dwg text{fill:var(--ink)}\n")
	for i, name := range inlineInks {
		fmt.Fprintf(&b, ".dwg .s%d{stroke:var(--%s)}.dwg .f%d{fill:var(--%s)}\n", i, name, i, name)
	}
	for i, w := range inlineWidths {
		fmt.Fprintf(&b, ".dwg .w%d{stroke-width:%s}", i, num(w*perMM))
		for _, d := range [...]Dash{Dashed, Chain, TwoDotted} {
			fmt.Fprintf(&b, ".dwg .d%d.w%d{stroke-dasharray:%s}", d, i, dashText(d, w*perMM))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Inline writes the views of the sheet as SVG elements to stand in a page that
// has InlineStyle, one element a field. It takes a fifth of the bytes of SVG:
// what a page of many drawings is made of.
func (d *Drawing) Inline(w io.Writer) error {
	var s inliner
	for _, f := range d.Fields {
		s.printf(`<svg class="dwg %s" viewBox="%d %d %d %d" role="img" aria-label="%s">`,
			escape(f.Name), grid(f.X), grid(f.Y), grid(f.W), grid(f.H), escape(f.Label))
		for _, m := range d.Marks {
			if g, ok := m.(Group); ok && g.Name == f.Name {
				s.marks(g.Marks)
			}
		}
		s.flush()
		s.printf("</svg>")
	}
	_, err := w.Write(s.buf.Bytes())
	return err
}

func grid(v float64) int { return int(math.Round(min(max(v, -1e4), 1e4) * perMM)) }

// inliner joins lines of one pen that follow each other into one path.
type inliner struct {
	buf   bytes.Buffer
	class string // of the open path
	path  strings.Builder
	x, y  int // where the open path ends
}

func (s *inliner) printf(format string, args ...any) { fmt.Fprintf(&s.buf, format, args...) }

func (s *inliner) flush() {
	if s.path.Len() > 0 {
		s.printf(`<path class="%s" d="%s"/>`, s.class, s.path.String())
	}
	s.class = ""
	s.path.Reset()
}

func (s *inliner) marks(list []Mark) {
	for _, m := range list {
		switch m := m.(type) {
		case Line:
			s.poly([]geom.Vec2{m.A, m.B}, false, penClass(m.Pen, NoInk))
		case Poly:
			s.poly(m.Points, m.Closed, penClass(m.Pen, m.Fill))
		case Circle:
			s.flush()
			if finite(m.C) {
				s.printf(`<circle class="%s" cx="%d" cy="%d" r="%d"/>`, penClass(m.Pen, m.Fill), grid(m.C.X), grid(m.C.Y), grid(m.R))
			}
		case Text:
			s.text(m)
		case Group:
			s.marks(m.Marks)
		}
	}
}

// poly adds a path; one that is filled stands alone, so that what it covers
// stays covered.
func (s *inliner) poly(pts []geom.Vec2, closed bool, class string) {
	if len(pts) < 2 {
		return
	}
	for _, p := range pts {
		if !finite(p) {
			return
		}
	}
	filled := strings.HasPrefix(class, "f")
	if class != s.class || filled {
		s.flush()
		s.class = class
	}
	x, y := grid(pts[0].X), grid(pts[0].Y)
	if s.path.Len() == 0 || x != s.x || y != s.y || closed {
		s.move('M', x, y)
	}
	for _, p := range pts[1:] {
		s.step(grid(p.X), grid(p.Y))
	}
	if closed {
		s.path.WriteByte('z')
		s.x, s.y = math.MinInt, math.MinInt
	}
}

func (s *inliner) move(c byte, x, y int) {
	s.path.WriteByte(c)
	s.pair(x, y)
	s.x, s.y = x, y
}

// step is a line to a point, from where the path is.
func (s *inliner) step(x, y int) {
	dx, dy := x-s.x, y-s.y
	switch {
	case dx == 0 && dy == 0:
	case dx == 0:
		s.path.WriteString("v" + strconv.Itoa(dy))
	case dy == 0:
		s.path.WriteString("h" + strconv.Itoa(dx))
	default:
		s.path.WriteByte('l')
		s.pair(dx, dy)
	}
	s.x, s.y = x, y
}

func (s *inliner) pair(x, y int) {
	s.path.WriteString(strconv.Itoa(x))
	if y >= 0 {
		s.path.WriteByte(' ')
	}
	s.path.WriteString(strconv.Itoa(y))
}

func (s *inliner) text(m Text) {
	if m.Halo {
		s.poly(textBox(&m).corners(), true, penClass(Pen{}, White))
	}
	s.flush()
	if !finite(m.At) {
		return
	}
	x, y := grid(m.At.X), grid(m.At.Y)
	s.printf(`<text x="%d" y="%d" font-size="%d"`, x, y, grid(m.Size/capHeight))
	if m.Align != Left {
		s.printf(` text-anchor="%s"`, map[Align]string{Middle: "middle", Right: "end"}[m.Align])
	}
	if m.Turn != 0 {
		s.printf(` transform="rotate(%s %d %d)"`, num(-m.Turn), x, y)
	}
	if m.Bold {
		s.printf(` font-weight="700"`)
	}
	if m.Ink != Black && m.Ink != NoInk {
		s.printf(` class="f%d"`, m.Ink)
	}
	s.printf(">%s</text>", escape(m.Text))
}

// penClass is the classes of a pen and a filling.
func penClass(p Pen, fill Ink) string {
	var c []string
	if fill != NoInk {
		c = append(c, fmt.Sprintf("f%d", fill))
	}
	if p.Width > 0 && p.Ink != NoInk {
		c = append(c, fmt.Sprintf("s%d w%d", p.Ink, widthClass(p.Width)))
		if p.Dash != Solid {
			c = append(c, fmt.Sprintf("d%d", p.Dash))
		}
	}
	return strings.Join(c, " ")
}

// widthClass is the class of the nearest width.
func widthClass(w float64) int {
	best := 0
	for i, v := range inlineWidths {
		if math.Abs(v-w) < math.Abs(inlineWidths[best]-w) {
			best = i
		}
	}
	return best
}
