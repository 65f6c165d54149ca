package rules

import (
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// SupplementaryBars looks for reinforcement beside anchors whose breakout cone
// is cut by edges: the limit of concrete-cone says by how much.
//
// A bar that is near is no proof that it holds: the rule is a note, and silent
// about concrete without modelled bars.
var SupplementaryBars = &Rule{
	ID:       "supplementary-bars",
	Title:    "No bar beside a cut cone",
	Measured: "distance to the nearest bar",
	Doc: Doc{
		Wrong:    "The concrete cannot hold the anchor alone, and no bar is near enough to take the tension over.",
		Measured: "For anchors that concrete-cone finds: from the surface of the embedded shank to the nearest bar, searched within 1.5 embedment depths.",
		Do:       "Have the engineer detail hairpins or stirrups close to the anchor, anchored on both sides of the cone.",
		Blind:    "Whether the bar crosses the cone and is anchored on both sides of it, its size, and bars that are not modelled.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{MM, Inch, Diameters, Embedments},
	Default: Params{
		Priority: finding.Note,
		Limit:    Limit{{Embedments, 0.5}},
		Cites:    []Citation{{Embedments, "ACI 318-19 17.5.2.1 and its commentary, where anchor reinforcement is placed", Memory}},
	},
	Run: supplementaryBars,
}

func supplementaryBars(p *Pass) error {
	weak := map[*model.Anchor]float64{} // to the nearest bar, mm
	hosts := map[*model.Host]bool{}
	for _, anchors := range p.faces() {
		if p.cut(anchors) {
			for _, a := range anchors {
				weak[a] = math.Inf(1)
				hosts[a.Item.Host] = false
			}
		}
	}
	if len(weak) == 0 {
		return nil
	}
	p.findBars(weak, hosts)
	for a := range p.Anchors() {
		got, ok := weak[a]
		if !ok || !hosts[a.Item.Host] {
			continue
		}
		r, ok := p.Required(a.Item, a, BasisOf(a))
		reach := reachOfCone * a.Embedment()
		if !ok || !geom.Over(min(got, reach), r.Value) {
			continue
		}
		text := fmt.Sprintf("the nearest bar to %s, whose breakout cone is cut by edges, is %s mm away", anchorName(a), figure(got))
		if got > reach {
			got = reach
			text = fmt.Sprintf("no bar is within %s mm of %s, whose breakout cone is cut by edges", figure(reach), anchorName(a))
		}
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.Entry.Point, Normal: a.Entry.Normal,
			Text: fmt.Sprintf("%s; at most %s mm%s", text, figure(r.Value), r.why()),
		})
	}
	return nil
}

// cut reports whether the edges leave less of a cone than concrete-cone asks
// for.
func (p *Pass) cut(anchors []*model.Anchor) bool {
	c, ok := p.cone(anchors)
	if !ok {
		return false // concrete-cone tells
	}
	a := p.nearestEdge(anchors)
	limit := p.set.ParamsFor(ConcreteCone, a.Item).Limit
	r, ok := limit.Resolve(ConcreteCone.Relation, BasisOf(a))
	return ok && geom.Short(c.Share, r.Value)
}

// findBars measures from each anchor to the nearest bar within its cone, and
// marks the hosts that have bars at all.
func (p *Pass) findBars(weak map[*model.Anchor]float64, hosts map[*model.Host]bool) {
	var anchors []*model.Anchor
	var boxes []geom.Box
	for a := range p.Anchors() {
		if _, ok := weak[a]; ok {
			anchors = append(anchors, a)
			boxes = append(boxes, shank(a).Box().Grow(reachOfCone*a.Embedment()))
		}
	}
	near := geom.NewBoxTree(boxes)
	list := slices.Collect(func(yield func(*model.Host) bool) {
		for _, h := range p.m.Hosts {
			if _, ok := hosts[h]; ok && !yield(h) {
				return
			}
		}
	})
	inside := make([]geom.Box, len(list))
	frames, sizes := make([]geom.Affine, len(list)), make([]geom.Vec, len(list))
	for i, h := range list {
		inside[i] = h.Box
		frames[i], sizes[i] = hostFrame(h)
	}
	around := geom.NewBoxTree(inside)
	bars := &p.m.Bars
	for i := range bars.Pieces {
		rod := bars.Rod(i)
		box := rod.Box()
		around.Query(box, func(k int) bool {
			hosts[list[k]] = hosts[list[k]] || runsThrough(rod, frames[k], sizes[k])
			return true
		})
		near.Query(box, func(k int) bool {
			d, _, _ := geom.RodRod(shank(anchors[k]), rod)
			weak[anchors[k]] = min(weak[anchors[k]], max(d, 0))
			return true
		})
	}
}

// runsThrough reports whether a bar comes into the box around a host of a size
// along the host's own axes, from the frame's origin. That along the axes of the model holds bars of its neighbours
// where the model is turned.
func runsThrough(r geom.Rod, f geom.Affine, size geom.Vec) bool {
	box := geom.BoxOf(geom.Vec{}, size).Grow(r.Radius)
	for i := 1; i < len(r.Path); i++ {
		from := f.Local(r.Path[i-1])
		way := f.Local(r.Path[i]).Sub(from)
		for _, in := range box.Inside(from, way) {
			if in.From <= 1 && in.To >= 0 {
				return true
			}
		}
	}
	return false
}

// shank is the embedded part of an anchor as a rod.
func shank(a *model.Anchor) geom.Rod {
	return geom.Rod{Path: []geom.Vec{a.At(max(a.Entry.Dist, 0)), a.At(a.Bearing)}, Radius: a.Diameter / 2}
}
