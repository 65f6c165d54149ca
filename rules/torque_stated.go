package rules

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// TorqueStated finds bolts that are to be tightened to a figure and do not state
// it. It is off until a rule file switches it on: which bolts are tightened so is
// the engineer's word, and no code that was read defines it for bolts cast in.
var TorqueStated = &Rule{
	ID:    "torque-stated",
	Title: "Tightening not stated",
	Doc: Doc{
		Wrong:    "A hold-down that is to be tensioned is turned as tight as the spanner goes, or not at all: the joint slips or the bolt yields.",
		Measured: "No torque, preload or tension, and no reference to a tightening procedure, in properties or texts of the item. The rule is off unless the rule file switches it on, for all bolts or, under for, for those that are meant.",
		Do:       "State the torque or the tension with its unit, or name the engineer's document that gives it.",
		Blind:    "Whether the figure is right; it depends on grade, lubrication and coating. Documents that are linked to the item but not named in its texts.",
	},
	Kinds:   []model.Kind{model.Bolt},
	Default: Params{Off: true, Priority: finding.Note},
	Run: func(p *Pass) error {
		return p.missing(model.TighteningDatum)
	},
}
