package recognise

import (
	"fmt"
	"sync"

	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// body is the concrete that is cast in one piece, as a body to measure in: one
// element, or those of one assembly that meet, such as a column and its corbel.
// Its meshes are built on first use: most elements of a model carry no items.
type body struct {
	elem  *elem   // the largest of elems
	elems []*elem // in file order
	host  *model.Host
	once  sync.Once
	bad   string // why it cannot be measured in; "" when it can
	used  bool   // an item was cast into it
	lack  []model.Unread

	jackets voidSet // voids that are full of some item's steel
}

type voidSet map[*model.Void]bool

func (s voidSet) has(v *model.Void) bool { return s[v] }

// findJackets finds the voids that were cut for the steel of an item: exporters
// cut every bolt of a set out of the concrete.
func (b *body) findJackets() {
	for _, it := range b.host.Items {
		for _, a := range it.Anchors {
			for _, v := range b.host.Voids {
				if !b.jackets[v] && jacket(a, v) {
					if b.jackets == nil {
						b.jackets = voidSet{}
					}
					b.jackets[v] = true
				}
			}
		}
	}
}

func newBody(elems []*elem) *body {
	b := &body{elem: elems[0], elems: elems}
	box := geom.EmptyBox
	for _, e := range elems {
		if volume(e.box) > volume(b.elem.box) {
			b.elem = e
		}
		box = box.Union(e.box)
	}
	e := b.elem
	f := e.Place.Shift(e.origin.Neg())
	b.host = &model.Host{
		Ref:      e.ref(),
		Frame:    geom.FrameZX(f.T, f.Z, f.X),
		Box:      box,
		Evidence: e.why,
		Property: e.property(),
		Assembly: e.Whole.Label(),
	}
	for _, o := range elems {
		if o != e {
			b.host.Evidence = append(b.host.Evidence, "cast in one with "+nameOf(o))
		}
	}
	return b
}

func volume(b geom.Box) float64 { s := b.Size(); return s.X * s.Y * s.Z }

// castInOne groups the concrete elements of one assembly whose boxes meet.
func castInOne(all []*elem) [][]*elem {
	byWhole := map[*element.Whole][]int{}
	one := geom.NewDisjoint(len(all))
	for i, e := range all {
		if e.Whole == nil {
			continue
		}
		for _, j := range byWhole[e.Whole] {
			if all[j].box.Grow(1).Overlaps(e.box) {
				one.Join(int32(i), int32(j))
			}
		}
		byWhole[e.Whole] = append(byWhole[e.Whole], i)
	}
	var out [][]*elem
	for _, set := range one.Sets() {
		var es []*elem
		for _, i := range set {
			es = append(es, all[i])
		}
		out = append(out, es)
	}
	return out
}

// ready builds the meshes and says whether there is something to measure in.
func (b *body) ready() bool {
	b.once.Do(b.build)
	return b.bad == ""
}

func (b *body) build() {
	h := b.host
	var solids []*geom.Mesh
	for _, e := range b.elems {
		for _, u := range e.Shape.Unread {
			b.lack = append(b.lack, b.unread(fmt.Sprintf("%s: %s", u.ItemType, u.Why)))
		}
		if m := e.solid(); m != nil {
			solids = append(solids, m)
		}
	}
	if len(b.lack) > 0 {
		b.bad = "a part of its shape could not be read"
	}
	h.Body = unite(solids)
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

// voids are the openings and recesses of the elements, in local coordinates.
func (b *body) voids() []*model.Void {
	var out []*model.Void
	for _, e := range b.elems {
		for _, o := range e.Openings {
			if v := b.void(e, o); v != nil {
				out = append(out, v)
			}
		}
	}
	return out
}

func (b *body) void(e *elem, o *element.Opening) *model.Void {
	m := e.opening(o, func(why string) {
		b.lack = append(b.lack, b.unread(fmt.Sprintf("opening %s: %s", o.Name, why)))
	})
	if m == nil {
		return nil
	}
	return &model.Void{
		Ref:    model.Ref{GlobalID: o.GlobalID, Class: o.Class, Name: o.Name, Source: e.source, Instance: uint64(o.Inst.ID())},
		Mesh:   m,
		Box:    m.Box(),
		Filler: uint64(o.FilledBy),
	}
}

// opening is the body of an opening in local coordinates; nil when it has none.
// What could not be read goes to lack.
func (e *elem) opening(o *element.Opening, lack func(why string)) *geom.Mesh {
	if o.Problem != "" {
		lack(o.Problem)
		return nil
	}
	for _, u := range o.Shape.Unread {
		lack(u.ItemType + ": " + u.Why)
	}
	var parts []*geom.Mesh
	for i := range o.Shape.Parts {
		p := &o.Shape.Parts[i]
		m, err := p.Solid.Placed(o.Place.Mul(p.At).Shift(e.origin.Neg()))
		if err != nil {
			lack(p.Solid.ItemType + ": " + err.Error())
			continue
		}
		parts = append(parts, m)
	}
	return unite(parts)
}

// solid is all parts of the element as one body in local coordinates; nil when
// none can be meshed.
func (e *elem) solid() *geom.Mesh {
	var parts []*geom.Mesh
	for i := range e.Shape.Parts {
		p := &e.Shape.Parts[i]
		if m, err := p.Solid.Mesh(); err == nil {
			parts = append(parts, m.Transform(e.place(p)))
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
