package rules

import "embedcheck/internal/finding"

// SizeMeasured finds forms, openings and items that were measured in another
// size.
var SizeMeasured = &Rule{
	ID:       "size-measured",
	Title:    "Measured in another size",
	Measured: "deviation of the measured size",
	Doc: Doc{
		Wrong:    "The unit does not fit its place, or another item was set than the one that was worked out.",
		Measured: "What was taped of the form, its openings, plates and bolts, less the same dimension of the model, against the tolerance that the rule file states. Without one nothing is compared. Needs values: embedcheck compare.",
		Do:       "Before the pour: set the form right, or set the right item. After it: an engineer decides with the measured figures.",
		Blind:    "What was not measured, and errors of the tape.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    everyKind(),
	Default: Params{
		Priority: finding.Review,
		Cites:    []Citation{{"", "the rule file states the tolerance", Practice}},
	},
	Values: true,
	Run:    measuredRule(TolSize),
}
