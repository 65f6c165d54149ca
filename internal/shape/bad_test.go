package shape

import (
	"strings"
	"testing"
)

// What cannot be a solid is refused with a reason.
func TestDegenerateItemsAreRefused(t *testing.T) {
	const rect = "#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,10.);\n"
	const pts = "#110=IFCCARTESIANPOINT((0.,0.));\n#111=IFCCARTESIANPOINT((10.,0.));\n#112=IFCCARTESIANPOINT((20.,0.));\n#113=IFCCARTESIANPOINT((0.,10.,0.));\n"
	cubeData, cubeFaces := cube{at: 200, side: 100, without: 3}.faceted()
	for _, c := range []struct{ name, data, why string }{
		{"no depth", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,0.);\n" + rect, "depth"},
		{"negative depth", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,-5.);\n" + rect, "depth"},
		{"text for a depth", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,'5');\n" + rect, "depth"},
		{"direction in the plane", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#4,5.);\n" + rect, "plane of the profile"},
		{"no direction", "#100=IFCEXTRUDEDAREASOLID(#101,#2,$,5.);\n" + rect, "direction"},
		{"zero direction", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#120,5.);\n#120=IFCDIRECTION((0.,0.,0.));\n" + rect, "direction"},
		{"no profile", "#100=IFCEXTRUDEDAREASOLID($,#2,#3,5.);\n", "no profile"},
		{"missing profile", "#100=IFCEXTRUDEDAREASOLID(#999,#2,#3,5.);\n", "not in the file"},
		{"flat profile", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,5.);\n#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n#102=IFCPOLYLINE((#110,#111,#112,#110));\n" + pts, "no area"},
		{"bow tie", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,5.);\n#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n#102=IFCPOLYLINE((#110,#111,#114,#115,#110));\n#114=IFCCARTESIANPOINT((0.,10.));\n#115=IFCCARTESIANPOINT((20.,20.));\n" + pts, "crosses itself"},
		{"two points", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,5.);\n#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n#102=IFCPOLYLINE((#110,#111));\n" + pts, "no area"},
		{"one point", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,5.);\n#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n#102=IFCPOLYLINE((#110));\n" + pts, "fewer than two"},
		{"zero width", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,5.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,0.,10.);\n", "XDim"},
		{"wall fills the tube", "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,5.);\n#101=IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,#7,10.,10.);\n", "no hollow"},
		{"placement without point", "#100=IFCEXTRUDEDAREASOLID(#101,#120,#3,5.);\n#120=IFCAXIS2PLACEMENT3D($,$,$);\n" + rect, "location"},
		{"placement with parallel directions", "#100=IFCEXTRUDEDAREASOLID(#101,#120,#3,5.);\n#120=IFCAXIS2PLACEMENT3D(#1,#3,#121);\n#121=IFCDIRECTION((0.,0.,-2.));\n" + rect, "parallel"},
		{"placement with a zero direction", "#100=IFCEXTRUDEDAREASOLID(#101,#120,#3,5.);\n#120=IFCAXIS2PLACEMENT3D(#1,#3,#121);\n#121=IFCDIRECTION((0.,0.,0.));\n" + rect, "no length"},
		{"placement with a missing direction", "#100=IFCEXTRUDEDAREASOLID(#101,#120,#3,5.);\n#120=IFCAXIS2PLACEMENT3D(#1,#999,#4);\n" + rect, "missing"},
		{"point with an unset coordinate", "#100=IFCEXTRUDEDAREASOLID(#101,#120,#3,5.);\n#120=IFCAXIS2PLACEMENT3D(#121,$,$);\n#121=IFCCARTESIANPOINT((1.,$,2.));\n" + rect, "not two or three numbers"},
		{"point that is no number", "#100=IFCEXTRUDEDAREASOLID(#101,#120,#3,5.);\n#120=IFCAXIS2PLACEMENT3D(#121,$,$);\n#121=IFCCARTESIANPOINT((1.,1.#IND,2.));\n" + rect, "not two or three numbers"},
		{"disk without radius", "#100=IFCSWEPTDISKSOLID(#102,0.,$,$,$);\n#102=IFCPOLYLINE((#110,#111));\n" + pts, "radius"},
		{"disk with too wide a bore", "#100=IFCSWEPTDISKSOLID(#102,5.,5.,$,$);\n#102=IFCPOLYLINE((#110,#111));\n" + pts, "inner radius"},
		{"disk along a point", "#100=IFCSWEPTDISKSOLID(#102,5.,$,$,$);\n#102=IFCPOLYLINE((#110,#110));\n" + pts, "no length"},
		{"disk with its ends exchanged", "#100=IFCSWEPTDISKSOLID(#102,5.,$,1.5,0.5);\n#102=IFCPOLYLINE((#110,#111,#112));\n" + pts, "leave nothing"},
		{"disk along a line without ends", "#100=IFCSWEPTDISKSOLID(#102,5.,$,$,$);\n#102=IFCLINE(#1,#103);\n#103=IFCVECTOR(#4,1.);\n", "two ends"},
		{"segments apart", "#100=IFCSWEPTDISKSOLID(#101,5.,$,$,$);\n#101=IFCCOMPOSITECURVE((#120,#121),.F.);\n#120=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#122);\n#121=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#123);\n#122=IFCPOLYLINE((#110,#111));\n#123=IFCPOLYLINE((#114,#112));\n#114=IFCCARTESIANPOINT((11.1,0.));\n" + pts, "starts 1.1 mm from the end"},
		{"revolution about a line through the profile", "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,1.);\n#104=IFCAXIS1PLACEMENT(#1,#5);\n" + rect, "both sides"},
		{"revolution by nothing", "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,0.);\n#104=IFCAXIS1PLACEMENT(#1,#5);\n" + rect, "angle"},
		{"revolution about a line out of the plane", "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,1.);\n#104=IFCAXIS1PLACEMENT(#1,#3);\n" + rect, "plane of the profile"},
		{"box", "#100=IFCBOUNDINGBOX(#1,1.,1.,1.);\n", "only a bounding box"},
		{"half-space", "#100=IFCHALFSPACESOLID(#101,.T.);\n#101=IFCPLANE(#2);\n", "half-space"},
		{"union with a half-space", "#100=IFCBOOLEANRESULT(.UNION.,#101,#102);\n#101=IFCBLOCK(#2,1.,1.,1.);\n#102=IFCHALFSPACESOLID(#103,.T.);\n#103=IFCPLANE(#2);\n", "half-space"},
		{"unknown operator", "#100=IFCBOOLEANRESULT(.XOR.,#101,#101);\n#101=IFCBLOCK(#2,1.,1.,1.);\n", "XOR"},
		{"nothing left", "#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#101,#102);\n#101=IFCBLOCK(#2,1.,1.,1.);\n#102=IFCHALFSPACESOLID(#103,.F.);\n#103=IFCPLANE(#2);\n", "nothing is left"},
		{"open brep", cubeData + "#100=IFCFACETEDBREP(#101);\n#101=IFCCLOSEDSHELL((" + cubeFaces + "));\n", "4 free edges"},
		{"flat brep", "#100=IFCTRIANGULATEDFACESET(#101,$,$,((1,2,3),(1,3,2)),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1.,0.,0.),(0.,1.,0.)));\n", "no volume"},
		{"index beyond the list", "#100=IFCTRIANGULATEDFACESET(#101,$,$,((1,2,4)),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1.,0.,0.),(0.,1.,0.)));\n", "point 4"},
		{"index zero", "#100=IFCTRIANGULATEDFACESET(#101,$,$,((0,1,2)),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1.,0.,0.),(0.,1.,0.)));\n", "point 0"},
		{"no faces", "#100=IFCTRIANGULATEDFACESET(#101,$,$,(),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1.,0.,0.),(0.,1.,0.)));\n", "faces"},
		{"composite without segments", "#100=IFCSWEPTDISKSOLID(#101,5.,$,$,$);\n#101=IFCCOMPOSITECURVE((),.F.);\n", "no segments"},
		{"spline with too few points", "#100=IFCSWEPTDISKSOLID(#101,5.,$,$,$);\n#101=IFCBSPLINECURVEWITHKNOTS(3,(#110,#111),.UNSPECIFIED.,.F.,.F.,(4,4),(0.,1.),.UNSPECIFIED.);\n" + pts, "degree 3"},
		{"spline with falling knots", "#100=IFCSWEPTDISKSOLID(#101,5.,$,$,$);\n#101=IFCBSPLINECURVEWITHKNOTS(1,(#110,#111),.UNSPECIFIED.,.F.,.F.,(2,2),(1.,0.),.UNSPECIFIED.);\n" + pts, "rise"},
		{"unknown type", "#100=IFCDIRECTION((0.,0.,1.));\n", "not read as solids"},
		{"sections without a directrix", "#100=IFCSECTIONEDSOLIDHORIZONTAL(#999,(),());\n", "directrix"},
		{"sections without places", "#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(),());\n#102=IFCPOLYLINE((#110,#111));\n" + pts, "fewer than two"},
	} {
		r := reader(t, "IFC4", mmRad, c.data)
		s, err := r.solid(get(t, r, 100), 0)
		if err == nil {
			_, err = s.Mesh()
		}
		if err == nil || !strings.Contains(err.Error(), c.why) {
			t.Errorf("%s: %v, want %q", c.name, err, c.why)
		}
	}
}
