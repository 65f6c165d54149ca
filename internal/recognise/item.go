package recognise

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"

	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// items makes items of the candidates: those of one assembly together.
func (b *builder) items() {
	groups := map[*element.Whole][]*candidate{}
	var order []*element.Whole
	var single []*candidate
	for _, c := range b.cands {
		if c.group == nil {
			single = append(single, c)
			continue
		}
		if groups[c.group] == nil {
			order = append(order, c.group)
		}
		groups[c.group] = append(groups[c.group], c)
	}
	var drafts []*draft
	for _, g := range order {
		drafts = append(drafts, b.draftGroup(g, groups[g])...)
	}
	drafts = append(drafts, b.draftSingles(single)...)
	sort.SliceStable(drafts, func(i, j int) bool { return drafts[i].before(drafts[j]) })
	lack := make([][]model.Unread, len(drafts))
	element.Parallel(len(drafts), b.opt.Workers, func(i int) { lack[i] = drafts[i].make() })
	for _, d := range drafts {
		b.out.Items = append(b.out.Items, d.item)
		if d.in != nil {
			d.in.used = true
			d.item.Host = d.in.host
			d.in.host.Items = append(d.in.host.Items, d.item)
		}
	}
	element.Parallel(len(b.bodies), b.opt.Workers, func(i int) { b.bodies[i].findJackets() })
	element.Parallel(len(drafts), b.opt.Workers, func(i int) { lack[i] = append(lack[i], drafts[i].enterAll()...) })
	for _, l := range lack {
		b.out.Unread = append(b.out.Unread, l...)
	}
}

// draft is an item before its anchors are measured.
type draft struct {
	item  *model.Item
	main  *candidate
	parts []*candidate // main first
	peers []*candidate // the other elements of its assembly
	in    *body
}

