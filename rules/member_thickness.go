package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// MemberThickness compares the concrete along an anchor with a least thickness.
var MemberThickness = &Rule{
	ID:       "member-thickness",
	Title:    "Thickness of the member",
	Measured: "member thickness",
	Doc: Doc{
		Wrong:    "The member is too thin for the anchor: it splits, or the makers' figures do not hold.",
		Measured: "Concrete along the axis from the entry face to the far face at that place, not the nominal thickness.",
		Do:       "Thicken the member locally, or choose a shorter anchor made for thin members.",
		Blind:    "What the maker of the item asks for: state it in the rule file. Insulation and outer leaves count only where they are modelled as concrete.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{MM, Inch, Diameters, Embedments},
	Default: Params{
		Priority: finding.Note,
		Limit:    Limit{{MM, 80}},
		Cites:    []Citation{{MM, "", Practice}},
	},
	Run: memberThickness,
}

func memberThickness(p *Pass) error {
	for a := range p.Anchors() {
		got := a.Entry.Thickness
		if r, ok := p.Required(a.Item, a, BasisOf(a)); ok && geom.Short(got, r.Value) {
			g, w := figures(got, r.Value)
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.Entry.Point, Normal: a.Entry.Normal,
				Text: fmt.Sprintf("the concrete is %s mm thick at %s%s", g, anchorName(a), needed(w+" mm", r)),
			})
		}
	}
	return nil
}
