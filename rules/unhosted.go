package rules

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// Unhosted finds items that lie in no concrete.
//
// Templates, nuts and washers stay outside by nature.
var Unhosted = &Rule{
	ID:    "unhosted",
	Title: "In no concrete",
	Doc: Doc{
		Wrong:    "The item was left behind when the concrete moved, or stands in the wrong place: it is cast into nothing, and no distance of it can be checked.",
		Measured: "No concrete element of the models that were read takes up any part of the item.",
		Do:       "Move the item to its element, delete it, or read the model that holds the element as well.",
		Blind:    "Whether the element that holds an item is the one it is meant for.",
	},
	Kinds: []model.Kind{
		model.Other, model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate,
		model.Channel, model.Sleeve, model.Former,
	},
	Default: Params{Priority: finding.Review},
	Run:     unhosted,
}

func unhosted(p *Pass) error {
	for it := range p.Items() {
		if it.Host == nil && !it.Twin {
			p.Report(Hit{Item: it, At: it.Middle(), Text: itemName(it) + " lies in no concrete element that was read"})
		}
	}
	return nil
}
