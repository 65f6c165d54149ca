package rules

import (
	"fmt"
	"iter"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Pass is the whole world of a rule: the model, its parameters and the places
// where it was not met.
type Pass struct {
	*shared
	Rule   *Rule
	params []*Params // by class of items
	rest   Params    // for what is no item
	hits   []hit
	gaps   []gap
}

// Hit is one place where the rule is not met.
type Hit struct {
	Item     *model.Item
	Anchor   *model.Anchor // nil when it is about the item itself
	Measured float64
	Required Required
	At       geom.Vec // local, mm
	Normal   geom.Vec // out of the concrete on the open side; may be zero
	Others   []model.Ref
	Text     string // one clause with the figures
}

// hit is a Hit, or a finding about no item.
type hit struct {
	Hit
	group *group
}

// gap is something that a rule could not compare.
type gap struct {
	item   *model.Item
	anchor *model.Anchor
	why    string
}

func newPass(s *shared, r *Rule) *Pass {
	p := &Pass{shared: s, Rule: r, params: make([]*Params, len(s.classes)), rest: s.set.General(r)}
	for i, c := range s.classes {
		p.params[i] = s.set.params(r, c)
	}
	return p
}

// Params are the parameters that hold for an item.
func (p *Pass) Params(it *model.Item) *Params {
	i, ok := p.index[it]
	if !ok {
		return &p.rest
	}
	return p.params[p.class[i]]
}

// On reports whether the rule looks at an item.
func (p *Pass) On(it *model.Item) bool {
	return slices.Contains(p.Rule.Kinds, it.Kind) && !p.Params(it).Off
}

// Items are the items that the rule looks at.
func (p *Pass) Items() iter.Seq[*model.Item] {
	return func(yield func(*model.Item) bool) {
		for _, it := range p.m.Items {
			if p.On(it) && !yield(it) {
				return
			}
		}
	}
}

// Anchors are the anchors that can be measured, of the items that the rule
// looks at. Others are told by the rule not-checked.
func (p *Pass) Anchors() iter.Seq[*model.Anchor] {
	return func(yield func(*model.Anchor) bool) {
		for it := range p.Items() {
			for _, a := range it.Anchors {
				if sound(a) && !yield(a) {
					return
				}
			}
		}
	}
}

// Required is the limit for an item in the place that b describes. Entries that
// nothing is known for are told by the rule not-checked; ok is false when no
// entry could be worked out.
func (p *Pass) Required(it *model.Item, a *model.Anchor, b Basis) (Required, bool) {
	r, ok := p.Params(it).Limit.Resolve(p.Rule.Relation, b)
	for _, u := range r.Missing {
		t, _ := r.limit.term(u)
		p.Unchecked(it, a, fmt.Sprintf("%s: the limit of %s cannot be worked out, no %s is known", p.Rule.ID, t, words[u][0]))
	}
	return r, ok
}

// BasisOf is what limits for an anchor count in.
func BasisOf(a *model.Anchor) Basis {
	b := Basis{Diameter: a.Diameter}
	if t, ok := threadOf(a.Diameter); ok {
		b.Pitch = t.pitch
	}
	if a.Entry != nil {
		b.Embedment, b.Thickness = a.Embedment(), a.Entry.Thickness
	}
	return b
}

// Report records a place where the rule is not met. A comparison with what is no
// number is none.
func (p *Pass) Report(h Hit) {
	if !finite(h.Measured, h.Required.Value) {
		p.Unchecked(h.Item, h.Anchor, p.Rule.ID+": a size in the model is no finite number")
		return
	}
	p.hits = append(p.hits, hit{h, p.group[p.index[h.Item]]})
}

// Unchecked records that something could not be compared; the rule not-checked
// tells it.
func (p *Pass) Unchecked(it *model.Item, a *model.Anchor, why string) {
	p.gaps = append(p.gaps, gap{it, a, why})
}

// needed is the end of a sentence: "; 120 mm needed (6 diameters of 20 mm)".
func needed(want string, r Required) string { return "; " + want + " needed" + r.why() }
