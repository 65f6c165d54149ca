package subject

import (
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Bar is a piece of reinforcement: a rod, or a body that is none.
type Bar struct {
	Piece int // number among pieces, then meshes
	Mark  int32
	Rod   *geom.Rod
	Mesh  *geom.Mesh
}

// Bars are the pieces of reinforcement whose box meets b, in the order of the
// model, at most limit of them.
func (x *Index) Bars(b geom.Box, limit int) []Bar {
	var found []int
	x.bars().Query(b, func(i int) bool {
		found = append(found, i)
		return true
	})
	slices.Sort(found)
	if len(found) > limit {
		found = found[:limit]
	}
	out := make([]Bar, len(found))
	for k, i := range found {
		out[k] = x.bar(i)
	}
	return out
}

func (x *Index) bar(i int) Bar {
	bars := &x.m.Bars
	if n := i - len(bars.Pieces); n >= 0 {
		return Bar{Piece: i, Mark: bars.Meshes[n].Mark, Mesh: bars.Meshes[n].Mesh}
	}
	r := bars.Rod(i)
	return Bar{Piece: i, Mark: bars.Pieces[i].Mark, Rod: &r}
}

// Ref names the bar's element.
func (x *Index) Ref(b *Bar) model.Ref { return x.m.Bars.Ref(b.Mark) }

// ItemsIn are the items whose box meets b, in the order of the model, and the base
// plates over bolts.
func (x *Index) ItemsIn(b geom.Box) []*model.Item {
	var found []int
	x.itemTree().Query(b, func(i int) bool {
		found = append(found, i)
		return true
	})
	slices.Sort(found)
	out := make([]*model.Item, len(found))
	for k, i := range found {
		out[k] = x.seen[i]
	}
	return out
}
