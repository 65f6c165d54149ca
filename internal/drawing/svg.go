package drawing

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// The one accent is vermillion of the palette of Okabe and Ito (Color Universal
// Design, 2008), which people with any kind of colour vision tell from black.
var inks = map[Ink]string{Black: "#000", Grey: "#777", Accent: "#d55e00", White: "#fff", NoInk: "none"}

// dashes are in multiples of the line's width: shorter than those of ISO 128-2,
// since what they show is small.
var dashes = map[Dash][]float64{
	Dashed:    {8, 4},
	Chain:     {18, 3, 1, 3},
	TwoDotted: {14, 3, 1, 3, 1, 3},
}

// SVG writes the sheet as SVG 1.1, to stand alone or inside HTML. The same
// drawing gives the same bytes.
func (d *Drawing) SVG(w io.Writer) error {
	var s svgWriter
	s.printf(`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="sans-serif" role="img" aria-label="%s">`+"\n",
		num(d.Width), num(d.Height), num(d.Width), num(d.Height), escape(d.Title))
	s.printf("<title>%s</title>\n", escape(d.Title))
	s.printf(`<rect width="%s" height="%s" fill="#fff"/>`+"\n", num(d.Width), num(d.Height))
	for _, m := range d.Marks {
		s.mark(m)
	}
	s.printf("</svg>\n")
	_, err := w.Write(s.buf.Bytes())
	return err
}

type svgWriter struct{ buf bytes.Buffer }

func (s *svgWriter) printf(format string, args ...any) { fmt.Fprintf(&s.buf, format, args...) }

func (s *svgWriter) mark(m Mark) {
	switch m := m.(type) {
	case Line:
		s.printf(`<path d="M%s %sL%s %s"%s/>`+"\n", num(m.A.X), num(m.A.Y), num(m.B.X), num(m.B.Y), stroke(m.Pen, NoInk))
	case Poly:
		s.poly(m)
	case Circle:
		s.printf(`<circle cx="%s" cy="%s" r="%s"%s/>`+"\n", num(m.C.X), num(m.C.Y), num(m.R), stroke(m.Pen, m.Fill))
	case Text:
		s.text(m)
	case Group:
		s.group(m)
	}
}

func (s *svgWriter) poly(m Poly) {
	if len(m.Points) < 2 {
		return
	}
	s.printf(`<path d="`)
	for i, p := range m.Points {
		if i == 0 {
			s.printf("M%s %s", num(p.X), num(p.Y))
		} else {
			s.printf("L%s %s", num(p.X), num(p.Y))
		}
	}
	if m.Closed {
		s.printf("Z")
	}
	s.printf(`"%s/>`+"\n", stroke(m.Pen, m.Fill))
}

func (s *svgWriter) group(m Group) {
	s.printf("<g")
	if m.Name != "" {
		s.printf(` data-part="%s"`, escape(m.Name))
	}
	if m.Dim != nil {
		s.printf(` data-dim="%s" data-mm="%s"`, escape(m.Dim.Name), num(m.Dim.ValueMM))
		if m.Dim.Fails {
			s.printf(` data-fails="1"`)
		}
	}
	if f := m.Figure; f != nil {
		s.printf(` data-figure="%s" data-measured="%s" data-required="%s" data-unit="%s"`,
			escape(f.Name), num4(f.Measured), num4(f.Required), escape(f.Unit))
	}
	s.printf(">\n")
	for _, c := range m.Marks {
		s.mark(c)
	}
	s.printf("</g>\n")
}

func (s *svgWriter) text(m Text) {
	if m.Halo {
		s.poly(Poly{Points: textBox(&m).corners(), Closed: true, Fill: White})
	}
	s.printf(`<text x="%s" y="%s" font-size="%s"`, num(m.At.X), num(m.At.Y), num(m.Size/capHeight))
	switch m.Align {
	case Middle:
		s.printf(` text-anchor="middle"`)
	case Right:
		s.printf(` text-anchor="end"`)
	}
	if m.Turn != 0 {
		s.printf(` transform="rotate(%s %s %s)"`, num(-m.Turn), num(m.At.X), num(m.At.Y))
	}
	if m.Bold {
		s.printf(` font-weight="bold"`)
	}
	if m.Ink != Black {
		s.printf(` fill="%s"`, inks[m.Ink])
	}
	s.printf(">%s</text>\n", escape(m.Text))
}

// stroke is the attributes of a pen and a filling.
func stroke(p Pen, fill Ink) string {
	var b strings.Builder
	fmt.Fprintf(&b, ` fill="%s"`, inks[fill])
	if p.Width > 0 {
		fmt.Fprintf(&b, ` stroke="%s" stroke-width="%s"`, inks[p.Ink], num(p.Width))
		if dashes[p.Dash] != nil {
			fmt.Fprintf(&b, ` stroke-dasharray="%s"`, dashText(p.Dash, p.Width))
		}
	}
	return b.String()
}

// dashText is the lengths of a dashed line of a width.
func dashText(d Dash, width float64) string {
	var list []string
	for _, v := range dashes[d] {
		list = append(list, num(v*width))
	}
	return strings.Join(list, " ")
}

// escape makes a text of a model fit for XML.
func escape(s string) string {
	return xmlEscaper.Replace(finding.Plain(s))
}

var xmlEscaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// num is a length on paper: 0.01 mm is finer than any printer.
func num(v float64) string { return number(v, 100) }

func num4(v float64) string { return number(v, 1e4) }

func number(v, scale float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(v*scale)/scale+0, 'f', -1, 64)
}

// finite reports whether a point can be drawn.
func finite(p geom.Vec2) bool {
	s := p.X + p.Y
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
