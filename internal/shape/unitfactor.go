package shape

import "embedcheck/ifcread"

// UnitFactor is the factor from a length unit, such as a property carries for
// itself, to mm; false for what is no length unit that can be read.
func UnitFactor(unit ifcread.Inst) (float64, bool) {
	if unit.Arg(1).Enum() != "LENGTHUNIT" {
		return 0, false
	}
	f := si(unit, 0) * 1000
	return f, usable(f)
}
