package recognise

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// draft is an item before its anchors are measured.
type draft struct {
	item  *model.Item
	main  *candidate
	parts []*candidate // main first
	peers []*candidate // the other elements of its assembly
	in    *body
	long  longBox // of the body that was asked for last
}

// longBox is a body's longFrame.
type longBox struct {
	of    *geom.Mesh
	frame geom.Affine
	box   geom.Box
}

func newDraft(parts, peers []*candidate) *draft {
	d := &draft{main: parts[0], parts: parts, peers: peers, in: parts[0].in}
	for _, p := range parts {
		p.used = true
		if d.in == nil {
			d.in = p.in
		}
	}
	return d
}

// make fills the item in: bodies, sizes, anchors. It touches nothing that
// other drafts touch.
func (d *draft) make() []model.Unread {
	m := d.main
	it := &model.Item{
		Ref: m.ref(), Kind: m.kind, Box: geom.EmptyBox, Evidence: m.why,
		Property: m.property(), Twin: m.kind == model.Fitting,
	}
	if m.group != nil {
		it.Assembly = m.group.GlobalID
	}
	d.item = it
	it.Frame = m.Place.Shift(m.origin.Neg())
	it.Stated = stated(m.elem)
	var lack []model.Unread
	var pieces []piece
	for _, c := range d.parts {
		pieces = append(pieces, c.pieces...)
		lack = append(lack, c.lack...)
		if c != m {
			it.Evidence = append(it.Evidence, fmt.Sprintf("with part %s (%s)", nameOf(c.elem), c.kind))
		}
		for _, p := range c.pieces {
			body := p.body
			if c != m {
				r := c.ref()
				body.Ref = &r
			}
			it.Bodies = append(it.Bodies, body)
			it.Box = it.Box.Union(body.Box)
		}
	}
	switch it.Kind {
	case model.Plate:
		d.plate(m.pieces)
	case model.Channel:
		d.channel(m.pieces)
	}
	d.anchors(pieces)
	it.Size = d.sizeText()
	return lack
}

// bearing are the kinds whose shanks are anchors.
var bearing = map[model.Kind]bool{model.Bolt: true, model.Stud: true, model.Socket: true, model.Lifter: true, model.Plate: true}

func (d *draft) anchors(pieces []piece) {
	it := d.item
	if !bearing[it.Kind] {
		return
	}
	shanks := shanksOf(pieces)
	for _, s := range shanks {
		for _, p := range d.peers {
			if p == d.main || p.kind != model.Fitting && p.kind != model.Template && p.kind != model.Plate {
				continue
			}
			for i := range p.pieces {
				s.wear(&p.pieces[i], p.kind != model.Fitting)
			}
		}
	}
	var host *model.Host
	if d.in != nil && d.in.ready() {
		host = d.in.host
	}
	for _, s := range shanks {
		if s.isTube() && it.Kind == model.Lifter {
			it.Evidence = append(it.Evidence, "a tube, the hole for a lifting pin: no anchor")
			it.Tube = true
			continue
		}
		a := s.anchor(host)
		if it.Kind == model.Plate && len(it.Outline) > 2 {
			a = s.anchorFrom(geom.NewellNormal(it.Outline), host)
		}
		if it.Kind == model.Plate && !d.standsOnPlate(a) {
			continue
		}
		if s.elem != d.main.elem {
			r := s.elem.ref()
			a.Part = &r
		}
		d.add(a)
	}
	if len(it.Anchors) == 0 && it.Kind != model.Plate && !it.Tube {
		d.add(longAnchor(it, host))
	}
	if len(it.Anchors) == 1 {
		d.wholeBody(it.Anchors[0])
	}
}

// wholeBody lets the only anchor of a socket or a lifter run to the end of its
// body: below the round part that gave the axis there may be a flattened end, a
// foot or a bent tail.
func (d *draft) wholeBody(a *model.Anchor) {
	it := d.item
	if it.Kind != model.Socket && it.Kind != model.Lifter {
		return
	}
	end := a.Deepest
	for i := range it.Bodies {
		if m := it.Bodies[i].Mesh; m != nil {
			for _, v := range m.Verts {
				end = max(end, v.Sub(a.Open).Dot(a.Dir))
			}
		}
	}
	if end > a.Deepest+1 {
		a.Deepest = end
		if a.End == model.Plain {
			a.Bearing = end
		}
	}
}

