package recognise

import (
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// draftGroup makes items of one assembly. Parts of a plate (studs, ties) become
// one item with it; bolts, templates and nuts stay items of one set. What is too
// large for an assembly of embeds is given back.
func draftGroup(all []*candidate) (drafts []*draft, rest []*candidate) {
	const largest = 6000 // mm; what is longer is a frame or a storey, not an embed
	if box := boxOf(all); !box.Empty() && box.Size().Norm() > largest {
		return nil, all
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
		return nil, nil
	}
	recessed(in)
	if main := platePart(in); main != nil {
		parts := []*candidate{main}
		for _, c := range in {
			if c != main {
				parts = append(parts, c)
			}
		}
		return []*draft{newDraft(parts, nil)}, nil
	}
	for _, c := range in {
		drafts = append(drafts, newDraft([]*candidate{c}, in))
	}
	return drafts, nil
}

// recessed takes anchors that stand in a recess former of their assembly for
// lifters: a recess keeps the head of a lifting anchor below the surface.
func recessed(all []*candidate) {
	for _, f := range all {
		if f.kind != model.Former {
			continue
		}
		for _, c := range all {
			if c.kind == model.Bolt && c.Predefined != "ANCHORBOLT" && c.box.Overlaps(f.box) {
				c.kind = model.Lifter
				c.evidence("stands in the recess former " + nameOf(f.elem) + " of its assembly")
			}
		}
	}
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
// for an assembly of bolts. Of plates of one size it is the one whose GlobalId
// comes first, whatever their order in the file.
func platePart(all []*candidate) *candidate {
	var main *candidate
	area := 0.0
	for _, c := range all {
		switch c.kind {
		case model.Bolt, model.Template, model.Lifter, model.Socket:
			return nil
		case model.Plate:
			const alike = 1 // mm2
			d := c.dims()
			if more := d[1]*d[2] - area; main == nil || more > alike || more > -alike && c.GlobalID < main.GlobalID {
				main, area = c, d[1]*d[2]
			}
		}
	}
	return main
}
