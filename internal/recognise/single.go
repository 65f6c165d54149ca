package recognise

import (
	"cmp"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// draftSingles makes items of elements that belong to no assembly of their own.
// Studs and ties that touch a plate are parts of it, also when the plate's other
// parts form an assembly that was drafted before.
func draftSingles(all []*candidate, before []*draft) []*draft {
	var plates, rest []*candidate
	near := newVicinity(all)
	for _, c := range all {
		if len(c.pieces) == 0 && len(c.lack) == 0 {
			c.leave("no concrete near it")
			continue
		}
		if !c.confirm() && !near.onBolt(c) {
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
	v := newVicinity(append(slices.Clone(plates), rest...))
	for _, d := range before {
		if d.main.kind == model.Plate {
			d.parts = v.weldedTo(d.parts)
		}
	}
	var out []*draft
	area := make(map[*candidate]float64, len(plates))
	for _, p := range plates {
		area[p] = p.flatArea()
	}
	slices.SortStableFunc(plates, func(x, y *candidate) int { return cmp.Compare(area[y], area[x]) })
	for _, p := range plates {
		if !p.used {
			p.used = true
			out = append(out, newDraft(v.weldedTo([]*candidate{p}), nil))
		}
	}
	for _, c := range rest {
		if !c.used {
			out = append(out, newDraft([]*candidate{c}, v.fittings(c)))
		}
	}
	return out
}

// vicinity finds the candidates around a place.
type vicinity struct {
	all  []*candidate
	tree *geom.BoxTree
}

func newVicinity(all []*candidate) *vicinity {
	boxes := make([]geom.Box, len(all))
	for i, c := range all {
		boxes[i] = c.box
	}
	return &vicinity{all, geom.NewBoxTree(boxes)}
}

// around are the candidates whose boxes meet a box, in order.
func (v *vicinity) around(box geom.Box) []*candidate {
	var at []int
	v.tree.Query(box, func(i int) bool { at = append(at, i); return true })
	slices.Sort(at)
	out := make([]*candidate, len(at))
	for i, k := range at {
		out[i] = v.all[k]
	}
	return out
}

// onBolt reports whether a template or a fitting stands free of the concrete on
// an anchor that is cast into it, and gives it that anchor's host.
func (v *vicinity) onBolt(c *candidate) bool {
	if c.kind != model.Template && c.kind != model.Fitting {
		return false
	}
	for _, o := range v.around(c.box) {
		if o.kind == model.Bolt && o.share > 0.02 {
			c.in = o.in
			c.evidence("sits on " + nameOf(o.elem))
			return true
		}
	}
	return false
}

// weldedTo adds to the parts of a plate all that is welded to them, directly or
// through other parts: studs, ties, further plates.
func (v *vicinity) weldedTo(parts []*candidate) []*candidate {
	for i := 0; i < len(parts); i++ {
		for _, c := range v.around(parts[i].box.Grow(1)) {
			part := c.kind == model.Stud || c.kind == model.Other || c.kind == model.Plate || c.kind == model.Bolt && !c.strong
			if part && !c.used && parts[i].welded(c) {
				c.used = true
				parts = append(parts, c)
			}
		}
	}
	return parts
}

// fittings are the nuts, washers and templates next to a bolt that no assembly
// ties to it.
func (v *vicinity) fittings(c *candidate) []*candidate {
	if c.kind == model.Fitting || c.kind == model.Template {
		return nil
	}
	var out []*candidate
	for _, o := range v.around(c.box) {
		if o != c && (o.kind == model.Fitting || o.kind == model.Template) {
			out = append(out, o)
		}
	}
	return out
}

// welded reports whether two candidates touch.
func (c *candidate) welded(o *candidate) bool {
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
