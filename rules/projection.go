package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Projection compares how far bolts stand out of the concrete with what they
// carry: grout, plate, washers, nuts and spare thread, as the rule file states them
// or as a base plate over the bolts shows them; and with what the model states.
var Projection = &Rule{
	ID:       "projection",
	Title:    "Projection",
	Measured: "projection",
	Doc: Doc{
		Wrong:    "The thread is too short for grout, plate, washer and nut: the nut does not grip, or somebody welds on a piece.",
		Measured: "Along the axis from the entry face out to the thread's end; negative when it is sunk. Where a base plate is found over the bolts, in any of the models, the gap under it, its thickness, washer, nut and a spare thread are added up; where the rule file states a stack, it is added up in the same way. A projection that the model states counts as a limit too. The largest governs.",
		Do:       "Set the bolt higher or choose a longer one; check the embedment depth afterwards.",
		Blind:    "Grout and plate where neither a base plate is in the models nor a stack in the rule file. A base plate that is one body with its column. The length of the thread: thread-length compares it. Bolts in a recess of their own.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt},
	Entries:  []Unit{MM, Inch, Diameters},
	Details:  stackDetails,
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Diameters, 2}},
		Cites:    []Citation{{Diameters, "", Practice}},
	},
	Run: projection,
}

func projection(p *Pass) error {
	for a := range p.Anchors() {
		got := a.Entry.Dist
		if geom.Short(got, -measure.FlushTol) {
			continue // in a recess of its own, which no plate lies over
		}
		r, ok := p.Required(a.Item, a, BasisOf(a))
		if s := a.Item.Stated.Projection; s > 0 && geom.Short(got+statedTol, s) {
			r, ok = r.atLeast(s, "stated in "+statedFrom(a.Item, "projection")), true
		}
		if st := p.stackOf(a, p.Params(a.Item)); st != nil && st.total() > r.Value {
			r, ok = r.raise(st.total(), st.String(), st.cite), true
		}
		if ok && geom.Short(got, r.Value) {
			g, w := figures(got, r.Value)
			text := fmt.Sprintf("%s stands %s mm out of the concrete", anchorName(a), g)
			if geom.Short(got, 0) {
				g, _ = figures(-got, 0)
				text = fmt.Sprintf("the thread of %s ends %s mm below the face of the concrete", anchorName(a), g)
			}
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.Open, Normal: a.Entry.Normal,
				Text: text + needed(w+" mm out of it", r),
			})
		}
	}
	return nil
}
