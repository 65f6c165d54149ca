package sheet

import (
	"embedcheck/internal/drawing"
)

// column is one of a table: its heading and its share of the width.
type column struct {
	title string
	share float64
	right bool // figures stand right
}

// row is one line of a table. A heading spans all columns.
type row struct {
	cells   []string
	heading string
	box     int  // the first column that is left empty, to write in; 0 for none
	bold    bool // what must not be missed
}

const rowH = 5.6

// table writes rows on as many pages as they take, side by side in columns of
// pages where the paper is wide.
func (b *book) table(title string, cols []column, rows []row, across int) {
	for len(rows) > 0 {
		p := b.newPage(title, false)
		for i := range across {
			w := (p.room.W() - 4) / float64(across)
			r := drawing.RectAt(p.room.Min.X+2+float64(i)*w, p.room.Min.Y+2, w-2, p.room.H()-4)
			rows = p.rows(r, cols, rows)
		}
	}
}

// rows writes as many rows as have room, and gives the rest. A heading does not
// stand alone at the end.
func (p *page) rows(r drawing.Rect, cols []column, rows []row) []row {
	if len(rows) == 0 {
		return nil
	}
	thin := drawing.Pen{Width: drawing.Thin}
	y := r.Min.Y
	head := row{bold: true}
	for _, c := range cols {
		head.cells = append(head.cells, c.title)
	}
	y = p.row(r, y, cols, head)
	for len(rows) > 0 && y+rowH <= r.Max.Y {
		if rows[0].heading != "" && y+2*rowH > r.Max.Y {
			break
		}
		y = p.row(r, y, cols, rows[0])
		rows = rows[1:]
	}
	p.Line(at(r.Min.X, y), at(r.Max.X, y), thin)
	return rows
}

func (p *page) row(r drawing.Rect, y float64, cols []column, w row) float64 {
	thin := drawing.Pen{Width: drawing.Thin}
	p.Line(at(r.Min.X, y), at(r.Max.X, y), thin)
	if w.heading != "" {
		p.put(r.Min.X+1, y+4.1, w.heading, small, true, r.W()-2)
		return y + rowH
	}
	total := 0.0
	for _, c := range cols {
		total += c.share
	}
	x := r.Min.X
	for i, c := range cols {
		width := r.W() * c.share / total
		if i < len(w.cells) {
			p.cell(x, y, width, w.cells[i], c.right, w.bold)
		}
		if w.box > 0 && i >= w.box {
			p.Frame(drawing.RectAt(x+0.7, y+0.6, width-1.4, rowH-1.2), drawing.Pen{Width: drawing.Mid})
		}
		x += width
	}
	return y + rowH
}

func (p *page) cell(x, y, width float64, s string, right, bold bool) {
	if !right {
		p.put(x+1, y+4.1, s, small, bold, width-1.6)
		return
	}
	s = drawing.Fit(s, small, bold, width-1.6)
	p.Write(drawing.Text{At: at(x+width-1, y+4.1), Text: s, Size: small, Bold: bold, Align: drawing.Right})
}
