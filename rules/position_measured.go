package rules

import "embedcheck/internal/finding"

// PositionMeasured finds items that were measured beside their place.
var PositionMeasured = &Rule{
	ID:       "position-measured",
	Title:    "Measured out of position",
	Measured: "deviation of the measured place",
	Doc: Doc{
		Wrong:    "The bolts do not meet the holes of the base plate, the insert does not meet its bracket, and the edge is nearer than was worked out.",
		Measured: "What was taped or surveyed from the sides of the form to an axis, and from axis to axis in a set, less the same dimension of the model, against its tolerance. Needs values: embedcheck compare.",
		Do:       "Before the pour: set the item right. After it: an engineer decides with the measured figures.",
		Blind:    "What was not measured; errors of the tape; and a deviation of the form itself, from whose sides one tapes.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    everyKind(),
	Default: Params{
		Priority: finding.Hold,
		Cites:    []Citation{{"", "each tolerance names its own, as AISC 303-10 7.5.1", Secondary}},
	},
	Values: true,
	Run:    measuredRule(TolPosition, TolCentres),
}
