package rules

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// SizeStated finds items whose size the model does not state. It is a note: a
// schedule outside the model may tell.
var SizeStated = &Rule{
	ID:    "size-stated",
	Title: "Size not stated",
	Doc: Doc{
		Wrong:    "Whoever orders or sets the item reads its size off the geometry, and takes the next best one from the rack.",
		Measured: "No diameter in name, type, profile or properties of the item.",
		Do:       "State the size in the name or in a property.",
		Blind:    "Schedules outside the model, and whether the size is right: size-mismatch compares it.",
	},
	Kinds:   model.SizeDatum.Kinds(),
	Default: Params{Priority: finding.Note},
	Run:     func(p *Pass) error { return p.missing(model.SizeDatum) },
}
