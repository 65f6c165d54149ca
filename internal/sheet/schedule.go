package sheet

import (
	"strings"

	"embedcheck/internal/model"
	"embedcheck/internal/setout"
)

// schedule lists every anchor, plate and other item with where it is.
func (b *book) schedule() {
	cols := []column{
		{"mark", 34}, {"item", 40}, {"in", 34}, {"x", 12}, {"y", 12}, {"above form", 17}, {"stands out", 18}, {"embedment", 20}, {"concrete behind", 24}, {"size", 30}, {"grade, finish", 32},
	}
	var rows []row
	for _, s := range b.u.Sets {
		marks := b.marks(s)
		if len(marks) > 1 {
			rows = append(rows, row{heading: true, cells: []string{s.Mark + ": " + what(s)}})
		}
		rows = append(rows, marks...)
	}
	b.table("Table of marks",
		"mm. x from the left, y from the lower side of the form as seen from above. Stands out: thread's end over the face, negative where it is sunk; of plates and others the outer side over the face. "+
			"Embedment: face to the top of hook or head.", cols, rows, 1)
}

// marks are the rows of one set.
func (b *book) marks(s *setout.Set) []row {
	var out []row
	face := b.faceText(s.Face)
	for i := range s.Plates {
		p := &s.Plates[i]
		name := p.Mark
		v := figures{s: s, item: p.Item}
		out = append(out, row{cells: []string{name, p.Size, face, v.place(setout.X), v.place(setout.Y), v.place(setout.Z), v.of(setout.Flush), "", "", v.size(), v.stated()}})
	}
	for i := range s.Anchors {
		a := &s.Anchors[i]
		v := figures{s: s, item: a.Item, number: a.Number}
		stands := v.of(setout.Projection)
		if sunk := v.of(setout.Sunk); sunk != "" {
			stands = "-" + sunk
		}
		name := a.Mark
		if name != s.Mark && !strings.HasSuffix(name, "no. "+text(a.Number)) && len(s.Anchors) > 1 {
			name += " (no. " + text(a.Number) + ")"
		}
		out = append(out, row{cells: []string{
			name, anchorText(a), face, v.place(setout.X), v.place(setout.Y), v.place(setout.Z), stands,
			v.of(setout.Embedment), v.of(setout.BackCover), "length " + v.of(setout.Length), v.stated(),
		}})
	}
	for i := range s.Bodies {
		p := &s.Bodies[i]
		v := figures{s: s, item: p.Item}
		out = append(out, row{cells: []string{p.Mark, p.Size, face, v.place(setout.X), v.place(setout.Y), v.place(setout.Z), v.of(setout.Flush), "", "", v.size(), v.stated()}})
	}
	if t := s.Template; t != nil {
		v := figures{s: s, item: t}
		out = append(out, row{cells: []string{"template", t.Size, "stand-off " + v.of(setout.StandOff), "", "", "", "", "", "", v.size(), ""}})
	}
	return out
}

// figures looks up the dimensions of one item of a set, or of one anchor.
type figures struct {
	s      *setout.Set
	item   *model.Item
	number int // of the anchor; 0 for the item itself
}

func (f figures) holds(d *setout.Dim) bool {
	if f.number == 0 {
		return len(d.Anchors) == 0 && len(d.Items) == 1 && d.Items[0] == f.item
	}
	return len(d.Anchors) == 1 && d.Anchors[0] == f.number
}

func (f figures) of(q setout.Quantity) string {
	for i := range f.s.Dims {
		if d := &f.s.Dims[i]; d.Quantity == q && f.holds(d) {
			return mm(d.MM)
		}
	}
	return ""
}

func (f figures) place(a setout.Axis) string {
	for i := range f.s.Dims {
		if d := &f.s.Dims[i]; d.Quantity == setout.Place && d.Axis == a && f.holds(d) {
			return mm(d.MM)
		}
	}
	return ""
}

// size is the extents of a plate or another item.
func (f figures) size() string {
	var out []string
	for i := range f.s.Dims {
		if d := &f.s.Dims[i]; d.Quantity == setout.Extent && f.holds(d) {
			out = append(out, mm(d.MM))
		}
	}
	return strings.Join(out, " x ")
}

func (f figures) stated() string {
	st := &f.item.Stated
	return strings.Trim(st.Grade+", "+st.Finish, ", ")
}

// anchorText is what an anchor is: of a plate its diameter, else the item's size.
func anchorText(a *setout.Anchor) string {
	if len(a.Item.Outline) > 0 && a.Diameter > 0 {
		return "anchor dia " + mm(a.Diameter)
	}
	return a.Item.Size
}
