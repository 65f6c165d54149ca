package shape

import (
	"math"
	"testing"
)

// Volumes by Pappus: area times the way of its centroid.
func TestRevolutions(t *testing.T) {
	const rect = "#101=IFCRECTANGLEPROFILEDEF(.AREA.,'P',#102,20.,40.);\n#102=IFCAXIS2PLACEMENT2D(#103,$);\n#103=IFCCARTESIANPOINT((100.,0.));\n#104=IFCAXIS1PLACEMENT(#1,#5);\n"
	quarter := 800 * 100 * math.Pi / 2
	runItems(t, []item{
		// about the y axis, from x towards -z
		{name: "quarter turn", data: "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,1.5707963267949);\n" + rect, volume: quarter, tol: 1e-3, min: v(0, -20, -110), max: v(110, 20, 0)},
		{name: "quarter turn in degrees, 2X3", schema: "IFC2X3", units: mmDeg, data: "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,90.);\n" + rect, volume: quarter, tol: 1e-3, min: v(0, -20, -110), max: v(110, 20, 0)},
		{name: "backwards", data: "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,-1.5707963267949);\n" + rect, volume: quarter, tol: 1e-3, min: v(0, -20, 0), max: v(110, 20, 110)},
		{name: "full turn", units: mmDeg, data: "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,360.);\n" + rect, volume: 4 * quarter, tol: 1e-3, min: v(-110, -20, -110), max: v(110, 20, 110), slack: 0.01},
		{name: "up to the axis", units: mmDeg, data: "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,360.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#102,20.,40.);\n#102=IFCAXIS2PLACEMENT2D(#103,$);\n#103=IFCCARTESIANPOINT((10.,0.));\n#104=IFCAXIS1PLACEMENT(#1,#5);\n",
			volume: math.Pi * 400 * 40, tol: 0.01, min: v(-20, -20, -20), max: v(20, 20, 20), slack: 0.02},
		{name: "tapered", units: mmDeg, data: "#100=IFCREVOLVEDAREASOLIDTAPERED(#101,#2,#104,90.,#105);\n#105=IFCRECTANGLEPROFILEDEF(.AREA.,$,#102,10.,20.);\n" + rect,
			// widths fall evenly: the mean area is (800+200+400)/3
			volume: quarter / 800 * 1400 / 3, tol: 1e-3, min: v(0, -20, -105), max: v(110, 20, 0), slack: 0.02},
		{name: "far away", data: "#100=IFCREVOLVEDAREASOLID(#101,#105,#104,1.5707963267949);\n#105=IFCAXIS2PLACEMENT3D(#106,$,$);\n#106=IFCCARTESIANPOINT((1.E9,1.E9,1.E9));\n" + rect,
			volume: quarter, tol: 1e-3, min: v(1e9, 1e9-20, 1e9-110), max: v(1e9+110, 1e9+20, 1e9), slack: 1e-5},
	})
}

func TestRevolvedCircleIsABentRod(t *testing.T) {
	r := reader(t, "IFC4", mmDeg, "#100=IFCREVOLVEDAREASOLID(#101,#2,#104,90.);\n#101=IFCCIRCLEPROFILEDEF(.AREA.,$,#102,8.);\n#102=IFCAXIS2PLACEMENT2D(#103,$);\n#103=IFCCARTESIANPOINT((40.,0.));\n#104=IFCAXIS1PLACEMENT(#1,#5);\n")
	s, err := r.solid(get(t, r, 100), 0)
	if err != nil || s.Kind != Rod || s.Prism != nil {
		t.Fatalf("%+v %v", s, err)
	}
	p := s.Rod.Path
	if math.Abs(s.Rod.Length()-20*math.Pi) > 0.02 || p[0].Dist(v(40, 0, 0)) > 1e-9 || p[len(p)-1].Dist(v(0, 0, -40)) > 1e-9 || s.Rod.Radius != 8 {
		t.Errorf("length %g from %v to %v, radius %g", s.Rod.Length(), p[0], p[len(p)-1], s.Rod.Radius)
	}
}

func TestSweepsAlongCurves(t *testing.T) {
	const rect = "#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,20.,10.);\n"
	const corner = "#102=IFCPOLYLINE((#1,#103,#104));\n#103=IFCCARTESIANPOINT((100.,0.,0.));\n#104=IFCCARTESIANPOINT((100.,100.,0.));\n"
	runItems(t, []item{
		// x of the profile stands up: 10 wide in plan, 20 high, mitred at the corner
		{name: "fixed reference", data: "#100=IFCFIXEDREFERENCESWEPTAREASOLID(#101,$,#102,$,$,#3);\n" + rect + corner, volume: 200 * 200, min: v(0, -5, -10), max: v(105, 100, 10)},
		{name: "fixed reference, trimmed, 4X3", schema: "IFC4X3_ADD2", data: "#100=IFCFIXEDREFERENCESWEPTAREASOLID(#101,$,#102,IFCPARAMETERVALUE(0.),IFCPARAMETERVALUE(0.5),#3);\n" + rect + corner, volume: 50 * 200, min: v(0, -5, -10), max: v(50, 5, 10)},
		{name: "in a plane", schema: "IFC2X3", data: "#100=IFCSURFACECURVESWEPTAREASOLID(#101,#2,#102,0.,2.,#105);\n#105=IFCPLANE(#2);\n" + rect + corner, volume: 200 * 200, min: v(0, -5, -10), max: v(105, 100, 10)},
		{name: "on an extruded curve", data: "#100=IFCSURFACECURVESWEPTAREASOLID(#101,$,#105,$,$,#106);\n#105=IFCPOLYLINE((#1,#103));\n#106=IFCSURFACEOFLINEAREXTRUSION(#107,$,#3,50.);\n#107=IFCARBITRARYOPENPROFILEDEF(.CURVE.,$,#108);\n#108=IFCPOLYLINE((#6,#109));\n#109=IFCCARTESIANPOINT((100.,0.));\n#103=IFCCARTESIANPOINT((100.,0.,0.));\n" + rect,
			// the normal of the surface is x cross z: against y
			volume: 100 * 200, min: v(0, -10, -5), max: v(100, 10, 5)},
		{name: "around a frame", data: "#100=IFCFIXEDREFERENCESWEPTAREASOLID(#101,$,#102,$,$,#3);\n#102=IFCPOLYLINE((#1,#103,#104,#105,#1));\n#103=IFCCARTESIANPOINT((100.,0.,0.));\n#104=IFCCARTESIANPOINT((100.,100.,0.));\n#105=IFCCARTESIANPOINT((0.,100.,0.));\n" + rect,
			volume: 400 * 200, min: v(-5, -5, -10), max: v(105, 105, 10)},
		{name: "on a cylinder", units: mmDeg, data: "#100=IFCSURFACECURVESWEPTAREASOLID(#101,#2,#102,$,$,#105);\n#105=IFCCYLINDRICALSURFACE(#2,100.);\n#102=IFCTRIMMEDCURVE(#106,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);\n#106=IFCCIRCLE(#2,100.);\n" + rect,
			volume: 200 * 50 * math.Pi, tol: 1e-3, min: v(0, 0, -5), max: v(110, 110, 5), slack: 1},
	})
}
