package rules

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// ConcreteCone compares what the edges leave of a set's breakout cone with a
// least share of it.
//
// It says nothing of strength: no load stands in a model. Lifters are near edges
// by nature, and have reinforcement of their own; for them it is a note.
var ConcreteCone = &Rule{
	ID:       "concrete-cone",
	Title:    "Breakout cone cut by edges",
	Measured: "share of the breakout cone that the edges leave",
	Doc: Doc{
		Wrong:    "Edges and openings cut the cone of concrete that holds the set, so that it breaks out far below what a table for one anchor in the open promises.",
		Measured: "Projected area of the cones of a set on their entry face, as far as there is concrete at half their depth, times the factor for the nearest edge, over the same for the set far from all edges. With three or more edges within 1.5 embedment depths the depth is reduced first. Ratios of ACI 318-19 17.6.2 and EN 1992-4 7.2.1.4, without loads and strengths.",
		Do:       "Give the place to the engineer: move the set, or have reinforcement detailed that takes the tension over.",
		Blind:    "Loads, eccentricity, concrete strength, reinforcement; cones of neighbouring sets; that concrete behind an opening does not help; concrete that narrows below the face, but for the edge factor.",
	},
	Unit:     "ratio",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{Ratio},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Ratio, 0.5}},
		Cites:    []Citation{{Ratio, "", Practice}},
	},
	ForKinds: []KindParams{{[]model.Kind{model.Lifter}, Params{
		Priority: finding.Note, Limit: Limit{{Ratio, 0.5}}, Cites: []Citation{{Ratio, "", Practice}},
	}}},
	Run: concreteCone,
}

func concreteCone(p *Pass) error {
	for _, anchors := range p.faces() {
		c, ok := p.cone(anchors)
		if !ok {
			p.Unchecked(anchors[0].Item, anchors[0], p.Rule.ID+": no outline of the concrete around it was found")
			continue
		}
		a := p.nearestEdge(anchors)
		r, ok := p.Required(a.Item, a, BasisOf(a))
		if !ok || !geom.Short(c.Share, r.Value) {
			continue
		}
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: c.Share, Required: r, At: a.Entry.Point, Normal: a.Entry.Normal,
			Text: coneText(anchors, c, r),
		})
	}
	return nil
}

// faces are the anchors that work together: those of one set, or else of one
// item, that enter one face deep enough to have a cone.
func (p *Pass) faces() [][]*model.Anchor {
	var out [][]*model.Anchor
	for _, g := range p.groups {
		var rest []*model.Anchor
		for _, it := range g.items {
			if !p.On(it) {
				continue
			}
			for _, a := range it.Anchors {
				if sound(a) && geom.Over(a.Embedment(), 0) {
					rest = append(rest, a)
				}
			}
		}
		for len(rest) > 0 {
			face, other := rest[:1:1], []*model.Anchor(nil)
			for _, a := range rest[1:] {
				if _, same := measure.Spacing(rest[0], a); same {
					face = append(face, a)
				} else {
					other = append(other, a)
				}
			}
			out, rest = append(out, face), other
		}
	}
	return out
}

// nearestEdge is the anchor nearest to an edge, the first of equal ones by
// place.
func (p *Pass) nearestEdge(anchors []*model.Anchor) *model.Anchor {
	best, least := anchors[0], math.Inf(1)
	for _, a := range anchors {
		d, ok := p.edge(a)
		if !ok || d.Dist > least+placeNoise {
			continue
		}
		if d.Dist < least-placeNoise || compareVec(a.Entry.Point, best.Entry.Point) < 0 {
			best, least = a, min(least, d.Dist)
		}
	}
	return best
}

func coneText(anchors []*model.Anchor, c cone, r Required) string {
	name := anchorName(anchors[0])
	if n := len(anchors); n > 1 {
		if s := anchors[0].Item.Set; s != nil && s.Name != "" {
			name = finding.Plain(s.Name)
		} else {
			name = itemName(anchors[0].Item)
		}
		name = fmt.Sprintf("%s (%d anchors)", name, n)
	}
	g, w := figures2(c.Share, r.Value)
	text := fmt.Sprintf("the edges leave %s of the breakout cone that %s would have in the open; %s asked for%s: projected area %s times that of one anchor, edge factor %s",
		g, name, w, r.why(), decimals(c.Area/c.One, 2), decimals(c.Edge, 2))
	if c.Narrow {
		text += fmt.Sprintf(", three or more edges near, so that a depth of %s mm counts", figure(c.Depth))
	}
	return text
}
