package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Through finds anchors that come out of the far face. Where they come out into
// another element, two-hosts tells it.
var Through = &Rule{
	ID:       "through",
	Title:    "Out of the far face",
	Measured: "back cover",
	Doc: Doc{
		Wrong:    "The anchor is longer than the concrete is thick: it cannot be cast as drawn, or it is cut on site and holds by nothing.",
		Measured: "The back cover, which is negative by what the deepest point of the anchor sticks out beyond the far face, along the axis.",
		Do:       "Choose a shorter anchor or thicken the member. Where an anchor is meant to pass through, switch the rule off for its kind or mark.",
		Blind:    "What comes out of a side: edge-distance tells how near the axis is to it.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Default:  Params{Priority: finding.Hold, Cites: []Citation{{"", "", Practice}}},
	Run:      through,
}

func through(p *Pass) error {
	for a := range p.Anchors() {
		got := a.BackCover()
		if !geom.Short(got, 0) {
			continue
		}
		if _, into := p.reachInto(a); geom.Over(into, crossing) {
			continue
		}
		out, _ := figures(-got, 0)
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: got, At: a.At(a.Deepest), Normal: a.Entry.Normal,
			Text: fmt.Sprintf("%s sticks out %s mm beyond the far face, where the concrete is %s mm thick", anchorName(a), out, figure(a.Entry.Thickness)),
		})
	}
	return nil
}
