package recognise

import (
	"embedcheck/internal/element"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// ahead builds the shapes of elements that nothing is cast into but that stand
// before the open end of an item: their boxes alone would be in the way of much
// that they are not.
func (b *builder) ahead() {
	meets := make([]bool, len(b.bodies))
	var list []*body
	for _, it := range b.out.Items {
		if it.Kind != model.Bolt && it.Kind != model.Socket {
			continue
		}
		for _, a := range it.Anchors {
			if a.Entry == nil {
				continue
			}
			b.tree.Query(measure.WayOut(a, measure.LongestWay).Box(), func(i int) bool {
				if !meets[i] {
					meets[i] = true
					list = append(list, b.bodies[i])
				}
				return true
			})
		}
	}
	element.Parallel(len(list), b.opt.Workers, func(i int) { list[i].ready() })
}
