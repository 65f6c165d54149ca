package schedule

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
	"embedcheck/internal/model"
)

// row are the cells of a line in the order.
func (l *Line) row() []grid.Cell {
	items := l.first.items
	row := []grid.Cell{grid.Int(l.Number), grid.Int(l.Count()), grid.Str(l.What()), grid.Str(plates(items))}
	row = append(row, l.anchors()...)
	f := fittingsOf(items)
	for _, of := range [][embedded + 1]int{f.nuts, f.washers} {
		for _, n := range of {
			row = append(row, count(n))
		}
	}
	row = append(row, l.stated(model.FinishDatum), l.stated(model.GradeDatum))
	m := massOf(items)
	bars := grid.Cell{}
	if kg, ok := barsByTable(items); ok {
		bars = number(kg)
	}
	row = append(row, m.cell(1), m.cell(l.Count()), m.from(), bars)
	return append(row, grid.Str(l.marks()), grid.Str(l.note()))
}

// cell is the mass of n units; empty for what is not of steel.
func (m mass) cell(n int) grid.Cell {
	switch {
	case m.open != "":
		return grid.Missing("not known")
	case !m.steel:
		return grid.Cell{}
	}
	return number(m.kg * float64(n))
}

func (m mass) from() grid.Cell {
	switch {
	case m.open != "":
		return grid.Missing(m.open)
	case !m.steel:
		return grid.Str("not of steel")
	}
	return grid.Str("geometry")
}

func count(n int) grid.Cell {
	if n == 0 {
		return grid.Cell{}
	}
	return grid.Int(n)
}

// anchors are the cells from the number of anchors to the thread.
func (l *Line) anchors() []grid.Cell {
	list := anchorsOf(l.first.items)
	n := 0
	for _, c := range list {
		n += c.n
	}
	return []grid.Cell{
		count(n), l.size(),
		figure(list, func(d anchorData) float64 { return d.length }), figure(list, func(d anchorData) float64 { return d.developed }),
		grid.Str(each(list, func(d anchorData) string { return d.end })), figure(list, func(d anchorData) float64 { return d.thread }),
	}
}

// size is that of the anchors, or of the item where it has none.
func (l *Line) size() grid.Cell {
	list := anchorsOf(l.first.items)
	measured := each(list, func(d anchorData) string { return d.size })
	switch {
	case slices.ContainsFunc(l.first.items, func(it *model.Item) bool { return it.Lacks(model.SizeDatum) }):
		return grid.Missing(notStated + ", measured " + measured)
	case len(list) == 0:
		return grid.Str(sizeWithoutAxis(l.first.items[0]))
	}
	return grid.Str(measured)
}

// sizeWithoutAxis is the size of an item without anchors: of a tube or bar its
// diameters and length, else what was recognised.
func sizeWithoutAxis(it *model.Item) string {
	if len(it.Bodies) != 1 || it.Bodies[0].Rod == nil {
		return it.Size
	}
	r := it.Bodies[0].Rod
	s := "dia " + mm(2*r.Radius) + " x " + mm(r.Length())
	if r.Inner > 0 {
		s += ", hole " + mm(2*r.Inner)
	}
	return s
}

// each is a text of the anchors, once when all agree.
func each(list []counted, text func(anchorData) string) string {
	var out []string
	for _, c := range list {
		if s := text(c.anchorData); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return strings.Join(out, "; ")
}

// figure is a length of the anchors: a number when all agree.
func figure(list []counted, of func(anchorData) float64) grid.Cell {
	texts := each(list, func(d anchorData) string { return mm(of(d)) })
	switch v, err := strconv.ParseFloat(texts, 64); {
	case err != nil:
		return grid.Str(texts)
	case v == 0:
		return grid.Cell{}
	default:
		return number(v)
	}
}

// plates are the sizes of plates and templates.
func plates(items []*model.Item) string {
	var out []string
	for _, it := range items {
		if it.Kind == model.Template || it.Kind == model.Plate {
			out = append(out, finding.Plain(it.Size))
		}
	}
	return strings.Join(out, "; ")
}

// stated is a datum of the items it is wanted of, and of the others where they
// state it.
func (l *Line) stated(d model.Datum) grid.Cell {
	var out []string
	lacks := false
	for _, it := range l.first.items {
		lacks = lacks || it.Lacks(d)
		s := gradeOf(it)
		if d == model.FinishDatum {
			s = finding.Plain(it.Stated.Finish)
		}
		if s != "" && !it.Twin && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	if lacks {
		return grid.Missing(strings.Join(append([]string{notStated}, out...), "; "))
	}
	return grid.Str(strings.Join(out, "; "))
}

// marks are those of the units, each once with how many there are of it.
func (l *Line) marks() string {
	n := map[string]int{}
	var order []string
	for _, u := range l.Units {
		if n[u.Mark] == 0 {
			order = append(order, u.Mark)
		}
		n[u.Mark]++
	}
	for i, m := range order {
		if n[m] > 1 {
			order[i] = fmt.Sprintf("%s (%d)", m, n[m])
		}
	}
	return strings.Join(order, ", ")
}

func (l *Line) note() string {
	if l.MirrorOf > 0 {
		return fmt.Sprintf("mirror image of line %d", l.MirrorOf)
	}
	return ""
}
