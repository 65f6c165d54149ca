package rewrite

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// lengths names the parameters that are lengths, by entity, as the schemas of
// IFC2X3 to IFC4X3 have them. Entities with real numbers that are none stand
// there, too; one that is not listed and has real numbers is an error.
var lengths = map[string][]int{
	"IFCCARTESIANPOINT": {0}, "IFCCARTESIANPOINTLIST2D": {0}, "IFCCARTESIANPOINTLIST3D": {0}, "IFCVECTOR": {1},
	"IFCCIRCLE": {1}, "IFCELLIPSE": {1, 2}, "IFCSWEPTDISKSOLID": {1, 2}, "IFCSWEPTDISKSOLIDPOLYGONAL": {1, 2, 5}, "IFCEXTRUDEDAREASOLID": {3},
	"IFCRECTANGLEPROFILEDEF": {3, 4}, "IFCCIRCLEPROFILEDEF": {3}, "IFCCIRCLEHOLLOWPROFILEDEF": {3, 4}, "IFCROUNDEDRECTANGLEPROFILEDEF": {3, 4, 5},
	"IFCRECTANGLEHOLLOWPROFILEDEF": {3, 4, 5, 6, 7}, "IFCISHAPEPROFILEDEF": {3, 4, 5, 6, 7}, "IFCLSHAPEPROFILEDEF": {3, 4, 5, 6, 7}, "IFCUSHAPEPROFILEDEF": {3, 4, 5, 6, 7, 8},
	"IFCGEOMETRICREPRESENTATIONCONTEXT": {3}, "IFCSITE": {11}, "IFCBUILDING": {9, 10}, "IFCBUILDINGSTOREY": {9}, "IFCQUANTITYLENGTH": {3},
	"IFCMECHANICALFASTENER": {8, 9}, "IFCMECHANICALFASTENERTYPE": {10, 11}, "IFCREINFORCINGBAR": {9, 11}, "IFCREINFORCINGBARTYPE": {10, 12},
	"IFCDIRECTION": {}, "IFCQUANTITYAREA": {}, "IFCQUANTITYVOLUME": {}, "IFCQUANTITYWEIGHT": {}, "IFCMEASUREWITHUNIT": {}, "IFCCOLOURRGB": {}, "IFCSURFACESTYLERENDERING": {},
	"IFCCARTESIANTRANSFORMATIONOPERATOR3D": {}, "IFCREVOLVEDAREASOLID": {}, "IFCTRIMMEDCURVE": {}, "IFCMATERIAL": {},
}

// areas are parameters that are areas in the square of the length unit, as
// models have them whatever unit of areas they state.
var areas = map[string][]int{"IFCREINFORCINGBAR": {10}, "IFCREINFORCINGBARTYPE": {11}}

// Units are those that Rescale writes, by name, in mm.
var Units = map[string]float64{"MILLIMETRE": 1, "METRE": 1000, "INCH": 25.4, "FOOT": 304.8}

// Rescale writes a model in another unit of length.
func Rescale(name string) func(*Text) error {
	return func(t *Text) error {
		was, err := t.unit()
		if err != nil {
			return err
		}
		factor := was / Units[name]
		for _, in := range t.Insts {
			if err := in.rescale(factor); err != nil {
				return err
			}
		}
		return t.setUnit(name)
	}
}

func (in *Inst) rescale(factor float64) error {
	_, known := lengths[in.Keyword]
	for i := range in.Args {
		power := 0.0
		if slices.Contains(lengths[in.Keyword], i) {
			power = 1
		} else if slices.Contains(areas[in.Keyword], i) {
			power = 2
		}
		if bare := rescale(&in.Args[i], math.Pow(factor, power), factor); bare && !known {
			return fmt.Errorf("#%d: whether the numbers of %s are lengths is not known", in.ID, in.Keyword)
		}
	}
	return nil
}

// rescale multiplies the real numbers in a value, and those of typed lengths by
// the factor of lengths; it reports whether there were any without a type.
func rescale(v *Value, factor, ofLengths float64) bool {
	switch {
	case v.IsList && v.Word == "":
		bare := false
		for i := range v.List {
			bare = rescale(&v.List[i], factor, ofLengths) || bare
		}
		return bare
	case v.IsList && (v.Word == "IFCLENGTHMEASURE" || v.Word == "IFCPOSITIVELENGTHMEASURE"):
		v.List[0] = scaled(v.List[0], ofLengths)
	case v.isReal():
		*v = scaled(*v, factor)
		return true
	}
	return false
}

func scaled(v Value, factor float64) Value {
	f, err := v.number()
	if err != nil {
		return v
	}
	return real(f * factor)
}

// unit is the unit of length in mm.
func (t *Text) unit() (float64, error) {
	in, err := t.lengthUnit()
	if err != nil {
		return 0, err
	}
	switch in.Keyword + in.Args[2].Word {
	case "IFCSIUNIT.MILLI.":
		return 1, nil
	case "IFCSIUNIT.CENTI.":
		return 10, nil
	case "IFCSIUNIT$":
		return 1000, nil
	}
	if f, ok := Units[strings.Trim(strings.ToUpper(in.Args[2].Word), "'")]; ok && in.Keyword == "IFCCONVERSIONBASEDUNIT" {
		return f, nil
	}
	return 0, fmt.Errorf("#%d is no unit of length that is known", in.ID)
}

// lengthUnit is the unit of length that the project assigns.
func (t *Text) lengthUnit() (*Inst, error) {
	for _, in := range t.Insts {
		if in.Keyword != "IFCUNITASSIGNMENT" {
			continue
		}
		for _, v := range in.Args[0].List {
			if u := t.at(v); u != nil && len(u.Args) > 2 && u.Args[1].Word == ".LENGTHUNIT." {
				return u, nil
			}
		}
	}
	return nil, fmt.Errorf("no unit of length is assigned")
}

func (t *Text) setUnit(name string) error {
	was, err := t.lengthUnit()
	if err != nil {
		return err
	}
	metre := t.new("IFCSIUNIT", "*", ".LENGTHUNIT.", "$", ".METRE.")
	is := metre
	switch name {
	case "METRE":
	case "MILLIMETRE":
		is = t.new("IFCSIUNIT", "*", ".LENGTHUNIT.", ".MILLI.", ".METRE.")
	default:
		dims := t.new("IFCDIMENSIONALEXPONENTS", "1", "0", "0", "0", "0", "0", "0")
		factor := Value{Word: "IFCLENGTHMEASURE", IsList: true, List: []Value{real(Units[name] / 1000)}}
		is = t.new("IFCCONVERSIONBASEDUNIT", dims, ".LENGTHUNIT.", "'"+name+"'", t.new("IFCMEASUREWITHUNIT", factor, metre))
	}
	t.each(func(in *Inst) {
		for i, v := range in.Args[0].List {
			if t.at(v) == was {
				in.Args[0].List[i] = is
			}
		}
	}, "IFCUNITASSIGNMENT")
	return nil
}
