package rules

import (
	"cmp"
	"fmt"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// barBlock is how many pieces of reinforcement a worker takes at a time.
const barBlock = 2048

// eachNearBar shows all pieces of reinforcement whose box comes within reach(it)
// mm of a body of an item, together with that item, once. The few items are
// indexed and the many bars run past them, on all workers; see is called with
// the number of the block that it works for, and writes to a place of that block
// only. Pieces that are meshes count on behind those that are rods.
func (s *shared) eachNearBar(items []*model.Item, reach func(*model.Item) float64, blocks func(n int), see func(block int, it *model.Item, piece int)) {
	bars := &s.m.Bars
	n := (bars.Count() + barBlock - 1) / barBlock
	blocks(n)
	var boxes []geom.Box
	var owner []int32
	for i, it := range items {
		d := reach(it)
		for k := range it.Bodies {
			boxes = append(boxes, it.Bodies[k].Box.Grow(d))
			owner = append(owner, int32(i))
		}
	}
	if len(boxes) == 0 {
		return
	}
	tree := geom.NewBoxTree(boxes)
	s.each(n, func(block int) {
		var hit []int32
		for i := block * barBlock; i < min((block+1)*barBlock, bars.Count()); i++ {
			hit = hit[:0]
			tree.Query(barBox(bars, i), func(b int) bool {
				hit = append(hit, owner[b])
				return true
			})
			slices.Sort(hit)
			for _, o := range slices.Compact(hit) {
				see(block, items[o], i)
			}
		}
	})
}

// barBox is the box around piece i, rods first, then meshes.
func barBox(bars *model.Bars, i int) geom.Box {
	if i >= len(bars.Pieces) {
		return bars.Meshes[i-len(bars.Pieces)].Box
	}
	return bars.Rod(i).Box()
}

// barMark is the mark of piece i, rods first, then meshes.
func barMark(bars *model.Bars, i int) int32 {
	if i >= len(bars.Pieces) {
		return bars.Meshes[i-len(bars.Pieces)].Mark
	}
	return bars.Pieces[i].Mark
}

// barDiameter is the diameter of piece i; 0 for one known as a body only.
func barDiameter(bars *model.Bars, i int) float64 {
	if i >= len(bars.Pieces) {
		return 0
	}
	return 2 * float64(bars.Pieces[i].Radius)
}

// thickestBar is the largest diameter of all pieces.
func thickestBar(bars *model.Bars) float64 {
	var r float32
	for i := range bars.Pieces {
		r = max(r, bars.Pieces[i].Radius)
	}
	return 2 * float64(r)
}

// mostNear is how many neighbours of one item are told, the nearest first: a heap
// of a thousand items in one place has a million pairs.
const mostNear = 50

// nearestOf keeps the nearest of the neighbours of one item, and says in the last
// of them how many more there are.
func nearestOf(hits []Hit, what string) []Hit {
	if len(hits) <= mostNear {
		return hits
	}
	slices.SortStableFunc(hits, func(a, b Hit) int { return cmp.Compare(a.Measured, b.Measured) })
	last := &hits[mostNear-1]
	last.Text += fmt.Sprintf("; %d more %s are too near, by no more than that", len(hits)-mostNear, what)
	return slices.Clone(hits[:mostNear])
}
