package rules

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Flush compares how far plates and sockets stand out of the face, or lie below
// it. A socket in a recess of its own is deeper on purpose and not asked.
var Flush = &Rule{
	ID:       "flush",
	Title:    "Not flush",
	Measured: "distance from the outer end to the face of the concrete",
	Doc: Doc{
		Wrong:    "A plate that lies below the face cannot be welded to without chipping; one that stands out keeps the form from closing. A socket below the face is lost under the skin, one that stands out is in the way.",
		Measured: "Along the axis from the entry face to the outer face of the plate or the mouth of the socket, either way.",
		Do:       "Move the item to the face, or model the recess that it stands in.",
		Blind:    "Finishes and toppings that are modelled apart.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Socket, model.Plate, model.Channel},
	Entries:  []Unit{MM, Inch, Diameters},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 6}},
		Cites:    []Citation{{MM, "tolerance of plates in precast walls, PCI MNL-135", Memory}},
	},
	Run: flush,
}

func flush(p *Pass) error {
	for it := range p.Items() {
		if soundPlate(it) {
			p.flush(it, nil, it.PlateIn, Basis{})
			continue
		}
		for _, a := range it.Anchors {
			if it.Kind == model.Socket && sound(a) && !geom.Short(a.Entry.Dist, -measure.FlushTol) {
				p.flush(it, a, a.Entry, BasisOf(a))
			}
		}
	}
	return nil
}

func (p *Pass) flush(it *model.Item, a *model.Anchor, in *model.Entry, b Basis) {
	limit := p.Params(it).Limit
	if a == nil {
		limit = limit.lengths()
	}
	r, ok := limit.Resolve(p.Rule.Relation, b)
	got := math.Abs(in.Dist)
	if !ok || !geom.Over(got, r.Value) {
		return
	}
	name, where := itemName(it), "out of"
	if a != nil {
		name = anchorName(a)
	}
	if in.Dist < 0 {
		where = "below"
	}
	g, w := figures(got, r.Value)
	p.Report(Hit{
		Item: it, Anchor: a, Measured: got, Required: r, At: in.Point, Normal: in.Normal,
		Text: fmt.Sprintf("%s is %s mm %s the face of the concrete; at most %s mm%s", name, g, where, w, r.why()),
	})
}