func (d *draft) before(o *draft) bool {
	if d.main.source != o.main.source {
		return d.main.source < o.main.source
	}
	return d.main.Inst.ID() < o.main.Inst.ID()
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

// draftGroup makes items of one assembly. Parts of a plate (studs, ties) become
// one item with it; bolts, templates and nuts stay items of one set.
func (b *builder) draftGroup(g *element.Whole, all []*candidate) []*draft {
	const largest = 6000 // mm; what is longer is a frame or a storey, not an embed
	if box := boxOf(all); !box.Empty() && box.Size().Norm() > largest {
		return b.draftSingles(all)
	}
	hosted := false
	for _, c := range all {
		hosted = hosted || c.strong || c.share >= 0.25 || c.kind != model.Other && c.kind != model.Fitting && c.in != nil && c.confirm()
	}
	var in []*candidate
	for _, c := range all {
		if hosted && c.belongs() {
			in = append(in, c)
		} else if c.role != leftOut {
			c.leave("part of an assembly, but not in concrete")
		}
	}
	if len(in) == 0 {
		return nil
	}
	if main := platePart(in); main != nil {
		parts := []*candidate{main}
		for _, c := range in {
			if c != main {
				parts = append(parts, c)
			}
		}
		return []*draft{newDraft(parts, nil)}
	}
	var out []*draft
	for _, c := range in {
		out = append(out, newDraft([]*candidate{c}, in))
	}
	return out
}

// belongs decides whether a part of an assembly that is cast in somewhere is
// cast in too, or holds what is.
func (c *candidate) belongs() bool {
	switch c.kind {
	case model.Fitting, model.Template, model.Bolt:
		return true
	case model.Other:
		return c.in != nil && c.kindByShape()
	}
	return c.in != nil || c.strong
}

func boxOf(all []*candidate) geom.Box {
	b := geom.EmptyBox
	for _, c := range all {
		b = b.Union(c.box)
	}
	return b
}

// platePart is the plate that the other parts of an assembly are welded to; nil
// for an assembly of bolts.
func platePart(all []*candidate) *candidate {
	var main *candidate
	area := 0.0
	for _, c := range all {
		switch c.kind {
		case model.Bolt, model.Template, model.Lifter, model.Socket:
			return nil
		case model.Plate:
			if d := c.dims(); d[1]*d[2] > area {
				main, area = c, d[1]*d[2]
			}
		}
	}
	return main
}

// draftSingles makes items of elements that belong to no assembly of their own.
// Studs and ties that touch a plate are parts of it.
func (b *builder) draftSingles(all []*candidate) []*draft {
	var plates, rest []*candidate
	for _, c := range all {
		if len(c.pieces) == 0 && len(c.lack) == 0 {
			c.leave("no concrete near it")
			continue
		}
		if !c.confirm() {
			if c.role != leftOut {
				c.leave("in no concrete")
			}
			continue
		}
		if c.kind == model.Plate {
			plates = append(plates, c)
		} else {
			rest = append(rest, c)
		}
	}
	var out []*draft
	slices.SortStableFunc(plates, func(x, y *candidate) int { return cmp.Compare(y.flatArea(), x.flatArea()) })
	for _, p := range plates {
		if !p.used {
			out = append(out, newDraft(weldedTo(p, append(plates, rest...)), nil))
		}
	}
	for _, c := range rest {
		if !c.used {
			out = append(out, newDraft([]*candidate{c}, b.neighbours(c, rest)))
		}
	}
	return out
}

// weldedTo is a plate with all that is welded to it, directly or through other
// parts: studs, ties, further plates.
func weldedTo(p *candidate, all []*candidate) []*candidate {
	parts := []*candidate{p}
	p.used = true
	for i := 0; i < len(parts); i++ {
		for _, c := range all {
			part := c.kind == model.Stud || c.kind == model.Other || c.kind == model.Plate || c.kind == model.Bolt && !c.strong
			if part && !c.used && parts[i].welded(c) {
				c.used = true
				parts = append(parts, c)
			}
		}
	}
	return parts
}

// neighbours are the fittings and templates next to a bolt that no assembly
// ties to it.
func (b *builder) neighbours(c *candidate, rest []*candidate) []*candidate {
	if c.kind == model.Fitting || c.kind == model.Template {
		return nil
	}
	var out []*candidate
	for _, o := range rest {
		if o != c && (o.kind == model.Fitting || o.kind == model.Template) && o.box.Overlaps(c.box) {
			out = append(out, o)
		}
	}
	return out
}

// welded reports whether two candidates touch.
func (c *candidate) welded(o *candidate) bool {
	if !c.box.Grow(1).Overlaps(o.box) {
		return false
	}
	a, z := &model.Item{Bodies: bodiesOf(c.pieces)}, &model.Item{Bodies: bodiesOf(o.pieces)}
	_, near := measure.ItemGap(a, z, 1)
	return near
}

func bodiesOf(ps []piece) []model.Body {
	out := make([]model.Body, len(ps))
	for i := range ps {
		out[i] = ps[i].body
	}
	return out
}

// make fills the item in: bodies, sizes, anchors. It touches nothing that
// other drafts touch.
func (d *draft) make() []model.Unread {
	m := d.main
	it := &model.Item{
		Ref: m.ref(), Kind: m.kind, Box: geom.EmptyBox, Evidence: m.why,
		Property: m.property, Twin: m.kind == model.Fitting,
	}
	if m.group != nil {
		it.Assembly = m.group.GlobalID
	}
	d.item = it
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
	it.Size = sizeText(it)
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
				s.wear(&p.pieces[i])
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
		if it.Kind == model.Plate && !d.standsOnPlate(a) {
			continue
		}
		if s.elem != d.main.elem {
			r := s.elem.ref()
			a.Part = &r
		}
		d.add(a)
	}
	if len(it.Anchors) == 0 && it.Kind == model.Lifter && !it.Tube {
		d.add(boxAnchor(it, host))
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
	if host := it.Host; host != nil && host.Solid != nil {
		filled := map[string]*geom.Mesh{}
		solidOf := func(own []*model.Void) *geom.Mesh {
			key := fmt.Sprint(own)
			if filled[key] == nil {
				filled[key] = host.Without(own)
			}
			return filled[key]
		}
		for _, a := range it.Anchors {
			enter(a, host, d.fills, d.in.jackets.has, solidOf)
		}
		d.enterPlate(solidOf)
	}
	entered := 0
	for _, a := range it.Anchors {
		if a.Entry != nil {
			entered++
		}
	}
	kept := it.Anchors[:0]
	for _, a := range it.Anchors {
		if a.Entry != nil || entered == 0 {
			a.Index = len(kept)
			kept = append(kept, a)
		}
	}
	it.Anchors = kept
	return d.missing()
}

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
		return []model.Unread{d.main.unread("item", fmt.Sprintf("its host %s cannot be measured: %s", it.Ref.Name, d.in.bad))}
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

// boxAnchor gives a lifter without a round member the long axis of its box.
func boxAnchor(it *model.Item, host *model.Host) *model.Anchor {
	s := it.Box.Size()
	half := geom.V(s.X/2, 0, 0)
	if s.Y > s.X && s.Y > s.Z {
		half = geom.V(0, s.Y/2, 0)
	} else if s.Z > s.X {
		half = geom.V(0, 0, s.Z/2)
	}
	if half.Norm() < 0.6*math.Sqrt(s.Norm2()-4*half.Norm2()) {
		return nil // no side is clearly the longest
	}
	c := it.Box.Center()
	sh := &shank{a: c.Sub(half), b: c.Add(half)}
	it.Evidence = append(it.Evidence, "axis taken from the long side of its box")
	return sh.anchor(host)
}

// sizeText is the size as a person says it.
func sizeText(it *model.Item) string {
	mm := func(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }
	if it.Kind == model.Plate || it.Kind == model.Template {
		if len(it.Outline) == 4 {
			a, b := it.Outline[0].Dist(it.Outline[1]), it.Outline[1].Dist(it.Outline[2])
			return mm(max(a, b)) + " x " + mm(min(a, b)) + " x " + mm(it.Thick)
		}
	}
	if len(it.Anchors) > 0 {
		a := it.Anchors[0]
		d := it.Stated.Diameter
		if d == 0 {
			d = a.Diameter
		}
		if d > 0 {
			threaded := it.Kind == model.Bolt || it.Kind == model.Socket
			if threaded && coarseThreads[int(d)] && d == math.Trunc(d) {
				return "M" + mm(d) + " x " + mm(a.Deepest)
			}
			return "dia " + mm(d) + " x " + mm(a.Deepest)
		}
	}
	s := it.Box.Size()
	return mm(s.X) + " x " + mm(s.Y) + " x " + mm(s.Z)
}

func nameOf(e *elem) string {
	if e.Name != "" {
		return e.Name
	}
	return e.GlobalID
}