func (d *draft) add(a *model.Anchor) {
	if a == nil {
		return
	}
	a.Item = d.item
	if d.item.Kind == model.Socket && d.item.Stated.Diameter > 0 {
		a.Diameter = d.item.Stated.Diameter
	}
	d.item.Anchors = append(d.item.Anchors, a)
}

// enterAll finds the entry faces, drops members that enter nothing beside others
// that do (cross bars, ties), and numbers what is left. It says what keeps the
// item from being checked.
func (d *draft) enterAll() []model.Unread {
	it := d.item
	if !bearing[it.Kind] && it.Kind != model.Channel {
		return nil
	}
	along := longest(it.Anchors)
	if host := it.Host; host != nil && host.Solid != nil {
		for _, a := range it.Anchors {
			enter(a, host, !liesAcross(a, along), d.fills, d.in.jackets.has, host.Without)
		}
		d.enterPlate(host.Without)
	}
	entered := 0
	for _, a := range it.Anchors {
		if a.Entry != nil {
			entered++
		}
	}
	d.flushSocket()
	kept := it.Anchors[:0]
	for _, a := range it.Anchors {
		if a.Entry != nil || entered == 0 && !liesAcross(a, along) {
			a.Index = len(kept)
			kept = append(kept, a)
		}
	}
	it.Anchors = kept
	return d.missing()
}

// longest is the direction of the longest anchor: what runs across it is a cross
// bar or a tie.
func longest(all []*model.Anchor) geom.Vec {
	var dir geom.Vec
	most := 0.0
	for _, a := range all {
		if a.Length > most+geom.Tol {
			dir, most = a.Dir, a.Length
		}
	}
	return dir
}

func liesAcross(a *model.Anchor, along geom.Vec) bool { return math.Abs(a.Dir.Dot(along)) <= 0.9 }

// fills reports whether the item, or its plate, sits in the void.
func (d *draft) fills(v *model.Void) bool {
	for _, c := range d.parts {
		if v.Filler != 0 && v.Filler == uint64(c.Inst.ID()) && v.Source == c.source {
			return true
		}
	}
	if d.item.Kind == model.Plate {
		b := d.item.Box.Grow(30)
		return b.Has(v.Box.Min) && b.Has(v.Box.Max)
	}
	return false
}

// missing says what keeps the item's anchors from being checked.
func (d *draft) missing() []model.Unread {
	it := d.item
	if d.in == nil {
		return nil // the rule on hosts tells
	}
	if d.in.bad != "" {
		return []model.Unread{d.main.unread("item", fmt.Sprintf("its host %s cannot be measured: %s", d.in.host.Name, d.in.bad))}
	}
	if it.Kind == model.Plate || it.Kind == model.Channel || it.Tube {
		return nil // the rules tell what they miss
	}
	if len(it.Anchors) == 0 {
		return []model.Unread{d.main.unread("item", "no axis was found in its shape")}
	}
	if it.Anchors[0].Entry == nil {
		return []model.Unread{d.main.unread("item", "its axis leaves the concrete nowhere near its open end")}
	}
	return nil
}

// flushSocket tells a socket that the words call an anchor: it ends in the face
// of the concrete, and its thread is of another size than its body.
func (d *draft) flushSocket() {
	it := d.item
	s := it.Stated.Diameter
	if it.Kind != model.Bolt || s == 0 || len(it.Anchors) == 0 {
		return
	}
	const flush, other = 3, 1.15 // mm, ratio
	for _, a := range it.Anchors {
		if a.Entry == nil || a.Entry.Dist > flush || a.Diameter < other*s && s < other*a.Diameter {
			return
		}
	}
	it.Kind = model.Socket
	it.Evidence = append(it.Evidence, "ends in the face of the concrete, its thread another size than its body: a socket")
	for _, a := range it.Anchors {
		a.Diameter = s
	}
}
