package rules

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// GradeStated finds bolts whose grade the model does not state. It is a note: a
// schedule outside the model may tell.
var GradeStated = &Rule{
	ID:    "grade-stated",
	Title: "Grade not stated",
	Doc: Doc{
		Wrong:    "A bolt of mild steel is cast in where one of high strength was meant; nobody can tell once it is in.",
		Measured: "No grade in name, type or properties of the item, and no material with a figure in its name, such as S355.",
		Do:       "State the strength grade.",
		Blind:    "Whether the grade is the right one.",
	},
	Kinds:   model.GradeDatum.Kinds(),
	Default: Params{Priority: finding.Note},
	Run:     func(p *Pass) error { return p.missing(model.GradeDatum) },
}
