package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Spacing compares the distance between the axes of anchors that enter one face.
//
// Bolts and sockets are taken as torqued, welded studs and lifters as not.
// Whether closely set anchors work depends on their loads: an engineer decides.
var Spacing = &Rule{
	ID:       "spacing",
	Title:    "Spacing",
	Measured: "spacing",
	Doc: Doc{
		Wrong:    "The concrete between the anchors splits or one shallow piece breaks out with all of them, and there is no room for spanners, heads and washers side by side.",
		Measured: "From axis to axis, in the entry face, to the anchor that enters the same face and misses the limit by most. Of two anchors of unequal diameter the thicker one counts.",
		Do:       "Move the anchors apart, or choose fewer or thinner ones.",
		Blind:    "Loads, and anchors that share one axis, such as a bolt in a socket: those are taken as one.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{MM, Inch, Diameters, Embedments, Thicknesses},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Diameters, 6}},
		Cites:    []Citation{{Diameters, "ACI 318-19 17.9.2, cast-in anchors that are torqued", Secondary}},
	},
	ForKinds: []KindParams{{[]model.Kind{model.Stud, model.Lifter, model.Plate}, Params{
		Priority: finding.Review,
		Limit:    Limit{{Diameters, 4}},
		Cites:    []Citation{{Diameters, "ACI 318-19 17.9.2, cast-in anchors that are not torqued", Secondary}},
	}}},
	Run: spacing,
}

// coaxial is the distance in mm up to which two axes are one.
const coaxial = 1

func spacing(p *Pass) error {
	for _, r := range p.anchorsByHost() {
		thickest := 0.0
		for _, a := range r.anchors {
			thickest = max(thickest, a.Diameter)
		}
		for i, a := range r.anchors {
			if p.On(a.Item) {
				p.spacingOf(i, r, thickest)
			}
		}
	}
	return nil
}

// spacingOf looks for the neighbour of anchor i that misses the limit by most.
func (p *Pass) spacingOf(i int, all row, thickest float64) {
	a := all.anchors[i]
	b := BasisOf(a)
	b.Diameter = thickest
	most, ok := p.Required(a.Item, a, b)
	if !ok {
		return
	}
	limit := p.Params(a.Item).Limit
	var worst Required
	var to *model.Anchor
	var got, miss float64
	for _, o := range all.within(i, most.Value) {
		d, ok := measure.Spacing(a, o)
		if !ok || !geom.Over(d, coaxial) {
			continue
		}
		b.Diameter = max(a.Diameter, o.Diameter)
		r, _ := limit.Resolve(p.Rule.Relation, b)
		if geom.Short(d, r.Value) && r.Value-d > miss+placeNoise {
			worst, to, got, miss = r, o, d, r.Value-d
		}
	}
	if to == nil {
		return
	}
	g, w := figures(got, worst.Value)
	p.Report(Hit{
		Item: a.Item, Anchor: a, Measured: got, Required: worst,
		At: a.Entry.Point, Normal: a.Entry.Normal, Others: []model.Ref{anchorRef(to)},
		Text: fmt.Sprintf("%s mm from axis to axis of %s and %s%s", g, anchorName(a), anchorName(to), needed(w+" mm", worst)),
	})
}

// anchorRef is the part that carries the anchor, or its item.
func anchorRef(a *model.Anchor) model.Ref {
	if a.Part != nil {
		return *a.Part
	}
	return a.Item.Ref
}
