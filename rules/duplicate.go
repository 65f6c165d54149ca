package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Duplicate finds items that are modelled twice.
var Duplicate = &Rule{
	ID:    "duplicate",
	Title: "Modelled twice",
	Doc: Doc{
		Wrong:    "The item is counted, ordered and drawn twice, and one of the two keeps an old size or mark after the next change.",
		Measured: "Two items of one kind whose boxes have the same size and the same place within 1 mm; or the same size and overlapping by more than half their least size, as after a small move of one of them.",
		Do:       "Delete the one that is too many, in whichever model it is.",
		Blind:    "Items that are modelled twice in different shapes.",
	},
	Kinds:   allKinds(),
	Default: Params{Priority: finding.Review},
	Run:     duplicate,
}

// allKinds is a list of every kind.
func allKinds() []model.Kind {
	out := make([]model.Kind, len(model.Kinds()))
	for i := range out {
		out[i] = model.Kind(i)
	}
	return out
}

// samePlace is how far two items in one place may be apart, and same sizes may
// differ, in mm.
const samePlace = 1

func duplicate(p *Pass) error {
	items := slices.Collect(p.Items())
	slices.SortStableFunc(items, p.order)
	middles := make([]geom.Box, len(items))
	for i, it := range items {
		middles[i] = geom.EmptyBox
		if !it.Box.Empty() {
			middles[i] = geom.BoxOf(it.Middle())
		}
	}
	tree := geom.NewBoxTree(middles)
	told := make([]bool, len(items)) // an item that is there many times is told once
	for i, it := range items {
		tree.Query(middles[i].Grow(samePlace+overlapReach(it)), func(k int) bool {
			if k > i && !told[k] && sameThing(it, items[k]) {
				told[k] = true
				p.reportTwice(it, items[k])
			}
			return true
		})
	}
	return nil
}

// sameThing reports whether two items are one, drawn twice.
func sameThing(a, b *model.Item) bool {
	if a.Kind != b.Kind || a.Box.Empty() || b.Box.Empty() {
		return false
	}
	s, t := sizesOf(a, b)
	for _, d := range [3]float64{s.X - t.X, s.Y - t.Y, s.Z - t.Z} {
		if geom.Over(math.Abs(d), samePlace) {
			return false
		}
	}
	d := a.Middle().Dist(b.Middle())
	return !geom.Over(d, samePlace) || geom.Short(d, overlapReach(a))
}

// overlapReach is the distance below which two items of one size overlap by
// more than half.
func overlapReach(it *model.Item) float64 {
	s := it.OwnBox().Size()
	return min(s.X, s.Y, s.Z) / 2
}

// sizesOf are the sizes of two items along the axes of the first: those along the
// axes of the model would depend on how it is turned.
func sizesOf(a, b *model.Item) (s, t geom.Vec) {
	if a.Frame.Det() == 0 {
		return a.Box.Size(), b.Box.Size()
	}
	return a.OwnBox().Size(), b.BoxIn(a.Frame).Size()
}

// reportTwice reports an item that is behind another one in order.
func (p *Pass) reportTwice(a, b *model.Item) {
	d := a.Middle().Dist(b.Middle())
	name, other := itemName(b), itemName(a)
	if from := sourceName(p.m, a.Source); from != sourceName(p.m, b.Source) {
		other += " of " + finding.Plain(from)
	}
	h := Hit{Item: b, At: b.Middle(), Others: []model.Ref{a.Ref}}
	if geom.Over(d, samePlace) {
		h.Text = fmt.Sprintf("%s overlaps %s, of the same kind and size, %s mm from it", name, other, figure(d))
	} else {
		h.Text = fmt.Sprintf("%s is in the same place as %s, of the same kind and size", name, other)
	}
	p.Report(h)
}

// later reports whether a comes behind b in order.
func (p *Pass) later(a, b *model.Item) bool { return p.order(a, b) > 0 }

// order is one that the order of reading has no part in.
func (p *Pass) order(a, b *model.Item) int {
	g, h := p.group[p.index[a]], p.group[p.index[b]]
	return cmp.Or(
		finding.Natural(a.Name, b.Name),
		cmp.Compare(g.key, h.key),
		cmp.Compare(g.twin, h.twin),
		compareVec(a.Box.Min, b.Box.Min),
		compareRef(p.m, a, b),
	)
}
