package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/drawing"
	"embedcheck/internal/setout"
)

// cell is a detail: of the sets that are alike the first is drawn.
type cell struct {
	sets []*setout.Set
	wide bool // it has a view of the face besides the section
}

// details draws each kind of set enlarged.
func (b *book) details() {
	var cells []*cell
	alike := map[string]*cell{}
	for _, s := range b.u.Sets {
		if len(s.Anchors)+len(s.Plates)+len(s.Bodies) == 0 {
			continue
		}
		key := signature(s)
		c := alike[key]
		if c == nil {
			c = &cell{wide: len(s.Anchors) > 1 || len(s.Plates) > 0 || len(s.Bodies) > 1}
			alike[key] = c
			cells = append(cells, c)
		}
		c.sets = append(c.sets, s)
	}
	slices.SortStableFunc(cells, func(a, b *cell) int { // wide ones first
		if a.wide == b.wide {
			return 0
		}
		return cmp.Or(map[bool]int{true: -1, false: 1}[a.wide])
	})
	b.placeCells(cells)
}

// placeCells puts details on pages of two rows; narrow ones take half a row.
func (b *book) placeCells(cells []*cell) {
	var rows [][]*cell
	for _, c := range cells {
		if n := len(rows) - 1; !c.wide && n >= 0 && len(rows[n]) == 1 && !rows[n][0].wide {
			rows[n] = append(rows[n], c)
		} else {
			rows = append(rows, []*cell{c})
		}
	}
	for len(rows) > 0 {
		p := b.newPage("details", false)
		part := rows[:min(2, len(rows))]
		rows = rows[len(part):]
		r := p.room
		h := r.H() / float64(len(part))
		for k, row := range part {
			w := r.W() / float64(len(row))
			for i, c := range row {
				b.detail(p, c, drawing.RectAt(r.Min.X+float64(i)*w, r.Min.Y+float64(k)*h, w, h))
			}
		}
	}
}

// signature is the same for sets that look the same enlarged.
func signature(s *setout.Set) string {
	var t strings.Builder
	fmt.Fprintf(&t, "%v %s", s.Face, what(s))
	for i := range s.Dims {
		d := &s.Dims[i]
		if d.Quantity != setout.Place {
			name := strings.TrimPrefix(d.What, string(d.Quantity))
			if len(d.Anchors) == 0 {
				name = ""
			}
			fmt.Fprintf(&t, "|%s%s=%s", d.Quantity, name, mm(d.MM))
		}
	}
	for i := range s.Anchors {
		fmt.Fprintf(&t, "|%s", hookWay(&s.Anchors[i]))
	}
	return t.String()
}

// hookWay is where a hook points, in the model's axes.
func hookWay(a *setout.Anchor) string {
	if len(a.Hook) < 2 {
		return ""
	}
	d := a.Hook[len(a.Hook)-1].Sub(a.Hook[0])
	d = d.Sub(a.Dir.Mul(d.Dot(a.Dir))).Unit()
	return fmt.Sprintf("%.1f %.1f %.1f", d.X+0, d.Y+0, d.Z+0)
}

// detail draws one cell: its heading, the view of the face and a section.
func (b *book) detail(p *page, c *cell, f drawing.Rect) {
	s := c.sets[0]
	p.Frame(f, drawing.Pen{Width: drawing.Thin})
	var marks []string
	for _, o := range c.sets {
		marks = append(marks, o.Mark)
	}
	p.put(f.Min.X+3, f.Min.Y+5.5, strings.Join(marks, ", ")+": "+what(s), large, true, f.W()-6)
	p.put(f.Min.X+3, f.Min.Y+9.8, b.where(c), small, false, f.W()-6)
	body := f
	body.Min.Y += headH
	if !c.wide {
		b.setSection(p, s, body)
		return
	}
	face := body
	face.Max.X = face.Min.X + 0.55*body.W()
	body.Min.X = face.Max.X
	b.faceView(p, s, face)
	b.setSection(p, s, body)
}

// where says where the first of a detail is.
func (b *book) where(c *cell) string {
	s := c.sets[0]
	t := "In the " + b.faceText(s.Face)
	if len(c.sets) > 1 {
		return t + fmt.Sprintf("; drawn is %s, the others are the same; places in the table of marks.", s.Mark)
	}
	var at []string
	name := "no. 1"
	for i := range s.Dims {
		d := &s.Dims[i]
		if d.Quantity != setout.Place || len(s.Plates) > 0 && len(d.Anchors) > 0 || len(d.Anchors) > 0 && d.Anchors[0] != 1 {
			continue
		}
		if strings.HasPrefix(d.What, "plate") {
			name = "near side of the plate"
		} else if len(d.Anchors) == 0 {
			name = "its middle"
		}
		at = append(at, fmt.Sprintf("%s %s", mm(d.MM), d.Axis.From()))
		if len(at) == 3 {
			break
		}
	}
	if len(at) == 0 {
		return t
	}
	return t + "; " + name + ": " + strings.Join(at, ", ") + "."
}
