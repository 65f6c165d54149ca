package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// findings are the pass's hits, one finding a group.
func (p *Pass) findings() []finding.Finding {
	byGroup := map[*group][]*hit{}
	var order []*group
	for i := range p.hits {
		h := &p.hits[i]
		if _, ok := byGroup[h.group]; !ok {
			order = append(order, h.group)
		}
		byGroup[h.group] = append(byGroup[h.group], h)
	}
	var out []finding.Finding
	for _, g := range order {
		hits := byGroup[g]
		slices.SortStableFunc(hits, p.compareHits)
		out = append(out, p.finding(g, hits))
	}
	return out
}

// compareHits orders places by what they are called, then by where they are:
// nothing that the order of reading has a part in, as far as there is a choice.
func (p *Pass) compareHits(a, b *hit) int {
	return cmp.Or(
		finding.Natural(a.Item.Name, b.Item.Name),
		finding.Natural(a.Item.Mark, b.Item.Mark),
		compareVec(a.Item.Box.Min, b.Item.Box.Min),
		compareRef(p.m, a.Item, b.Item),
		cmp.Compare(a.index(), b.index()),
		compareVec(a.At, b.At),
		cmp.Compare(a.Text, b.Text),
		slices.CompareFunc(a.Others, b.Others, compareOthers),
	)
}

// finding is one finding about a group. Its priority is the highest one that
// the rule has for the items concerned.
func (p *Pass) finding(g *group, hits []*hit) finding.Finding {
	f := finding.Finding{
		ID:     g.fingerprint(p.Rule.ID),
		Rule:   p.Rule.ID,
		Status: "open",
		Set:    g.name(),
	}
	if g.host != nil {
		f.Host = p.ref(g.host.Ref)
	}
	for _, h := range hits {
		f.Instances = append(f.Instances, p.instance(h))
		f.Priority = max(f.Priority, p.Params(h.Item).Priority)
	}
	if g.note {
		f.Priority = finding.Note
	}
	worst := hits[worstOf(&f)]
	f.Source = cmp.Or(worst.Required.cite, p.Params(worst.Item).source(worst.Required.Governs))
	f.Title = p.title(g)
	if f.Message = sentence(g.text); g.text == "" {
		f.Message = message(hits, worst)
	}
	return f
}

func (p *Pass) instance(h *hit) finding.Instance {
	in := finding.Instance{
		Item:     p.ref(h.Item.Ref),
		Anchor:   h.index(),
		Measured: h.Measured,
		Required: h.Required.Value,
		Unit:     p.Rule.Unit,
		Relation: p.Rule.Relation,
		Governs:  string(h.Required.Governs),
		At:       p.m.World(h.At),
		Normal:   h.Normal,
		Text:     h.Text,
	}
	if h.group.bare {
		in.Unit, in.Relation = "", finding.None
	}
	if !h.group.unread {
		in.Kind = h.Item.Kind.String()
	}
	for _, o := range h.Others {
		in.Others = append(in.Others, p.ref(o))
	}
	return in
}

func (h *hit) index() int {
	if h.Anchor == nil {
		return -1
	}
	return h.Anchor.Index
}

// worstOf is the place in f.Instances of its worst one.
func worstOf(f *finding.Finding) int {
	w := f.Worst()
	for i := range f.Instances {
		if w == &f.Instances[i] {
			return i
		}
	}
	return 0
}

// title is the rule, the set and the host in one line.
func (p *Pass) title(g *group) string {
	t := p.Rule.Title + ": " + finding.Plain(g.name())
	if g.host != nil && !g.unread {
		t += " in " + hostName(g.host)
	}
	return t
}

// message says what is wrong where it is worst, and in how many more places.
func message(hits []*hit, worst *hit) string {
	s := sentence(worst.Text)
	if n := len(hits) - 1; n == 1 {
		s += " One more place."
	} else if n > 1 {
		s += fmt.Sprintf(" %d more places.", n)
	}
	return s
}

// sentence makes one of a clause.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return strings.TrimSuffix(s, ".") + "."
}

func compareOthers(a, b model.Ref) int {
	return cmp.Or(finding.Natural(a.Name, b.Name), cmp.Compare(a.GlobalID, b.GlobalID), cmp.Compare(a.Instance, b.Instance))
}
