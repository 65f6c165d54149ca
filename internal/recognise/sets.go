package recognise

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// sets gathers the anchors that work together: those of one assembly, the
// shanks of one fastener, those through one template plate, and, where nothing
// ties them, equal anchors close together on one face.
func (b *builder) sets() {
	b.setsByAssembly()
	b.setsByItem()
	b.setsByTemplate()
	b.setsByNearness()
}

func (b *builder) addSet(s *model.Set) {
	byMark(s.Items)
	for _, it := range s.Items {
		it.Set = s
		s.Anchors = append(s.Anchors, it.Anchors...)
		if it.Kind == model.Template && s.Template == nil {
			s.Template = it
		}
	}
	b.out.Sets = append(b.out.Sets, s)
}

// byMark orders items as people count them, HD-2 before HD-10; those without a
// mark stay in the order of the file.
func byMark(items []*model.Item) {
	slices.SortStableFunc(items, func(a, b *model.Item) int {
		return cmp.Or(cmp.Compare(len(a.Mark), len(b.Mark)), cmp.Compare(a.Mark, b.Mark))
	})
}

func (b *builder) setsByAssembly() {
	byID := map[string]*model.Set{}
	label := map[string]string{}
	for _, c := range b.cands {
		if c.group != nil {
			label[c.group.GlobalID] = c.group.Label()
		}
	}
	var order []*model.Set
	for _, it := range b.out.Items {
		if it.Assembly == "" {
			continue
		}
		s := byID[it.Assembly]
		if s == nil {
			s = &model.Set{Name: label[it.Assembly], Evidence: "one assembly"}
			byID[it.Assembly] = s
			order = append(order, s)
		}
		s.Items = append(s.Items, it)
	}
	for _, s := range order {
		b.addSet(s)
	}
}

// setsByItem makes a set of each fastener that carries several shanks, and of
// each plate with its studs.
func (b *builder) setsByItem() {
	for _, it := range b.out.Items {
		if it.Set == nil && len(it.Anchors) > 1 {
			b.addSet(&model.Set{Name: itemName(it), Items: []*model.Item{it}, Evidence: "one body with several anchors"})
		}
	}
}

func (b *builder) setsByTemplate() {
	tree := geom.NewBoxTree(reaches(b.out.Items))
	for _, t := range b.out.Items {
		if t.Kind != model.Template || t.Set != nil {
			continue
		}
		s := &model.Set{Name: itemName(t), Items: []*model.Item{t}, Evidence: "one template plate"}
		var near []int
		tree.Query(t.Box.Grow(onTemplate), func(i int) bool { near = append(near, i); return true })
		slices.Sort(near)
		for _, i := range near {
			if it := b.out.Items[i]; it.Set == nil && it != t && it.Source == t.Source && through(it, t) {
				s.Items = append(s.Items, it)
			}
		}
		if len(s.Items) > 1 {
			b.addSet(s)
		}
	}
}

// onTemplate is the gap, mm, across which a fitting still sits on a template.
const onTemplate = 2

// reaches are the boxes around the items and the axes of their anchors.
func reaches(items []*model.Item) []geom.Box {
	out := make([]geom.Box, len(items))
	for i, it := range items {
		out[i] = it.Box
		for _, a := range it.Anchors {
			out[i] = out[i].Union(axisBox(a))
		}
	}
	return out
}

// axisBox is the box around the axis of an anchor, as thick as its shank.
func axisBox(a *model.Anchor) geom.Box {
	r := geom.Rod{Path: []geom.Vec{a.Open, a.At(a.Deepest)}, Radius: max(a.Diameter/2, 1)}
	return r.Box()
}

// through reports whether an item's axis passes the template, or a fitting sits
// on it.
func through(it, t *model.Item) bool {
	if it.Kind == model.Fitting {
		return it.Box.Overlaps(t.Box.Grow(onTemplate))
	}
	return slices.ContainsFunc(it.Anchors, func(a *model.Anchor) bool { return axisBox(a).Overlaps(t.Box) })
}

// setsByNearness joins equal anchors on one face that stand closer than three
// embedments: their breakout cones overlap.
func (b *builder) setsByNearness() {
	for _, h := range b.hostsInUse() {
		var loose []*model.Anchor
		for _, it := range h.Items {
			if it.Set == nil && !it.Twin && it.Kind != model.Lifter && len(it.Anchors) == 1 && it.Anchors[0].Entry != nil {
				loose = append(loose, it.Anchors[0])
			}
		}
		for _, cluster := range nearby(loose) {
			s := &model.Set{Evidence: "equal anchors closer than 3 embedments on one face"}
			for _, a := range cluster {
				s.Items = append(s.Items, a.Item)
			}
			byMark(s.Items)
			s.Name = itemName(s.Items[0])
			if slices.ContainsFunc(s.Items, func(it *model.Item) bool { return itemName(it) != s.Name }) {
				s.Name = fmt.Sprintf("%s and %d more", s.Name, len(s.Items)-1)
			}
			b.addSet(s)
		}
	}
}

// nearby are the clusters of two and more anchors of one kind and size.
func nearby(all []*model.Anchor) [][]*model.Anchor {
	near := geom.NewDisjoint(len(all))
	for i, a := range all {
		for j := i + 1; j < len(all); j++ {
			if c := all[j]; alike(a, c) {
				if d, ok := measure.Spacing(a, c); ok && d < 3*min(a.Embedment(), c.Embedment()) {
					near.Join(int32(i), int32(j))
				}
			}
		}
	}
	var out [][]*model.Anchor
	for _, set := range near.Sets() {
		if len(set) < 2 {
			continue
		}
		var c []*model.Anchor
		for _, i := range set {
			c = append(c, all[i])
		}
		slices.SortStableFunc(c, func(x, y *model.Anchor) int { return cmp.Compare(x.Item.Instance, y.Item.Instance) })
		out = append(out, c)
	}
	return out
}

// alike reports whether two anchors are equal as far as a set asks.
func alike(a, c *model.Anchor) bool {
	return a.Item.Kind == c.Item.Kind && math.Abs(a.Diameter-c.Diameter) < 0.5 &&
		math.Abs(a.Embedment()-c.Embedment()) < 0.1*a.Embedment()+1
}

func itemName(it *model.Item) string {
	for _, s := range []string{it.Name, it.Mark, it.GlobalID} {
		if s != "" {
			return s
		}
	}
	return it.Class
}
