package shape

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/ifcread"
)

// Units are the factors from the units of a file to those used inside.
type Units struct {
	Length float64 // mm
	Area   float64 // mm2
	Volume float64 // mm3
	Angle  float64 // radians

	LengthName string // in words: "millimetre", "inch"
	Problem    string // what was unclear and what was assumed; "" when nothing was
}

var (
	tProject        = ifcread.TypeOf("IfcProject")
	tUnitAssignment = ifcread.TypeOf("IfcUnitAssignment")
	tSIUnit         = ifcread.TypeOf("IfcSIUnit")
	tConversionUnit = ifcread.TypeOf("IfcConversionBasedUnit")
	tConversionOff  = ifcread.TypeOf("IfcConversionBasedUnitWithOffset")
)

// ReadUnits reads the unit assignment of the project; other units in the file
// belong to single properties and count for nothing here. Where the project
// names no length unit, metres are assumed, the SI unit without a prefix, and
// Problem says so. Angles without a unit are radians, areas and volumes follow
// the length.
func ReadUnits(f *ifcread.File) Units {
	u := Units{Length: 1000, LengthName: "metre", Angle: 1}
	list, problem := assignment(f)
	u.Problem = problem
	hasLength := false
	for v := range list.Arg(0).All() {
		unit, ok := v.Inst()
		if !ok {
			continue
		}
		kind := unit.Arg(1).Enum()
		switch strings.ToUpper(kind) {
		case "LENGTHUNIT":
			hasLength = u.readLength(unit)
		case "AREAUNIT":
			u.Area = si(unit, 0) * 1e6
		case "VOLUMEUNIT":
			u.Volume = si(unit, 0) * 1e9
		case "PLANEANGLEUNIT":
			u.readAngle(unit)
		}
	}
	if !hasLength && u.Problem == "" {
		u.Problem = "the project names no length unit that can be read; metres are assumed"
	}
	if !usable(u.Area) {
		u.Area = u.Length * u.Length
	}
	if !usable(u.Volume) {
		u.Volume = u.Length * u.Length * u.Length
	}
	return u
}

func usable(factor float64) bool { return factor > 0 && !math.IsInf(factor, 0) }

// assignment is the IfcUnitAssignment of the first project that has one. When
// no project has, the only one of the file is taken, and that is said.
func assignment(f *ifcread.File) (list ifcread.Inst, problem string) {
	for _, p := range f.Of(tProject) {
		if a, ok := p.Attr("UnitsInContext").Inst(); ok {
			return a, ""
		}
	}
	n := 0
	for _, a := range f.Of(tUnitAssignment) {
		list = a
		n++
	}
	if n == 1 {
		return list, fmt.Sprintf("the project names no units; those of #%d, the only ones in the file, are assumed", list.ID())
	}
	return ifcread.Inst{}, "the project names no units; metres are assumed"
}

func (u *Units) readLength(unit ifcread.Inst) bool {
	f := si(unit, 0) * 1000
	if !usable(f) {
		u.Problem = fmt.Sprintf("length unit #%d %s cannot be read; metres are assumed", unit.ID(), unit.Name())
		return false
	}
	u.Length, u.LengthName = f, unitName(unit)
	return true
}

func (u *Units) readAngle(unit ifcread.Inst) {
	f := si(unit, 0)
	if !usable(f) {
		u.Problem = fmt.Sprintf("angle unit #%d %s cannot be read; radians are assumed", unit.ID(), unit.Name())
		return
	}
	u.Angle = f
}

// si is the factor from a unit to the SI unit of its kind without prefix, NaN
// when it cannot be told.
func si(unit ifcread.Inst, depth int) float64 {
	switch unit.Type() {
	case tSIUnit:
		name := unit.Arg(3).Enum()
		prefix := unit.Arg(2).Enum()
		p, ok := prefixes[strings.ToUpper(prefix)]
		if !ok {
			return math.NaN()
		}
		return math.Pow(p, power(strings.ToUpper(name)))
	case tConversionUnit, tConversionOff:
		m, ok := unit.Arg(3).Inst()
		if !ok || depth > 8 {
			return math.NaN()
		}
		base, ok := m.Arg(1).Inst()
		if !ok {
			return math.NaN()
		}
		return number(m.Arg(0)) * si(base, depth+1)
	}
	return math.NaN()
}

// power is how often a prefix counts: MILLI SQUARE_METRE is mm2.
func power(name string) float64 {
	switch name {
	case "SQUARE_METRE":
		return 2
	case "CUBIC_METRE":
		return 3
	}
	return 1
}

var prefixes = map[string]float64{
	"": 1, "EXA": 1e18, "PETA": 1e15, "TERA": 1e12, "GIGA": 1e9, "MEGA": 1e6, "KILO": 1e3, "HECTO": 1e2, "DECA": 10,
	"DECI": 0.1, "CENTI": 1e-2, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9, "PICO": 1e-12, "FEMTO": 1e-15, "ATTO": 1e-18,
}

// unitName is a unit in words, as a person says it.
func unitName(unit ifcread.Inst) string {
	if unit.Type() == tSIUnit {
		prefix := unit.Arg(2).Enum()
		name := unit.Arg(3).Enum()
		return strings.ToLower(prefix + name)
	}
	return strings.ToLower(text(unit.Arg(2)))
}
