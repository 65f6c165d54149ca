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

// Level finds bolts of one set whose ends do not lie in one plane.
var Level = &Rule{
	ID:       "level",
	Title:    "Ends not level",
	Measured: "height of the end over those of the set",
	Doc: Doc{
		Wrong:    "One nut does not grip, or the plate does not sit down.",
		Measured: "Along the axis, the open end of each bolt against the middle one of those of its set that enter the same face and have its diameter.",
		Do:       "Set the bolts to one height.",
		Blind:    "Sets that are stepped on purpose: switch the rule off for them.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Bolt},
	Entries:  []Unit{MM, Inch, Diameters},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 5}},
		Cites:    []Citation{{MM, "", Practice}},
	},
	Run: level,
}

func level(p *Pass) error {
	for _, s := range p.m.Sets {
		for _, a := range s.Anchors {
			if !p.On(a.Item) || !sound(a) {
				continue
			}
			r, ok := p.Required(a.Item, a, BasisOf(a))
			if !ok {
				continue
			}
			off, ok := offLevel(a, s.Anchors)
			if !ok || !geom.Over(math.Abs(off), r.Value) {
				continue
			}
			g, w := figures(math.Abs(off), r.Value)
			than := "higher"
			if off < 0 {
				than = "lower"
			}
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: math.Abs(off), Required: r, At: a.Open, Normal: a.Entry.Normal,
				Text: fmt.Sprintf("the end of %s is %s mm %s than those of its set; at most %s mm%s", anchorName(a), g, than, w, r.why()),
			})
		}
	}
	return nil
}

// offLevel is by how much an anchor's open end stands out further than the
// middle one of its like in the set; false when it has none. Of two equal halves
// the lower middle counts, so that at least one of two unequal bolts is told.
func offLevel(a *model.Anchor, set []*model.Anchor) (float64, bool) {
	out := a.Dir.Neg()
	heights := []float64{0}
	for _, o := range set {
		if !sound(o) || o.Item.Kind != a.Item.Kind || math.Abs(o.Diameter-a.Diameter) > samePlace || o.Dir.Dot(a.Dir) < 0.999 {
			continue
		}
		if _, same := measure.Spacing(a, o); same {
			heights = append(heights, o.Open.Sub(a.Open).Dot(out))
		}
	}
	if len(heights) < 2 {
		return 0, false
	}
	slices.Sort(heights)
	return -heights[(len(heights)-1)/2], true
}
