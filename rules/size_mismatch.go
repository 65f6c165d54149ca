package rules

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// SizeMismatch compares the diameter that the model states with the one it
// shows. Sockets are not asked: theirs is the thread's, inside the tube.
var SizeMismatch = &Rule{
	ID:       "size-mismatch",
	Title:    "Size differs from its text",
	Measured: "diameter",
	Doc: Doc{
		Wrong:    "The text was changed and the shape was not, or the other way round: what is ordered by the text does not have the distances that were checked.",
		Measured: "The diameter of the shank in the model against the one that name, type, profile or properties state; 1 mm is let pass, what a thread may be modelled thinner.",
		Do:       "Find out which of the two is right and correct the other.",
		Blind:    "Lengths, since they are stated in too many ways.",
	},
	Unit:     "mm",
	Relation: finding.Equal,
	Kinds:    []model.Kind{model.Bolt, model.Stud},
	Default:  Params{Priority: finding.Review, Cites: []Citation{{"", "the size that the model states", Read}}},
	Run:      sizeMismatch,
}

func sizeMismatch(p *Pass) error {
	for it := range p.Items() {
		want := it.Stated.Diameter
		if want <= 0 {
			continue
		}
		for _, a := range it.Anchors {
			if a.Diameter <= 0 || !geom.Over(math.Abs(a.Diameter-want), statedTol) {
				continue
			}
			g, w := figures(a.Diameter, want)
			p.Report(Hit{
				Item: it, Anchor: a, Measured: a.Diameter, Required: Required{Value: want, Governs: stated},
				At: entryPoint(a), Normal: normal(a),
				Text: fmt.Sprintf("%s is modelled %s mm thick; %s states %s mm", anchorName(a), g, statedFrom(it, "diameter"), w),
			})
		}
	}
	return nil
}
