package recognise

import (
	"cmp"
	"slices"

	"embedcheck/internal/element"
	"embedcheck/internal/model"
)

// items makes items of the candidates: those of one assembly together, then
// those that belong to none.
func (b *builder) items() {
	groups := map[*element.Whole][]*candidate{}
	var order []*element.Whole
	for _, c := range b.cands {
		if c.group == nil {
			continue
		}
		if groups[c.group] == nil {
			order = append(order, c.group)
		}
		groups[c.group] = append(groups[c.group], c)
	}
	var drafts []*draft
	var single []*candidate
	for _, c := range b.cands {
		if c.group == nil || len(groups[c.group]) == 1 {
			single = append(single, c)
		}
	}
	for _, g := range order {
		if all := groups[g]; len(all) > 1 {
			d, rest := draftGroup(all)
			drafts, single = append(drafts, d...), append(single, rest...)
		}
	}
	drafts = append(drafts, draftSingles(single, drafts)...)
	slices.SortStableFunc(drafts, compareDrafts)
	b.make(drafts)
}

func compareDrafts(a, b *draft) int {
	return cmp.Or(cmp.Compare(a.main.source, b.main.source), cmp.Compare(a.main.Inst.ID(), b.main.Inst.ID()))
}

// make fills the items in, first their bodies and axes, then, when it is known
// which voids are full of steel, where they enter their hosts.
func (b *builder) make(drafts []*draft) {
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
