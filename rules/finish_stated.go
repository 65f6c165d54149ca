package rules

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// FinishStated finds items whose finish the model does not state. It is a note:
// a schedule outside the model may tell.
var FinishStated = &Rule{
	ID:    "finish-stated",
	Title: "Finish not stated",
	Doc: Doc{
		Wrong:    "A plain steel item is cast in where a galvanised or stainless one was meant, and rusts through the face.",
		Measured: "No finish and no stainless grade in name, type, material or properties of the item.",
		Do:       "State the finish, also where it is plain steel.",
		Blind:    "Exposure, and whether the finish is enough for it.",
	},
	Kinds:   model.FinishDatum.Kinds(),
	Default: Params{Priority: finding.Note},
	Run:     func(p *Pass) error { return p.missing(model.FinishDatum) },
}
