package sheet

import (
	"fmt"
	"strings"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
	"embedcheck/internal/pdf"
)

// Heights of capitals, in mm (ISO 3098).
const (
	small = 2.5
	large = 3.5
	huge  = 5.0
)

// page is one page in the making. Every text of a model passes through text or
// put, which replace what cannot be printed.
type page struct {
	*drawing.Canvas
	b      *book
	title  string
	room   drawing.Rect // for content
	groups []drawing.Mark
	strip  bool // the full title block is on it
}

const (
	stripH = 50.0 // title block of the first page
	footH  = 7.0  // foot of the others
	blockW = 128.0
)

func (b *book) newPage(title string, first bool) *page {
	p := &page{Canvas: &drawing.Canvas{}, b: b, title: title, strip: first}
	p.room = b.paper.frame()
	if first {
		p.room.Max.Y -= stripH
	} else {
		p.room.Max.Y -= footH
	}
	b.pages = append(b.pages, p)
	return p
}

func at(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

// put writes a text, cut to a width; its return is the base line of the next.
func (p *page) put(x, y float64, s string, size float64, bold bool, width float64) float64 {
	s = drawing.Fit(pdf.Printable(s), size, bold, width)
	p.Write(drawing.Text{At: at(x, y), Text: s, Size: size, Bold: bold})
	return y + 1.7*size
}

// paragraph writes a text in lines of a width, at most n of them, and gives the
// base line of the next.
func (p *page) paragraph(x, y float64, s string, size float64, bold bool, width float64, n int) float64 {
	for _, l := range drawing.Wrap(pdf.Printable(s), size, bold, width, n) {
		p.Write(drawing.Text{At: at(x, y), Text: l, Size: size, Bold: bold})
		y += 1.6 * size
	}
	return y
}

// finish adds the frame and the titles.
func (p *page) finish(n, of int) *drawing.Drawing {
	f := p.b.paper.frame()
	p.Frame(f, drawing.Pen{Width: drawing.Thick})
	if p.strip {
		p.titleBlock(n, of)
	} else {
		p.foot(n, of)
	}
	title := fmt.Sprintf("Setting-out sheet %s, page %d of %d: %s", p.b.u.Mark, n, of, p.title)
	return &drawing.Drawing{Width: p.b.paper.W, Height: p.b.paper.H, Title: pdf.Printable(title), Marks: append(p.groups, p.Marks()...), Dims: p.Dims()}
}

// titleBlock is the lower right corner of the first page.
func (p *page) titleBlock(n, of int) {
	f := p.b.paper.frame()
	r := drawing.Rect{Min: at(f.Max.X-blockW, f.Max.Y-stripH), Max: f.Max}
	thin := drawing.Pen{Width: drawing.Thin}
	p.Frame(r, drawing.Pen{Width: drawing.Mid})
	p.Line(at(f.Min.X, r.Min.Y), at(r.Min.X, r.Min.Y), drawing.Pen{Width: drawing.Mid})
	u := p.b.u
	y := p.put(r.Min.X+3, r.Min.Y+7.5, u.Mark, huge, true, blockW-56)
	p.put(r.Max.X-50, r.Min.Y+7.5, "SETTING-OUT SHEET", small, true, 49)
	rows := [][2]string{
		{"Element", strings.TrimPrefix(describe(&u.Host.Ref)+", "+u.Host.Class, ", ")},
		{"Form", fmt.Sprintf("%s x %s x %s mm", mm(u.Size.X), mm(u.Size.Y), mm(u.Size.Z))},
		{"Model", p.b.source()},
		{"Rule set", p.b.ruleset()},
		{"Revision", orElse(p.b.k.o.Revision, "none stated: compare the model's hash")},
		{"Units", "mm unless stated. Do not scale."},
	}
	y--
	for _, row := range rows {
		p.Line(at(r.Min.X, y-3.9), at(r.Max.X, y-3.9), thin)
		p.put(r.Min.X+3, y, row[0], small, false, 18)
		p.put(r.Min.X+22, y, row[1], small, row[0] == "Revision", blockW-25)
		y += 5.4
	}
	p.Line(at(r.Min.X, y-3.9), at(r.Max.X, y-3.9), thin)
	p.put(r.Min.X+3, y, fmt.Sprintf("Page %d of %d: %s", n, of, p.title), small, true, blockW-6)
}

// foot is the strip of titles on all other pages.
func (p *page) foot(n, of int) {
	f := p.b.paper.frame()
	y := f.Max.Y - footH
	p.Line(at(f.Min.X, y), at(f.Max.X, y), drawing.Pen{Width: drawing.Mid})
	left := fmt.Sprintf("%s   page %d of %d: %s", p.b.u.Mark, n, of, p.title)
	right := "revision " + orElse(p.b.k.o.Revision, "none stated") + ", " + p.b.source()
	p.put(f.Min.X+3, y+4.8, left, small, true, f.W()*0.4)
	right = drawing.Fit(pdf.Printable(right), small, false, f.W()*0.57)
	p.Write(drawing.Text{At: at(f.Max.X-3, y+4.8), Text: right, Size: small, Align: drawing.Right})
}

// source names the model that the host comes from, with what tells its file from
// an older one.
func (b *book) source() string {
	i := b.u.Host.Source
	if i < 0 || i >= len(b.k.m.Sources) {
		return "unknown"
	}
	s := b.k.m.Sources[i]
	return fmt.Sprintf("%s, sha256 %.12s", s.Name, s.SHA256)
}

func (b *book) ruleset() string {
	r := b.k.run.Ruleset
	if r.SHA256 == "" {
		return r.Name
	}
	return fmt.Sprintf("%s, sha256 %.12s", r.Name, r.SHA256)
}

func orElse(s, other string) string {
	if strings.TrimSpace(s) == "" {
		return other
	}
	return s
}
