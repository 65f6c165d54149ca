package sheet

import (
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/setout"
)

// schedule lists every anchor, plate and box with its place and its depths.
func (b *book) schedule() {
	cols := []column{
		{"mark", 2.6, false}, {"no.", 0.6, true}, {"in", 1.7, false}, {"what", 3.4, false},
		{"x", 0.9, true}, {"y", 0.9, true}, {"above form", 1.2, true},
		{"embedment", 1.2, true}, {"projection", 1.2, true}, {"cover behind", 1.3, true}, {"flush", 0.8, true},
	}
	var rows []row
	for _, s := range b.u.Sets {
		rows = append(rows, b.scheduleOf(s)...)
	}
	b.table("schedule of marks, mm from the datum", cols, rows, 1)
}

func (b *book) scheduleOf(s *setout.Set) []row {
	var rows []row
	one := func(mark, no, text string, dims []*setout.Dim) {
		c := []string{mark, no, b.faceText(s.Face), text, "", "", "", "", "", "", ""}
		for _, d := range dims {
			if i := scheduleColumn(d); i > 0 && c[i] == "" {
				c[i] = scheduleText(d)
			}
		}
		rows = append(rows, row{cells: c})
	}
	for i := range s.Anchors {
		a := &s.Anchors[i]
		one(a.Mark, fmt.Sprint(a.Number), textOf(a.Item.Size, a.Item.Kind.String()), dimsOf(s, func(d *setout.Dim) bool {
			return slices.Contains(d.Anchors, a.Number) && d.Quantity != setout.Spacing && d.Quantity != setout.Diagonal
		}))
	}
	for i := range s.Plates {
		p := &s.Plates[i]
		one(p.Mark, "", textOf(p.Size, "plate"), dimsOf(s, func(d *setout.Dim) bool {
			return len(d.Anchors) == 0 && slices.Contains(d.Items, p.Item)
		}))
	}
	for i := range s.Bodies {
		o := &s.Bodies[i]
		one(o.Mark, "", textOf(o.Size, o.Kind.String()), dimsOf(s, func(d *setout.Dim) bool {
			return len(d.Anchors) == 0 && slices.Contains(d.Items, o.Item)
		}))
	}
	return rows
}

func textOf(size, kind string) string {
	if strings.TrimSpace(size) == "" {
		return kind
	}
	if strings.HasPrefix(size, kind) {
		return size
	}
	return kind + " " + size
}

func dimsOf(s *setout.Set, take func(*setout.Dim) bool) []*setout.Dim {
	var out []*setout.Dim
	for i := range s.Dims {
		if take(&s.Dims[i]) {
			out = append(out, &s.Dims[i])
		}
	}
	return out
}

// scheduleColumn is the column that a dimension stands in; 0 for none.
func scheduleColumn(d *setout.Dim) int {
	switch d.Quantity {
	case setout.Place:
		return 4 + int(d.Axis)
	case setout.Embedment:
		return 7
	case setout.Projection, setout.Sunk:
		return 8
	case setout.BackCover:
		return 9
	case setout.Flush:
		return 10
	}
	return 0
}

func scheduleText(d *setout.Dim) string {
	if d.Quantity == setout.Sunk {
		return "sunk " + mm(d.MM)
	}
	return mm(d.MM)
}
