package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// PlateEdge finds plates that reach beyond the concrete.
//
// Plates around a corner may be meant so: an engineer decides.
var PlateEdge = &Rule{
	ID:       "plate-edge",
	Title:    "Plate beyond the concrete",
	Measured: "distance from the plate's outline to the edge of the concrete",
	Doc: Doc{
		Wrong:    "The plate hangs over an edge or into an opening: it does not fit the form, mortar runs out behind it, and what is welded to it bends the free part.",
		Measured: "The corners of the plate's outer face that have no concrete behind them, to the edge of the concrete, in the plane of the face; negative by what the plate reaches beyond it.",
		Do:       "Move the plate or the opening, choose a smaller plate, or detail the corner.",
		Blind:    "Plates that lie in no face of the concrete: not-checked tells them.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Plate, model.Channel},
	Default:  Params{Priority: finding.Review, Cites: []Citation{{"", "", Practice}}},
	Run:      plateEdge,
}

func plateEdge(p *Pass) error {
	for it := range p.Items() {
		if !soundPlate(it) {
			continue
		}
		e, ok := measure.PlateEdge(it)
		if !ok || !geom.Short(e.Dist, 0) {
			continue
		}
		edge, others := edgeWords(it.Host, it.PlateIn, e)
		over, _ := figures(-e.Dist, 0)
		p.Report(Hit{
			Item: it, Measured: e.Dist, At: e.At, Normal: it.PlateIn.Normal, Others: others,
			Text: fmt.Sprintf("%s reaches %s mm beyond %s", itemName(it), over, edge),
		})
	}
	return nil
}
