package check

import (
	"cmp"
	"path/filepath"
	"slices"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/report"
	"embedcheck/internal/shape"
)

// Shapes counts, for each kind of representation item in the models, how many
// bodies were read as they are, read with facets for what is curved, or not
// read and why. Bodies of elements, of reinforcement and of openings count, a
// mapped one once for each place.
func Shapes(paths []string, o Options) (*report.Shapes, error) {
	files, err := open(paths, o.workers())
	if err != nil {
		return nil, err
	}
	tally := shapeTally{}
	for _, f := range files {
		tally.file(f, o.workers())
	}
	return tally.sorted(), nil
}

type shapeTally map[string]*report.ShapeRow

func (t shapeTally) row(item string) *report.ShapeRow {
	if t[item] == nil {
		t[item] = &report.ShapeRow{Item: item}
	}
	return t[item]
}

func (t shapeTally) file(f *ifcread.File, workers int) {
	m := element.Read(f, workers)
	name := filepath.Base(f.Name())
	for _, e := range m.Elements {
		t.add(e.Shape, name)
		for _, o := range e.Openings {
			if o.Shape != nil {
				t.add(o.Shape, name)
			}
		}
	}
	for _, b := range m.Bars {
		s, _ := m.BarShape(b)
		t.add(s, name)
	}
}

func (t shapeTally) add(s *shape.Shape, file string) {
	for i := range s.Parts {
		p := &s.Parts[i]
		r := t.row(p.Solid.ItemType)
		switch faceted, err := p.Solid.Faceted(); {
		case err != nil:
			r.Unread(file, uint64(p.Item.ID()), err.Error())
		case faceted:
			r.Approximated++
		default:
			r.Exact++
		}
	}
	for _, u := range s.Unread {
		t.row(u.ItemType).Unread(file, uint64(u.Item.ID()), u.Why)
	}
}

func (t shapeTally) sorted() *report.Shapes {
	out := &report.Shapes{ChordMM: shape.ChordMM}
	for _, r := range t {
		out.Rows = append(out.Rows, *r)
	}
	slices.SortFunc(out.Rows, func(a, b report.ShapeRow) int { return cmp.Compare(a.Item, b.Item) })
	return out
}
