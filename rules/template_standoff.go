package rules

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// TemplateStandoff compares the height under a template with the room that it
// takes to place, level and finish concrete there.
var TemplateStandoff = &Rule{
	ID:       "template-standoff",
	Title:    "Template too near the concrete",
	Measured: "height from the concrete to the underside of the template",
	Doc: Doc{
		Wrong:    "No trowel gets under the template: concrete stays high or hollow there, sticks to the template, and has to be chipped off before the base plate sits down.",
		Measured: "Along the bolts, from the face that they enter to the underside of the template that they stand through; the least of them. A template whose upper side is no higher than the face is cast in on purpose and not asked.",
		Do:       "Raise the template on its lower nuts or on packers; the projection of the bolts stays as it is.",
		Blind:    "Nuts and brackets under the template. Templates of timber, which are not read as such.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Template},
	Entries:  []Unit{MM, Inch},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 25}},
		Cites:    []Citation{{MM, "", Practice}},
	},
	Run: templateStandoff,
}

// castIn is by how much, in mm, the upper side of a template that is cast in may
// stand out of the concrete.
const castIn = 1

func templateStandoff(p *Pass) error {
	for _, s := range p.m.Sheets {
		if !s.Template() || !p.On(s.Item) {
			continue
		}
		var lowest *model.Anchor
		got := math.Inf(1)
		for _, a := range s.Anchors {
			if !sound(a) {
				continue
			}
			if gap := s.Gap(a); gap < got-placeNoise {
				got, lowest = gap, a
			}
		}
		if lowest == nil || got+s.Thick <= castIn {
			continue
		}
		r, ok := p.Required(s.Item, nil, Basis{})
		if !ok || !geom.Short(got, r.Value) {
			continue
		}
		g, w := figures(got, r.Value)
		text := fmt.Sprintf("the underside of %s is %s mm above the concrete", sheetName(s), g)
		switch {
		case math.Abs(got) < castIn:
			text = sheetName(s) + " lies on the concrete"
		case got < 0:
			g, _ = figures(-got, 0)
			text = fmt.Sprintf("the underside of %s is %s mm below the face of the concrete", sheetName(s), g)
		}
		_, under := s.Along(lowest)
		p.hits = append(p.hits, hit{Hit{
			Item: s.Item, Measured: got, Required: r, At: lowest.At(under), Normal: lowest.Entry.Normal,
			Text: text + needed(w+" mm of height", r) + " to finish under it",
		}, p.group[p.index[lowest.Item]]}) // a template that lies in no concrete has no host of its own
	}
	return nil
}
