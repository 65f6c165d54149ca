package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// TwoHosts finds anchors that reach out of their host into another one.
var TwoHosts = &Rule{
	ID:       "two-hosts",
	Title:    "In two elements",
	Measured: "length of the axis in another element",
	Doc: Doc{
		Wrong:    "The anchor crosses a joint: it cannot be cast in either form, or it ties together two elements that are meant to move apart.",
		Measured: "The length of the anchor's axis, from its open end to its deepest point, that lies in the concrete of another element and not in that of its host. An element that nothing is cast into counts by its box.",
		Do:       "Move the anchor to one side of the joint. Where it is meant to cross, as from a pedestal into its footing, accept it for this set.",
		Blind:    "Joints inside one element of the model. Elements that overlap in the model count as the anchor's host where they do.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Default:  Params{Priority: finding.Review, Cites: []Citation{{"", "", Practice}}},
	Run:      twoHosts,
}

// crossing is the length in mm in another element that is let pass.
const crossing = 5

func twoHosts(p *Pass) error {
	for a := range p.Anchors() {
		h, got := p.reachInto(a)
		if !geom.Over(got, crossing) {
			continue
		}
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: got, Required: Required{Value: crossing, Governs: MM},
			At: a.At(a.Deepest), Normal: a.Entry.Normal, Others: []model.Ref{h.Ref},
			Text: fmt.Sprintf("%s mm of %s lie in %s, not in %s that it is cast into", figure(got), anchorName(a), hostName(h), hostName(a.Item.Host)),
		})
	}
	return nil
}

// reachInto is the other host that an anchor's axis lies in for the greatest
// length outside its own, and that length.
func (s *shared) reachInto(a *model.Anchor) (*model.Host, float64) {
	var best *model.Host
	var most float64
	box := geom.BoxOf(a.Open, a.At(a.Deepest))
	var own []geom.Interval
	s.hostTree().Query(box, func(i int) bool {
		h := s.m.Hosts[i]
		if h == a.Item.Host {
			return true
		}
		if own == nil {
			own = geom.Intervals(a.Entry.Solid.Inside(a.Open, a.Dir))
		}
		if l := lengthOutside(axisIn(a, h), own, a.Deepest); l > most {
			best, most = h, l
		}
		return true
	})
	return best, most
}

// axisIn are the pieces of an anchor's axis in a host; in its box when its
// concrete was not built because nothing is cast into it.
func axisIn(a *model.Anchor, h *model.Host) []geom.Interval {
	if h.Solid != nil {
		return geom.Intervals(h.Solid.Inside(a.Open, a.Dir))
	}
	return h.Box.Inside(a.Open, a.Dir)
}

// lengthOutside is the length of a, between 0 and end, that is not in b. The
// intervals of each list do not overlap.
func lengthOutside(a, b []geom.Interval, end float64) float64 {
	var sum float64
	for _, i := range a {
		from, to := max(i.From, 0), min(i.To, end)
		if from >= to {
			continue
		}
		sum += to - from
		for _, o := range b {
			sum -= max(0, min(to, o.To)-max(from, o.From))
		}
	}
	return sum
}
