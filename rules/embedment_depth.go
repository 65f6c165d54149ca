package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// EmbedmentDepth compares how deep an anchor holds in the concrete with a least
// depth, and with the depth that the model itself states.
//
// The built-in values are old rules of thumb, not what a design asks for: an
// engineer decides.
var EmbedmentDepth = &Rule{
	ID:       "embedment-depth",
	Title:    "Embedment depth",
	Measured: "embedment depth",
	Doc: Doc{
		Wrong:    "The anchor pulls out with a shallow cone of concrete, because it is too short or was set too high.",
		Measured: "Along the axis from the entry face to the bearing side of head, nut or washer plate; L and J bolts to the top of the hook; a plain rod to its end. Where the model states an embedment, that counts as a limit too; it is met when the deepest point of the anchor reaches it, because some state it that way.",
		Do:       "Set the anchor deeper or choose a longer one; check the projection afterwards.",
		Blind:    "Loads and concrete strength, and toppings or finishes that are modelled as part of the concrete.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{MM, Inch, Diameters, Thicknesses},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 50}, {Diameters, 4}},
		Cites: []Citation{
			{MM, "TMS 402, headed anchors in masonry, as a rule of thumb", Secondary},
			{Diameters, "TMS 402, headed anchors in masonry, as a rule of thumb", Secondary},
		},
	},
	ForKinds: []KindParams{{[]model.Kind{model.Bolt}, Params{
		Priority: finding.Review,
		Limit:    Limit{{Diameters, 12}},
		Cites: []Citation{
			{Diameters, "rule of thumb for hold-down bolts of mild steel, AISC Design Guide 1, 1st edition; not in later editions", Secondary},
		},
	}}},
	Run: embedmentDepth,
}

// statedTol is by how much, in mm, a stated length may be rounded.
const statedTol = 1

func embedmentDepth(p *Pass) error {
	for a := range p.Anchors() {
		b := BasisOf(a)
		got := b.Embedment
		r, ok := p.Required(a.Item, a, b)
		if s := a.Item.Stated.Embedment; s > 0 && geom.Short(a.Deepest-a.Entry.Dist+statedTol, s) {
			r, ok = r.atLeast(s, "stated in "+statedFrom(a.Item, "embedment")), true
		}
		if ok && geom.Short(got, r.Value) {
			g, w := figures(got, r.Value)
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.Entry.Point, Normal: a.Entry.Normal,
				Text: fmt.Sprintf("%s is embedded by %s mm%s%s", anchorName(a), g, bearing(a), needed(w+" mm", r)),
			})
		}
	}
	return nil
}

// bearing says what the embedment depth runs to.
func bearing(a *model.Anchor) string {
	switch a.End {
	case model.Hooked:
		return " to the top of its hook"
	case model.Headed:
		return " to the bearing side of its head"
	}
	return ""
}

// statedFrom says where the model states a value.
func statedFrom(it *model.Item, field string) string {
	if f := finding.Plain(it.Stated.From[field]); f != "" {
		return f
	}
	return "the model"
}
