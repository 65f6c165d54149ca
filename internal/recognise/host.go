package recognise

import (
	"fmt"
	"sync"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// body is a concrete element as a body to measure in. Its meshes are built on
// first use: most elements of a model carry no items.
type body struct {
	elem *elem
	host *model.Host
	once sync.Once
	bad  string // why it cannot be measured in; "" when it can
	used bool   // an item was cast into it
	lack []model.Unread
}

func newBody(e *elem) *body {
	b := &body{elem: e}
	f := e.Place.Shift(e.origin.Neg())
	b.host = &model.Host{
		Ref:      e.ref(),
		Frame:    geom.FrameZX(f.T, f.Z, f.X),
		Box:      e.box,
		Evidence: e.why,
		Property: e.property,
		Assembly: e.Whole.Label(),
	}
	return b
}

// ready builds the meshes and says whether there is something to measure in.
func (b *body) ready() bool {
	b.once.Do(b.build)
	return b.bad == ""
}

func (b *body) build() {
	h := b.host
	for _, u := range b.elem.Shape.Unread {
		b.lack = append(b.lack, b.unread(fmt.Sprintf("%s: %s", u.ItemType, u.Why)))
	}
	if len(b.lack) > 0 {
		b.bad = "a part of its shape could not be read"
	}
	h.Body = b.elem.solid()
	if h.Body == nil || len(h.Body.Tris) == 0 {
		b.bad = "it has no solid shape"
		return
	}
	if c := h.Body.Closed(); !c.OK {
		b.bad = "its shape is not closed: " + c.Why
		b.lack = append(b.lack, b.unread(b.bad))
	}
	h.Voids = b.voids()
	h.Solid = h.Without(nil)
}

func (b *body) unread(why string) model.Unread {
	return model.Unread{Ref: b.host.Ref, Role: "host", Why: why, At: b.host.Box.Center()}
}

// voids are the openings and recesses of the element, in local coordinates.
func (b *body) voids() []*model.Void {
	var out []*model.Void
	for _, o := range b.elem.Openings {
		e := &elem{Element: b.elem.Element, origin: b.elem.origin}
		var parts []*geom.Mesh
		for i := range o.Shape.Parts {
			p := &o.Shape.Parts[i]
			m, err := p.Solid.Mesh()
			if err != nil {
				b.lack = append(b.lack, b.unread(fmt.Sprintf("opening %s: %s: %v", o.Name, p.Solid.ItemType, err)))
				continue
			}
			parts = append(parts, m.Transform(o.Place.Mul(p.At).Shift(e.origin.Neg())))
		}
		for _, u := range o.Shape.Unread {
			b.lack = append(b.lack, b.unread(fmt.Sprintf("opening %s: %s: %s", o.Name, u.ItemType, u.Why)))
		}
		if o.Problem != "" {
			b.lack = append(b.lack, b.unread("opening "+o.Name+": "+o.Problem))
			continue
		}
		if m := unite(parts); m != nil {
			ref := model.Ref{GlobalID: o.GlobalID, Class: o.Class, Name: o.Name, Source: b.elem.source, Instance: uint64(o.Inst.ID())}
			out = append(out, &model.Void{Ref: ref, Mesh: m, Box: m.Box(), Filler: uint64(o.FilledBy)})
		}
	}
	return out
}

// solid is all parts of the element as one body in local coordinates; nil when
// none can be meshed.
func (e *elem) solid() *geom.Mesh {
	var parts []*geom.Mesh
	for i := range e.Shape.Parts {
		p := &e.Shape.Parts[i]
		if m, err := p.Solid.Mesh(); err == nil {
			parts = append(parts, m.Transform(e.place(p)).Oriented())
		}
	}
	return unite(parts)
}

// unite makes one body of several: joined where they meet, side by side else.
func unite(parts []*geom.Mesh) *geom.Mesh {
	if len(parts) == 0 {
		return nil
	}
	sum := parts[0]
	for _, p := range parts[1:] {
		if sum.Box().Grow(geom.Tol).Overlaps(p.Box()) {
			sum = geom.Union(sum, p)
		} else {
			sum = sum.Append(p)
		}
	}
	return sum
}
