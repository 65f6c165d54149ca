package sheet

import (
	"embedcheck/internal/drawing"
)

// column is one of a table.
type column struct {
	head string
	w    float64 // share of the width
}

// row is one of a table; a heading runs over all columns.
type row struct {
	cells   []string
	heading bool
}

const (
	rowH  = 5.2
	headW = 5.8
)

// table writes rows into columns side by side, on as many pages as it takes.
func (b *book) table(title, note string, cols []column, rows []row, across int) {
	for len(rows) > 0 {
		p := b.newPage(title, false)
		r := p.room
		y := p.put(r.Min.X+3, r.Min.Y+6, title, large, true, r.W()-6)
		y = p.paragraph(r.Min.X+3, y, note, small, false, r.W()-6, 2)
		w := (r.W() - 6 - 4*float64(across-1)) / float64(across)
		n := max(1, int((r.Max.Y-2-y-headW)/rowH))
		for k := range across {
			if len(rows) == 0 {
				break
			}
			part := rows[:min(n, len(rows))]
			if last := len(part) - 1; part[last].heading && last > 0 && len(rows) > len(part) {
				part = part[:last] // no heading at the foot
			}
			rows = rows[len(part):]
			p.rows(drawing.RectAt(r.Min.X+3+float64(k)*(w+4), y-1, w, 0), cols, part)
		}
	}
}

// rows draws a part of a table with its head.
func (p *page) rows(at0 drawing.Rect, cols []column, rows []row) {
	thin, mid := drawing.Pen{Width: drawing.Thin}, drawing.Pen{Width: drawing.Mid}
	sum := 0.0
	for _, c := range cols {
		sum += c.w
	}
	x0, x1, y0 := at0.Min.X, at0.Max.X, at0.Min.Y
	scale := (x1 - x0) / sum
	bottom := y0 + headW + rowH*float64(len(rows))
	p.Frame(drawing.Rect{Min: at(x0, y0), Max: at(x1, bottom)}, mid)
	p.Line(at(x0, y0+headW), at(x1, y0+headW), mid)
	x := x0
	for i, c := range cols {
		p.put(x+1, y0+headW-1.7, c.head, small, true, c.w*scale-1.5)
		for k, r := range rows {
			top := y0 + headW + rowH*float64(k)
			if r.heading {
				if i == 0 {
					p.put(x+1, top+rowH-1.5, r.cells[0], small, true, x1-x0-2)
				}
				continue
			}
			if i > 0 {
				p.Line(at(x, top), at(x, top+rowH), thin)
			}
			if i < len(r.cells) {
				p.put(x+1, top+rowH-1.5, r.cells[i], small, false, c.w*scale-1.5)
			}
		}
		x += c.w * scale
	}
	for k := 1; k < len(rows); k++ {
		p.Line(at(x0, y0+headW+rowH*float64(k)), at(x1, y0+headW+rowH*float64(k)), thin)
	}
}
