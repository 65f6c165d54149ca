package rules

import "embedcheck/internal/finding"

// DepthMeasured finds items that were measured too deep or too proud.
var DepthMeasured = &Rule{
	ID:       "depth-measured",
	Title:    "Measured out of depth",
	Measured: "deviation of the measured depth",
	Doc: Doc{
		Wrong:    "The thread does not reach through the plate and the nut, the socket is out of reach, or the anchor holds in less concrete than was worked out.",
		Measured: "What was taped or surveyed along the axis (projection, sunk open end, plate to the face, embedment, concrete behind), less the same dimension of the model, against its tolerance. Needs values: embedcheck compare.",
		Do:       "Before the pour: set the item right. After it: an engineer decides with the measured figures.",
		Blind:    "What was not measured; errors of the tape; and a face of the concrete that is struck off at another level than the form's.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    everyKind(),
	Default: Params{
		Priority: finding.Hold,
		Cites:    []Citation{{"", "each tolerance names its own, as AISC 303-10 7.5.1 (c)", Secondary}},
	},
	Values: true,
	Run:    measuredRule(TolLevel, TolDepth, TolCover),
}
