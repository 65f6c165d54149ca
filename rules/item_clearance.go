package rules

import (
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// ItemClearance finds items that are in each other's way.
//
// Recess formers, templates, nuts and washers are made to sit on other items,
// and what shares an axis, a set or an assembly belongs together. Items often
// touch on purpose, so that only an overlap counts unless a project says more.
var ItemClearance = &Rule{
	ID:       "item-clearance",
	Title:    "Clear distance between items",
	Measured: "clear distance",
	Doc: Doc{
		Wrong:    "Two items cannot both be placed as drawn; the second one is moved by hand or left out.",
		Measured: "Surface to surface between two items of one host, negative where they overlap.",
		Do:       "Move one of the two.",
		Blind:    "Items of one set or assembly, items with one axis such as a bolt in its sleeve, and contact that is intended but not modelled as an assembly.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate, model.Channel, model.Sleeve},
	Entries:  []Unit{MM, Inch},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 0}},
		Cites:    []Citation{{MM, "two bodies cannot be in one place", Practice}},
	},
	Run: itemClearance,
}

func itemClearance(p *Pass) error {
	var items []*model.Item
	var boxes []geom.Box
	for _, it := range p.unheaped(slices.Collect(p.Items())) {
		items, boxes = append(items, it), append(boxes, it.Box)
	}
	tree := geom.NewBoxTree(boxes)
	found := make([][]Hit, len(items)) // slot i belongs to item i: no lock
	p.each(len(items), func(i int) {
		a := items[i]
		r, ok := p.Params(a).Limit.Resolve(finding.AtLeast, Basis{})
		if !ok {
			return
		}
		tree.Query(a.Box.Grow(r.Value), func(k int) bool {
			if b := items[k]; k != i && !belongTogether(a, b) {
				if h, ok := p.tooNear(a, b, r); ok {
					found[i] = append(found[i], h)
				}
			}
			return true
		})
		found[i] = nearestOf(found[i], "items")
	})
	for _, hits := range found {
		for _, h := range hits {
			p.Report(h)
		}
	}
	return nil
}

// tooNear measures a against b for the limit of a. A pair is told once: with the
// item whose limit is larger or, of equal ones, with the first in order.
func (p *Pass) tooNear(a, b *model.Item, r Required) (Hit, bool) {
	o, _ := p.Params(b).Limit.Resolve(finding.AtLeast, Basis{})
	if o.Value > r.Value || o.Value == r.Value && p.later(a, b) {
		return Hit{}, false
	}
	gap, ok := measure.ItemGap(a, b, r.Value)
	if !ok || !geom.Short(gap.Dist, r.Value) {
		return Hit{}, false
	}
	h := Hit{Item: a, Anchor: anchorAt(a, gap.At), Measured: gap.Dist, Required: r, At: gap.At, Others: []model.Ref{b.Ref}}
	if h.Anchor != nil {
		h.Normal = normal(h.Anchor)
	}
	got, want := figures(gap.Dist, r.Value)
	if geom.Short(gap.Dist, 0) {
		got, _ = figures(-gap.Dist, 0)
		h.Text = fmt.Sprintf("%s and %s overlap by %s mm", itemName(a), itemName(b), got)
	} else {
		h.Text = fmt.Sprintf("%s mm clear between %s and %s%s", got, itemName(a), itemName(b), needed(want+" mm", r))
	}
	return h, true
}

// belongTogether reports whether two items are parts of one thing, are in no
// common host, or are one thing modelled twice, which the rule duplicate tells.
func belongTogether(a, b *model.Item) bool {
	return a.Host == nil || a.Host != b.Host ||
		a.Set != nil && a.Set == b.Set ||
		a.Assembly != "" && a.Assembly == b.Assembly ||
		a.Twin || b.Twin ||
		sameThing(a, b) ||
		oneAxis(a, b)
}

// oneAxis reports whether two items sit on one axis: a socket and its bolt, a
// bolt and its sleeve.
func oneAxis(a, b *model.Item) bool {
	for _, x := range a.Anchors {
		for _, y := range b.Anchors {
			if math.Abs(x.Dir.Dot(y.Dir)) > 0.9998 && offAxis(x, y.Open) <= coaxial {
				return true
			}
		}
	}
	return len(b.Anchors) == 0 && centred(a, b) || len(a.Anchors) == 0 && centred(b, a)
}

// centred reports whether an item without an axis has its middle on one of the
// axes of the other.
func centred(a, bare *model.Item) bool {
	const off = 5 // mm, for what is not quite round
	for _, x := range a.Anchors {
		if offAxis(x, bare.Middle()) <= off {
			return true
		}
	}
	return false
}

// offAxis is the distance from the line of an anchor's axis to a point.
func offAxis(a *model.Anchor, p geom.Vec) float64 { return p.Sub(a.Open).Cross(a.Dir).Norm() }
