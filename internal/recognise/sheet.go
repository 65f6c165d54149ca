package recognise

import (
	"cmp"
	"fmt"
	"slices"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Limits of what is a plate that bolts stand through, in mm and as ratios:
// common practice, no published source.
const (
	thickestSheet = 150
	squareTo      = 0.98 // cosine between plate and bolt
	beyondThread  = 200  // how far above the thread's end a plate with a hole for it is looked for
	largestSheet  = 6000 // across the box; terrain and floors are not looked into
	washerWidth   = 5    // diameters; a plate on one bolt that is narrower is a washer
)

// sheets finds the plates that bolts stand through outside the concrete:
// templates, and the base plates of what will stand on them, whichever model they
// are in.
func (b *builder) sheets() {
	var bolts []*model.Anchor
	for _, it := range b.out.Items {
		for _, a := range it.Anchors {
			if it.Kind == model.Bolt && a.Entry != nil {
				bolts = append(bolts, a)
			}
		}
	}
	if len(bolts) == 0 {
		return
	}
	elems, on := b.overBolts(bolts)
	read := make(map[*elem]*candidate, len(b.cands))
	for _, c := range b.cands {
		read[c.elem] = c
	}
	found := make([][]*model.Sheet, len(elems))
	element.Parallel(len(elems), b.opt.Workers, func(i int) {
		if len(on[i]) > 0 {
			found[i] = elems[i].sheets(read[elems[i]], on[i])
		}
	})
	items := b.itemsByElement()
	for i, list := range found {
		for _, s := range list {
			s.Item = items[elemKey{elems[i].source, elems[i].Inst.ID()}]
			if a := s.Anchors[0]; len(s.Anchors) > 1 || s.Template() || narrowest(s) > washerWidth*a.Diameter {
				b.out.Sheets = append(b.out.Sheets, s)
				if s.Item == nil {
					elems[i].evidence(fmt.Sprintf("base plate over bolts, %.0f mm thick: not cast in", s.Thick))
				}
			} else {
				wearWasher(a, s)
			}
		}
	}
}

// wornOn reports whether an element is the anchor's own, or a nut or a washer that
// is known to sit on it.
func (e *elem) wornOn(a *model.Anchor) bool {
	if e.source == a.Item.Source && uint64(e.Inst.ID()) == a.Item.Instance {
		return true
	}
	t := e.box.Center().Sub(a.Open).Dot(a.Dir)
	return e.kind == model.Fitting && slices.ContainsFunc(a.Parts, func(p model.Part) bool { return p.From <= t && t <= p.To })
}

// wearWasher counts a narrow plate on one bolt among the parts of that bolt.
func wearWasher(a *model.Anchor, s *model.Sheet) {
	upper, under := s.Along(a)
	size := 0.0
	for _, v := range s.Outline {
		d := v.Sub(a.At(upper))
		size = max(size, 2*d.Norm())
	}
	if slices.ContainsFunc(a.Parts, func(p model.Part) bool { return p.From < under-0.5 && p.To > upper+0.5 }) {
		return // worn already
	}
	a.Parts = append(a.Parts, model.Part{Kind: model.Washer, From: upper, To: under, Size: size})
	slices.SortFunc(a.Parts, func(x, y model.Part) int { return cmp.Compare(x.From, y.From) })
}

// overBolts are the elements that may be plates, and the bolts that each may lie
// over.
func (b *builder) overBolts(bolts []*model.Anchor) (elems []*elem, on [][]*model.Anchor) {
	var boxes []geom.Box
	for _, e := range b.elems {
		if e.mayBeSheet() {
			elems, boxes = append(elems, e), append(boxes, e.box)
		}
	}
	on = make([][]*model.Anchor, len(elems))
	tree := geom.NewBoxTree(boxes)
	for _, a := range bolts {
		tree.Query(outside(a), func(i int) bool {
			if !elems[i].wornOn(a) {
				on[i] = append(on[i], a)
			}
			return true
		})
	}
	return elems, on
}

// elemKey names an element in the federation.
type elemKey struct {
	source int
	id     ifcread.ID
}

func (b *builder) itemsByElement() map[elemKey]*model.Item {
	out := make(map[elemKey]*model.Item, len(b.out.Items))
	for _, it := range b.out.Items {
		out[elemKey{it.Source, ifcread.ID(it.Instance)}] = it
	}
	return out
}

// outside is the box around the axis of an anchor from the face of the concrete
// out to where a plate may still be meant for it.
func outside(a *model.Anchor) geom.Box {
	return geom.BoxOf(a.At(-beyondThread), a.At(a.Entry.Dist)).Grow(1)
}

// mayBeSheet sorts out what is no steel plate by role, material and size.
func (e *elem) mayBeSheet() bool {
	if e.role == hostRole || e.role == barRole || len(e.Shape.Parts) == 0 {
		return false
	}
	switch e.kind {
	case model.Other, model.Plate, model.Template, model.Fitting:
	default:
		return false // another bolt, a sleeve
	}
	switch e.stuff {
	case concrete, otherStuff:
		return e.kind == model.Template
	case unknownStuff:
		switch e.Class {
		case "IfcSlab", "IfcWall", "IfcWallStandardCase", "IfcFooting", "IfcCovering", "IfcRoof", "IfcSpace":
			return false // screeds, grout, insulation
		}
		return !slices.ContainsFunc(e.texts, func(t said) bool { return stuffByWords(t.plain) == otherStuff })
	}
	return true
}

// sheets are the flat plates among the bodies of an element that one of the
// anchors stands through. c is the element as a candidate, nil when it is none.
func (e *elem) sheets(c *candidate, anchors []*model.Anchor) []*model.Sheet {
	var out []*model.Sheet
	for _, m := range e.shells(c, anchors) {
		if s := newSheet(m, anchors); s != nil {
			s.Ref = e.ref()
			out = append(out, s)
		}
	}
	return out
}

// shells are the connected bodies of an element near anchors, less its openings.
// Those of a candidate without openings were worked out before.
func (e *elem) shells(c *candidate, anchors []*model.Anchor) []*geom.Mesh {
	var out []*geom.Mesh
	if c != nil && len(c.pieces) > 0 && len(e.Openings) == 0 {
		for i := range c.pieces {
			if b := &c.pieces[i].body; b.Mesh != nil && nearAny(b.Box, anchors) {
				out = append(out, b.Mesh)
			}
		}
		return out
	}
	var cutters []*geom.Mesh
	for _, o := range e.Openings {
		if m := e.opening(o, func(string) {}); m != nil {
			cutters = append(cutters, m)
		}
	}
	for i := range e.Shape.Parts {
		p := &e.Shape.Parts[i]
		if !nearAny(p.Solid.Box().Transform(e.place(p)), anchors) {
			continue
		}
		m, err := p.Solid.Mesh()
		if err != nil {
			continue // told where the element is an item
		}
		m = m.Transform(e.place(p))
		if len(cutters) > 0 {
			m = geom.Subtract(m, cutters...)
		}
		out = append(out, m.Shells()...)
	}
	return out
}

// nearAny reports whether a body is no larger than a plate may be and lies where
// one may be meant for an anchor.
func nearAny(box geom.Box, anchors []*model.Anchor) bool {
	return box.Size().Norm() <= largestSheet && slices.ContainsFunc(anchors, func(a *model.Anchor) bool { return outside(a).Overlaps(box) })
}
