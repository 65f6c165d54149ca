package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// SideFace finds headed anchors that are deep for their distance to an edge.
// Lifters stand in thin panels by nature, with reinforcement of their own; for
// them it is a note.
var SideFace = &Rule{
	ID:       "side-face",
	Title:    "Deep beside an edge",
	Measured: "embedment depth divided by the edge distance",
	Doc: Doc{
		Wrong:    "The head bursts the concrete out sideways before the anchor reaches its strength; a longer anchor does not help.",
		Measured: "Embedment depth divided by the edge distance, for anchors with a head, nut or washer plate at their end.",
		Do:       "Have the engineer check side-face blow-out, or move the anchor away from the edge.",
		Blind:    "Loads, head size, reinforcement along the edge, and hooked or plain anchors, which fail another way.",
	},
	Unit:     "ratio",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{Ratio},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Ratio, 2.5}},
		Cites:    []Citation{{Ratio, "ACI 318-19 17.6.4, from which ratio on blow-out is to be checked", Secondary}},
	},
	ForKinds: []KindParams{{[]model.Kind{model.Lifter}, Params{
		Priority: finding.Note, Limit: Limit{{Ratio, 2.5}},
		Cites: []Citation{{Ratio, "ACI 318-19 17.6.4, from which ratio on blow-out is to be checked", Secondary}},
	}}},
	Run: sideFace,
}

func sideFace(p *Pass) error {
	for a := range p.Anchors() {
		e, ok := p.edge(a)
		if a.End != model.Headed || !ok || !geom.Over(e.Dist, 0) {
			continue
		}
		got := a.Embedment() / e.Dist
		r, ok := p.Required(a.Item, a, BasisOf(a))
		if ok && geom.Over(got, r.Value) {
			to, others := edgeWords(a.Item.Host, a.Entry, e)
			g, w := figures2(got, r.Value)
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.Entry.Point, Normal: a.Entry.Normal, Others: others,
				Text: fmt.Sprintf("%s is %s mm deep and %s mm from %s: %s times as deep as it is far, at most %s without a check of blow-out",
					anchorName(a), figure(a.Embedment()), figure(e.Dist), to, g, w),
			})
		}
	}
	return nil
}
