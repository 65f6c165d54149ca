package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// MarkUnique finds marks that stand for different things.
var MarkUnique = &Rule{
	ID:    "mark-unique",
	Title: "One mark, two things",
	Doc: Doc{
		Wrong:    "Whoever sets the item goes by its mark and takes the wrong one of two.",
		Measured: "Items that have one mark, compared by kind, size, and number, diameter and length of their anchors. The kind and size that most of them have is taken as the right one.",
		Do:       "Give the items marks of their own, or correct the one that was changed.",
		Blind:    "Things that differ in what the model does not show, such as their grade.",
	},
	Kinds:   allKinds(),
	Default: Params{Priority: finding.Review},
	Run:     markUnique,
}

func markUnique(p *Pass) error {
	byMark := map[string][]*model.Item{}
	for it := range p.Items() {
		if it.Mark != "" && !it.Twin {
			byMark[it.Mark] = append(byMark[it.Mark], it)
		}
	}
	for _, items := range byMark {
		p.oneThing(items)
	}
	return nil
}

// oneThing reports the items that are not what most items of their mark are.
func (p *Pass) oneThing(items []*model.Item) {
	things := map[string][]*model.Item{}
	for _, it := range items {
		k := likeness(it)
		things[k] = append(things[k], it)
	}
	usual := ""
	for k, of := range things {
		if n := len(things[usual]); len(of) > n || len(of) == n && k < usual {
			usual = k
		}
	}
	for k, of := range things {
		if k == usual {
			continue
		}
		for _, it := range of {
			other := slices.MinFunc(things[usual], p.order)
			p.Report(Hit{
				Item: it, At: it.Middle(), Others: []model.Ref{other.Ref},
				Text: fmt.Sprintf("mark %s stands here for %s, elsewhere for %s", finding.Plain(it.Mark), thing(it), thing(other)),
			})
		}
	}
}

// likeness is the same for items of one kind and size, wherever they are and
// however they are turned.
func likeness(it *model.Item) string {
	var anchors []string
	for _, a := range it.Anchors {
		anchors = append(anchors, fmt.Sprint(step(a.Diameter, 1), " x ", step(a.Deepest, 2)))
	}
	slices.Sort(anchors)
	return fmt.Sprintf("%s|%s|%d|%s", it.Kind, it.Size, step(it.Thick, 1), strings.Join(anchors, ","))
}

// step numbers the step of so many mm that a size lies in. The borders keep away
// from the sizes that are made.
func step(v, mm float64) int { return int(math.Floor(v/mm + 0.37)) }

// thing is an item by what it is, not by its name.
func thing(it *model.Item) string {
	s := "a " + kindNoun(it.Kind)
	if it.Kind == model.Other {
		s = "an item"
	}
	if it.Size != "" {
		s += " " + finding.Plain(it.Size)
	}
	if len(it.Anchors) > 0 {
		s += fmt.Sprintf(" of %s mm", figure(it.Anchors[0].Deepest))
	}
	return s
}
