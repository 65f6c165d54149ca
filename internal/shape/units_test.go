package shape

import (
	"math"
	"strings"
	"testing"
)

func TestUnits(t *testing.T) {
	const foot = "#10=IFCCONVERSIONBASEDUNIT(#15,.LENGTHUNIT.,'FOOT',#16);\n#15=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);\n" +
		"#16=IFCMEASUREWITHUNIT(IFCRATIOMEASURE(12.),#17);\n#17=IFCCONVERSIONBASEDUNIT(#15,.LENGTHUNIT.,'INCH',#18);\n#18=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.0254),#19);\n#19=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n"
	for _, c := range []struct {
		name, units string
		length      float64
		angle       float64
		word        string
		problem     string
	}{
		{"mm", mmRad, 1, 1, "millimetre", ""},
		{"m", metre, 1000, 1, "metre", ""},
		{"inch", inch, 25.4, 1, "inch", ""},
		{"feet by inches by metres", foot + "#11=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n", 304.8, 1, "foot", ""},
		{"degrees", mmDeg, 1, math.Pi / 180, "millimetre", ""},
		{"centimetre", "#10=IFCSIUNIT(*,.LENGTHUNIT.,.CENTI.,.METRE.);\n", 10, 1, "centimetre", ""},
		{"no length", "#11=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n", 1000, 1, "metre", "no length unit"},
		{"unit in circles", "#10=IFCCONVERSIONBASEDUNIT(#15,.LENGTHUNIT.,'X',#16);\n#16=IFCMEASUREWITHUNIT(IFCRATIOMEASURE(12.),#10);\n", 1000, 1, "metre", "#10"},
		{"zero unit", "#10=IFCCONVERSIONBASEDUNIT(#15,.LENGTHUNIT.,'X',#16);\n#16=IFCMEASUREWITHUNIT(IFCRATIOMEASURE(0.),#17);\n#17=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n", 1000, 1, "metre", "#10"},
		{"other units in the file", mmRad + "#30=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n", 1, 1, "millimetre", ""},
	} {
		u := ReadUnits(parse(t, source("IFC4", c.units, "")))
		if math.Abs(u.Length-c.length) > 1e-9*c.length || math.Abs(u.Angle-c.angle) > 1e-12 || u.LengthName != c.word {
			t.Errorf("%s: %+v", c.name, u)
		}
		if c.problem == "" && u.Problem != "" || !strings.Contains(u.Problem, c.problem) {
			t.Errorf("%s: problem %q, want %q", c.name, u.Problem, c.problem)
		}
		if math.Abs(u.Area-c.length*c.length) > 1e-9*u.Area || math.Abs(u.Volume-math.Pow(c.length, 3)) > 1e-9*u.Volume {
			t.Errorf("%s: area %g and volume %g do not follow the length", c.name, u.Area, u.Volume)
		}
	}
}

func TestAreaAndVolumeUnitsOfTheirOwn(t *testing.T) {
	src := string(source("IFC4", mmRad, "#30=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);\n#31=IFCSIUNIT(*,.VOLUMEUNIT.,.MILLI.,.CUBIC_METRE.);\n"))
	u := ReadUnits(parse(t, []byte(strings.Replace(src, "((#10,#11))", "((#10,#11,#30,#31))", 1))))
	if u.Area != 1e6 || math.Abs(u.Volume-1) > 1e-12 {
		t.Errorf("area %g, want 1e6; volume %g, want 1 (a cubic millimetre)", u.Area, u.Volume)
	}
}

func TestUnitsOfAFileWhoseProjectNamesNone(t *testing.T) {
	src := strings.Replace(string(source("IFC4", mmRad, "")), "(#8),#9)", "(#8),$)", 1)
	if u := ReadUnits(parse(t, []byte(src))); u.Length != 1 || !strings.Contains(u.Problem, "#9") {
		t.Errorf("%+v", u)
	}
}
