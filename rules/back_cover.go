package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// BackCover compares the concrete left behind an anchor with a least cover.
//
// Anchors that come out of the far face are left to the rule through.
var BackCover = &Rule{
	ID:       "back-cover",
	Title:    "Cover behind",
	Measured: "back cover",
	Doc: Doc{
		Wrong:    "The end of the anchor shows or rusts through on the far face, spalls the thin skin behind it, or touches the form, so that the item cannot be set as drawn.",
		Measured: "Along the axis from the deepest point of the anchor, with its hook, head or nut, to the far face of the concrete.",
		Do:       "Choose a shorter anchor, set it less deep, or thicken the member.",
		Blind:    "Exposure: covers of 30 mm and more are usual outdoors, so that a project should state its own. Cover sideways is told by edge-distance.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{MM, Inch, Diameters, Thicknesses},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 20}},
		Cites:    []Citation{{MM, "least cover of precast concrete in plant forms; ACI 318 Table 20.5.1.3.3 has 16 and 19 mm for walls", Secondary}},
	},
	Run: backCover,
}

func backCover(p *Pass) error {
	for a := range p.Anchors() {
		got := a.BackCover()
		if geom.Short(got, 0) {
			continue
		}
		if r, ok := p.Required(a.Item, a, BasisOf(a)); ok && geom.Short(got, r.Value) {
			g, w := figures(got, r.Value)
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.At(a.Deepest), Normal: a.Entry.Normal,
				Text: fmt.Sprintf("%s mm of concrete behind %s%s", g, anchorName(a), needed(w+" mm", r)),
			})
		}
	}
	return nil
}
