// Package pdf writes drawings as PDF: vector lines, and text in subset-embedded
// fonts that a reader can search and copy. The same drawings give the same bytes.
package pdf

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
)

// Document is what a reader shows about the file.
type Document struct {
	Title string
	Date  time.Time // stands in the file as its date
}

const face = "go"

// Write writes each drawing as a page of its size.
func Write(w io.Writer, d Document, pages []*drawing.Drawing) error {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetCreationDate(d.Date)
	f.SetModificationDate(d.Date)
	f.SetCatalogSort(true)
	f.SetTitle(Printable(d.Title), true)
	f.SetCreator("embedcheck", true)
	f.AddUTF8FontFromBytes(face, "", goregular.TTF)
	f.AddUTF8FontFromBytes(face, "B", gobold.TTF)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineCapStyle("butt")
	for _, page := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: page.Width, Ht: page.Height})
		p := printer{f: f}
		for _, m := range page.Marks {
			p.mark(m)
		}
	}
	if err := f.Output(w); err != nil {
		return fmt.Errorf("the PDF could not be made: %w", err)
	}
	return nil
}

// printer draws the marks of one page. It sets a pen only when it changes.
type printer struct {
	f   *fpdf.Fpdf
	pen drawing.Pen
	set bool
}

func (p *printer) mark(m drawing.Mark) {
	switch m := m.(type) {
	case drawing.Line:
		p.use(m.Pen)
		p.f.Line(m.A.X, m.A.Y, m.B.X, m.B.Y)
	case drawing.Poly:
		p.poly(m)
	case drawing.Circle:
		if how := p.style(m.Pen, m.Fill); how != "" {
			p.f.Circle(m.C.X, m.C.Y, m.R, how)
		}
	case drawing.Text:
		p.text(m)
	case drawing.Group:
		for _, c := range m.Marks {
			p.mark(c)
		}
	}
}

func (p *printer) poly(m drawing.Poly) {
	how := p.style(m.Pen, m.Fill)
	if len(m.Points) < 2 || how == "" {
		return
	}
	for i, q := range m.Points {
		if i == 0 {
			p.f.MoveTo(q.X, q.Y)
		} else {
			p.f.LineTo(q.X, q.Y)
		}
	}
	if m.Closed {
		p.f.ClosePath()
	}
	p.f.DrawPath(how)
}

// style sets pen and filling and says how a shape is drawn; "" when it is not.
func (p *printer) style(pen drawing.Pen, fill drawing.Ink) string {
	how := ""
	if fill != drawing.NoInk {
		r, g, b := rgb(fill)
		p.f.SetFillColor(r, g, b)
		how = "F"
	}
	if pen.Width > 0 {
		p.use(pen)
		how += "D"
	}
	return how
}

func (p *printer) use(pen drawing.Pen) {
	if p.set && p.pen == pen {
		return
	}
	p.pen, p.set = pen, true
	r, g, b := rgb(pen.Ink)
	p.f.SetDrawColor(r, g, b)
	p.f.SetLineWidth(pen.Width)
	p.f.SetDashPattern(pen.Dash.Pattern(pen.Width), 0)
}

// rgb is an ink on paper. What misses its limit is black as all the rest: sheets
// are copied in black and white.
func rgb(i drawing.Ink) (r, g, b int) {
	switch i {
	case drawing.Grey:
		return 0x60, 0x60, 0x60
	case drawing.White:
		return 255, 255, 255
	}
	return 0, 0, 0
}

func (p *printer) text(m drawing.Text) {
	s := Printable(m.Text)
	if s == "" {
		return
	}
	style := ""
	if m.Bold {
		style = "B"
	}
	const pointsPerMM = 72 / 25.4
	p.f.SetFont(face, style, m.Size/drawing.CapHeight*pointsPerMM)
	at := m.At
	width := p.f.GetStringWidth(s)
	if m.Halo {
		p.poly(drawing.Poly{Points: drawing.TextCorners(m), Closed: true, Fill: drawing.White})
	}
	shift := 0.0
	switch m.Align {
	case drawing.Middle:
		shift = -width / 2
	case drawing.Right:
		shift = -width
	}
	r, g, b := rgb(m.Ink)
	p.f.SetTextColor(r, g, b)
	if m.Turn == 0 {
		p.f.Text(at.X+shift, at.Y, s)
		return
	}
	p.turned(m.Turn, at, func() { p.f.Text(at.X+shift, at.Y, s) })
}

// turned draws something turned counter-clockwise about a point.
func (p *printer) turned(degrees float64, about geom.Vec2, draw func()) {
	p.f.TransformBegin()
	p.f.TransformRotate(degrees, about.X, about.Y)
	draw()
	p.f.TransformEnd()
}
