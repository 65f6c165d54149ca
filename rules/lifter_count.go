package rules

import (
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// LifterCount finds elements with fewer lifting points than the project asks
// for. It is off until a rule file says how many: that comes from the weight of
// the element and the maker's capacities, and a column lifted by one pin is
// common.
var LifterCount = &Rule{
	ID:       "lifter-count",
	Title:    "Too few lifting points",
	Measured: "number of lifting points that point the same way",
	Doc: Doc{
		Wrong:    "A lifting insert is missing in the model or was deleted with a revision, and the others take its share, or the element cannot be lifted level.",
		Measured: "The lifting inserts of an element that point the same way; one that is modelled twice counts once. The rule is off unless the rule file switches it on and says how many there have to be, for all elements or, under for, for those that are meant. An element without any lifting insert is not looked at.",
		Do:       "Compare with the lifting plan; add what is missing, or state under for that fewer are meant.",
		Blind:    "Weight, slings and what an insert can take; elements that ought to have lifting inserts and have none.",
	},
	Unit:     "count",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Lifter},
	Entries:  []Unit{Number},
	Default: Params{
		Off: true, Priority: finding.Review,
		Limit: Limit{{Number, 2}},
		Cites: []Citation{{Number, "", Practice}},
	},
	Run: lifterCount,
}

func lifterCount(p *Pass) error {
	var groups []*group
	for _, h := range p.m.Hosts {
		for _, l := range p.liftsOf(h) {
			r, ok := p.Required(l.items[0], nil, Basis{})
			n := float64(len(l.points))
			if !ok || n >= r.Value {
				continue
			}
			g := p.liftGroup(l)
			groups = append(groups, g)
			p.hits = append(p.hits, hit{Hit{
				Item: l.items[0], Measured: n, Required: r, At: l.points[0], Normal: l.up,
				Text: fmt.Sprintf("%s has %s that point the same way; %s asked for", hostName(h), plural(len(l.points), "lifting point"), figure(r.Value)),
			}, g})
		}
	}
	numberTwins(slices.Clone(groups), p.m)
	return nil
}
