package rules

import (
	"fmt"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// mostInOnePlace is how many items of other sets and assemblies an item may share
// its place with. No drawing comes near to that; a model that lost a placement
// does, and then pairs of bodies that run through each other take hours.
const mostInOnePlace = 100

// findHeaps finds the items that stand in one place with more than mostInOnePlace
// others, by their boxes.
func (s *shared) findHeaps() map[*model.Item]bool {
	boxes := make([]geom.Box, len(s.m.Items))
	for i, it := range s.m.Items {
		boxes[i] = it.Box
	}
	tree := geom.NewBoxTree(boxes)
	in := make([]bool, len(boxes)) // slot i belongs to item i: no lock
	s.each(len(boxes), func(i int) {
		n, it := 0, s.m.Items[i]
		tree.Query(boxes[i], func(k int) bool {
			if o := s.m.Items[k]; k != i && !(it.Set != nil && it.Set == o.Set || it.Assembly != "" && it.Assembly == o.Assembly) {
				n++
			}
			return n <= mostInOnePlace
		})
		in[i] = n > mostInOnePlace
	})
	out := map[*model.Item]bool{}
	for i, it := range s.m.Items {
		if in[i] {
			out[it] = true
		}
	}
	return out
}

// unheaped leaves out the items that stand in a heap, and says so of each.
func (p *Pass) unheaped(items []*model.Item) []*model.Item {
	heaps := p.heaps()
	if len(heaps) == 0 {
		return items
	}
	var out []*model.Item
	for _, it := range items {
		if heaps[it] {
			p.Unchecked(it, nil, fmt.Sprintf("%s: more than %d other items stand in the same place; see whether placements were lost", p.Rule.ID, mostInOnePlace))
		} else {
			out = append(out, it)
		}
	}
	return out
}
