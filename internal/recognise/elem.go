package recognise

import (
	"strings"

	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/shape"
)

// elem is an element on its way to a role.
type elem struct {
	*element.Element
	source int
	origin geom.Vec
	texts  []said
	stuff  stuff
	box    geom.Box // local coordinates; empty without a readable shape
	role   role
	kind   model.Kind
	strong bool // the evidence alone says cast in; no concrete around is then a fault
	why    []string
}

// role is what an element is for a pour.
type role int

const (
	leftOut role = iota
	hostRole
	itemRole
	barRole
)

// said is one text about an element and where it stands.
type said struct {
	what  string // "name", "type name", ...
	plain string
}

func newElem(e *element.Element, source int, origin geom.Vec) *elem {
	el := &elem{Element: e, source: source, origin: origin, box: geom.EmptyBox}
	add := func(what, s string) {
		if s != "" {
			el.texts = append(el.texts, said{what, plain(s)})
		}
	}
	add("name", e.Name)
	if e.Type != nil {
		add("type name", e.Type.Name)
		add("element type", e.Type.Element)
	}
	add("object type", e.ObjectType)
	add("description", e.Description)
	for _, p := range e.Shape.Parts {
		if p.Solid.Profile != "" {
			add("profile", p.Solid.Profile)
			break
		}
	}
	for _, m := range e.Materials {
		if s := stuffByWords(plain(m)); s != unknownStuff {
			el.stuff = s
			el.evidence("material " + m)
			break
		}
	}
	for i := range e.Shape.Parts {
		p := &e.Shape.Parts[i]
		el.box = el.box.Union(p.Solid.Box().Transform(el.place(p)))
	}
	return el
}

// place maps the part's solid to local coordinates.
func (e *elem) place(p *shape.Part) geom.Affine {
	return e.Place.Mul(p.At).Shift(e.origin.Neg())
}

func (e *elem) evidence(s string) { e.why = append(e.why, s) }

// ref is the element as the model names it.
func (e *elem) ref() model.Ref {
	r := model.Ref{
		GlobalID: e.GlobalID,
		Class:    e.Class,
		Name:     e.Name,
		Mark:     e.Tag,
		Type:     e.ObjectType,
		Material: strings.Join(e.Materials, ", "),
		Source:   e.source,
		Instance: uint64(e.Inst.ID()),
	}
	if e.Type != nil && e.Type.Name != "" {
		r.Type = e.Type.Name
	}
	return r
}

// dims are the sides of the box, smallest first.
func (e *elem) dims() [3]float64 {
	s := e.box.Size()
	d := [3]float64{s.X, s.Y, s.Z}
	if d[0] > d[1] {
		d[0], d[1] = d[1], d[0]
	}
	if d[1] > d[2] {
		d[1], d[2] = d[2], d[1]
	}
	if d[0] > d[1] {
		d[0], d[1] = d[1], d[0]
	}
	return d
}

// property looks a property up for selectors. It keeps nothing of the element
// but its place in the file, so that shapes can be let go of.
func (e *elem) property() model.Property {
	look := e.Lookup()
	return func(name string) (string, bool) {
		p, ok := look(name)
		return p.Text, ok
	}
}
