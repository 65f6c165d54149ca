package recognise

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
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
	var elems []*elem
	var boxes []geom.Box
	for _, e := range b.elems {
		if e.mayBeSheet() {
			elems, boxes = append(elems, e), append(boxes, e.box)
		}
	}
	on := make([][]*model.Anchor, len(elems))
	tree := geom.NewBoxTree(boxes)
	for _, a := range bolts {
		tree.Query(outside(a), func(i int) bool {
			if elems[i].source != a.Item.Source || uint64(elems[i].Inst.ID()) != a.Item.Instance {
				on[i] = append(on[i], a)
			}
			return true
		})
	}
	found := make([][]*model.Sheet, len(elems))
	element.Parallel(len(elems), b.opt.Workers, func(i int) {
		if len(on[i]) > 0 {
			found[i] = elems[i].sheets(on[i])
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

// sheets are the flat plates among the parts of an element that one of the
// anchors stands through.
func (e *elem) sheets(anchors []*model.Anchor) []*model.Sheet {
	var cutters []*geom.Mesh
	for _, o := range e.Openings {
		if m := e.opening(o, func(string) {}); m != nil {
			cutters = append(cutters, m)
		}
	}
	var out []*model.Sheet
	for i := range e.Shape.Parts {
		p := &e.Shape.Parts[i]
		box := p.Solid.Box().Transform(e.place(p))
		if box.Size().Norm() > largestSheet || !nearAny(box, anchors) {
			continue
		}
		m, err := p.Solid.Mesh()
		if err != nil {
			continue // told where the element is an item
		}
		m = m.Transform(e.place(p)).Oriented()
		if len(cutters) > 0 {
			m = geom.Subtract(m, cutters...)
		}
		for _, shell := range m.Shells() {
			if s := newSheet(shell, anchors); s != nil {
				s.Ref = e.ref()
				out = append(out, s)
			}
		}
	}
	return out
}

func nearAny(box geom.Box, anchors []*model.Anchor) bool {
	return slices.ContainsFunc(anchors, func(a *model.Anchor) bool { return outside(a).Overlaps(box) })
}

// newSheet reads a body as a flat plate square to anchors that stand through it;
// nil when it is none.
func newSheet(m *geom.Mesh, anchors []*model.Anchor) *model.Sheet {
	faces := m.PlanarFaces()
	if len(faces) == 0 || len(faces[0].Outline) == 0 {
		return nil
	}
	big := &faces[0]
	other, thick := opposite(faces, big)
	if other == nil || thick > thickestSheet || 2*big.Area < flatShare*m.Area() || thick*thick > big.Area/4 {
		return nil
	}
	var square []*model.Anchor
	for _, a := range anchors {
		if math.Abs(a.Dir.Dot(big.Plane.N)) > squareTo {
			square = append(square, a)
		}
	}
	if len(square) == 0 {
		return nil
	}
	upper, under := big, other
	if upper.Plane.N.Dot(square[0].Dir) > 0 {
		upper, under = under, upper
	}
	s := &model.Sheet{
		Body: m, Upper: upper.Plane, Under: under.Plane, Thick: thick, Outline: upper.Outline[0],
		Holes: holes(upper, under),
	}
	for _, a := range square {
		if standsThrough(a, s) {
			s.Anchors = append(s.Anchors, a)
		}
	}
	if len(s.Anchors) == 0 {
		return nil
	}
	return s
}

// standsThrough reports whether an anchor passes a plate within its outline. A
// plate beyond the thread's end is meant for it only when it has a hole there.
func standsThrough(a *model.Anchor, s *model.Sheet) bool {
	_, under := s.Along(a)
	if under > a.Entry.Dist+s.Thick+1 || under < -beyondThread || !measure.OnSheet(a, s) {
		return false
	}
	return under > 0 || slices.ContainsFunc(s.Holes, func(h model.Hole) bool {
		_, off := measure.HoleRoom(a, s, &h)
		return off < a.Diameter && h.Diameter < 3*a.Diameter
	})
}

// narrowest is the least width of a plate's outline.
func narrowest(s *model.Sheet) float64 {
	return width(s.Outline, geom.FrameZX(s.Outline[0], s.Upper.N, s.Upper.N.Perp()))
}
