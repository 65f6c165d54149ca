package element_test

import (
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/shape"
)

// here is a product as this project reads it.
type here struct {
	guid, class, name string
	parts             int
	box               geom.Box
	volume            float64
	curved            bool     // it has round faces, which both sides facet
	of                []string // the types of its items and their profiles
	why               string   // it was not read, or not closed; "" when it was
}

// readHere reads the elements and bars of a model, openings taken out.
func readHere(t *testing.T, path string) []here {
	t.Helper()
	f, err := ifcread.Open(path, ifcread.Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := element.Read(f, 2)
	var out []here
	for _, e := range m.Elements {
		h := here{guid: e.GlobalID, class: e.Class, name: e.Name, box: geom.EmptyBox, why: e.Problem}
		var less []*geom.Mesh
		for _, o := range e.Openings {
			inv, _ := e.Place.Inverse()
			less = append(less, h.meshes(o.Shape, inv.Mul(o.Place))...)
		}
		h.take(e.Shape, e.Place, less)
		out = append(out, h)
	}
	for _, b := range m.Bars {
		if b.Attr("Representation").IsNull() {
			continue
		}
		s, at := m.BarShape(b)
		guid, _ := b.Attr("GlobalId").Str()
		name, _ := b.Attr("Name").Str()
		h := here{guid: guid, class: b.Name(), name: name, box: geom.EmptyBox}
		h.take(s, at, nil)
		out = append(out, h)
	}
	return out
}

// take adds the parts of a shape, less what is cut out of it.
func (h *here) take(s *shape.Shape, at geom.Affine, less []*geom.Mesh) {
	for _, m := range h.meshes(s, geom.Identity) {
		if len(less) > 0 {
			m = geom.Subtract(m, less...)
		}
		if c := m.Closed(); !c.OK {
			h.why = c.Why
		}
		h.parts++
		h.volume += m.Volume()
		for _, v := range m.Verts {
			h.box = h.box.Add(at.Apply(v))
		}
	}
}

// meshes are the bodies of a shape in other coordinates.
func (h *here) meshes(s *shape.Shape, at geom.Affine) []*geom.Mesh {
	for _, u := range s.Unread {
		h.why = u.ItemType + ": " + u.Why
	}
	var out []*geom.Mesh
	for _, p := range s.Parts {
		for q := p.Solid; q != nil; q = q.Base {
			h.of = append(h.of, q.ItemType)
			if q.Prism != nil {
				h.of = append(h.of, q.Prism.Section.Type)
			}
		}
		m, err := p.Solid.Mesh()
		if err != nil {
			h.why = p.Solid.ItemType + ": " + err.Error()
			continue
		}
		h.curved = h.curved || round(p.Solid)
		out = append(out, m.Transform(at.Mul(p.At)))
	}
	return out
}

// round reports whether a solid that has a mesh has curved faces.
func round(s *shape.Solid) bool {
	if s.Kind == shape.Rod || s.Base != nil && s.Base.Kind == shape.Rod {
		return true
	}
	faceted, _ := s.Faceted()
	return faceted
}
