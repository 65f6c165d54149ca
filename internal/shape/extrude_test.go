package shape

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
)

func v(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }

// polygon area of a regular polygon inside a circle: what a circle is cut into.
func ngon(n int, r float64) float64 { return float64(n) / 2 * r * r * math.Sin(2*math.Pi/float64(n)) }

func TestExtrusions(t *testing.T) {
	runItems(t, []item{
		{name: "plate in mm", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,10.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,'PL10*200',#7,200.,100.);\n",
			volume: 200000, min: v(-100, -50, 0), max: v(100, 50, 10), kind: Extrusion},
		{name: "plate in metres, 2X3", schema: "IFC2X3", units: metre, data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,0.01);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,0.2,0.1);\n",
			volume: 200000, min: v(-100, -50, 0), max: v(100, 50, 10), kind: Extrusion},
		{name: "plate in inches", units: inch, data: "#100=IFCEXTRUDEDAREASOLID(#101,$,#3,1.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,8.,4.);\n",
			volume: 32 * 25.4 * 25.4 * 25.4, min: v(-101.6, -50.8, 0), max: v(101.6, 50.8, 25.4), kind: Extrusion},
		{name: "turned and moved", data: "#100=IFCEXTRUDEDAREASOLID(#101,#102,#3,10.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#104,200.,100.);\n" +
			"#102=IFCAXIS2PLACEMENT3D(#103,#4,#5);\n#103=IFCCARTESIANPOINT((1000.,2000.,3000.));\n#104=IFCAXIS2PLACEMENT2D(#105,#106);\n#105=IFCCARTESIANPOINT((5.,7.));\n#106=IFCDIRECTION((0.,1.));\n",
			// the frame has x along world y, y along world z, z along world x; the rectangle is turned by 90 degrees
			volume: 200000, min: v(1000, 2000+5-50, 3000+7-100), max: v(1010, 2000+5+50, 3000+7+100), kind: Extrusion},
		{name: "skew", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#102,10.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,10.);\n#102=IFCDIRECTION((3.,0.,4.));\n",
			volume: 200 * 8, min: v(-10, -5, 0), max: v(16, 5, 8), kind: Extrusion},
		{name: "downwards", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#102,10.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,10.);\n#102=IFCDIRECTION((0.,0.,-1.));\n",
			volume: 2000, min: v(-10, -5, -10), max: v(10, 5, 0), kind: Extrusion},
		{name: "round bar", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,500.);\n#101=IFCCIRCLEPROFILEDEF(.AREA.,'M20',#7,10.);\n",
			volume: ngon(32, 10) * 500, min: v(-10, -10, 0), max: v(10, 10, 500), kind: Rod},
		{name: "skew circle is no rod", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#102,50.);\n#101=IFCCIRCLEPROFILEDEF(.AREA.,$,#7,10.);\n#102=IFCDIRECTION((3.,0.,4.));\n",
			volume: ngon(32, 10) * 40, min: v(-10, -10, 0), max: v(40, 10, 40), kind: Extrusion},
		{name: "hollow box", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,1000.);\n#101=IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,#7,100.,60.,5.,$,$);\n",
			volume: (6000 - 90*50) * 1000, min: v(-50, -30, 0), max: v(50, 30, 1000), kind: Extrusion},
		{name: "polyline with hole", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,10.);\n#101=IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,#102,(#103));\n" +
			"#102=IFCPOLYLINE((#110,#111,#112,#113,#110));\n#103=IFCPOLYLINE((#114,#115,#116,#114));\n" +
			"#110=IFCCARTESIANPOINT((0.,0.));\n#111=IFCCARTESIANPOINT((0.,100.));\n#112=IFCCARTESIANPOINT((100.,100.));\n#113=IFCCARTESIANPOINT((100.,0.));\n" +
			"#114=IFCCARTESIANPOINT((20.,20.));\n#115=IFCCARTESIANPOINT((40.,20.));\n#116=IFCCARTESIANPOINT((20.,60.));\n",
			volume: (10000 - 400) * 10, min: v(0, 0, 0), max: v(100, 100, 10), kind: Extrusion},
		{name: "tapered", data: "#100=IFCEXTRUDEDAREASOLIDTAPERED(#101,#2,#3,30.,#102);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,20.);\n#102=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,10.,10.);\n",
			volume: 30. / 3 * (400 + 100 + 200), min: v(-10, -10, 0), max: v(10, 10, 30)},
		{name: "composite of two apart", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,10.);\n#101=IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#102,#103),$);\n#102=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,20.);\n" +
			"#103=IFCRECTANGLEPROFILEDEF(.AREA.,$,#104,20.,20.);\n#104=IFCAXIS2PLACEMENT2D(#105,$);\n#105=IFCCARTESIANPOINT((50.,0.));\n",
			volume: 8000, min: v(-10, -10, 0), max: v(60, 10, 10)},
		{name: "derived and mirrored", data: "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,10.);\n#101=IFCDERIVEDPROFILEDEF(.AREA.,$,#102,#103,$);\n#102=IFCMIRROREDPROFILEDEF(.AREA.,$,#104,*,$);\n" +
			"#103=IFCCARTESIANTRANSFORMATIONOPERATOR2D($,$,#105,2.);\n#104=IFCRECTANGLEPROFILEDEF(.AREA.,$,#106,20.,10.);\n#105=IFCCARTESIANPOINT((100.,0.));\n#106=IFCAXIS2PLACEMENT2D(#107,$);\n#107=IFCCARTESIANPOINT((30.,0.));\n",
			// mirrored to x -40..-20, doubled to -80..-40, moved by 100
			volume: 40 * 20 * 10, min: v(20, -10, 0), max: v(60, 10, 10), kind: Extrusion},
		{name: "far away", data: "#100=IFCEXTRUDEDAREASOLID(#101,#102,#3,0.125);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,0.25,0.5);\n#102=IFCAXIS2PLACEMENT3D(#103,$,$);\n#103=IFCCARTESIANPOINT((1.E9,2.E9,6.7E9));\n",
			volume: 1. / 64, min: v(1e9-.125, 2e9-.25, 6.7e9), max: v(1e9+.125, 2e9+.25, 6.7e9+.125), slack: 2e-6, kind: Extrusion},
		{name: "profile far away, frame back", data: "#100=IFCEXTRUDEDAREASOLID(#101,#102,#3,10.);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#104,20.,10.);\n#102=IFCAXIS2PLACEMENT3D(#103,$,$);\n#103=IFCCARTESIANPOINT((-1.E9,0.,0.));\n#104=IFCAXIS2PLACEMENT2D(#105,$);\n#105=IFCCARTESIANPOINT((1.E9,0.));\n",
			volume: 2000, min: v(-10, -5, 0), max: v(10, 5, 10), kind: Extrusion},
	})
}

func TestSidesOfPlates(t *testing.T) {
	const poly = "#102=IFCPOLYLINE((#110,#111,#112,#113,#110));\n#110=IFCCARTESIANPOINT((0.,0.));\n#111=IFCCARTESIANPOINT((0.,100.));\n#112=IFCCARTESIANPOINT((50.,100.));\n"
	for _, c := range []struct {
		name, profile string
		x, y          float64
		ok            bool
	}{
		{"rectangle", "#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n", 200, 100, true},
		{"drawn rectangle", "#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n" + poly + "#113=IFCCARTESIANPOINT((50.,0.));\n", 50, 100, true},
		{"one corner off", "#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n" + poly + "#113=IFCCARTESIANPOINT((50.1,0.));\n", 0, 0, false},
		{"circle", "#101=IFCCIRCLEPROFILEDEF(.AREA.,$,#7,100.);\n", 0, 0, false},
		{"rounded", "#101=IFCROUNDEDRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.,5.);\n", 0, 0, false},
		{"hollow", "#101=IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,#7,200.,100.,5.,$,$);\n", 0, 0, false},
	} {
		r := reader(t, "IFC4", mmRad, "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,12.);\n"+c.profile)
		s, err := r.solid(get(t, r, 100), 0)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		x, y, d, ok := s.Prism.Sides()
		if ok != c.ok || ok && (math.Abs(min(x, y)-min(c.x, c.y)) > 1e-9 || math.Abs(max(x, y)-max(c.x, c.y)) > 1e-9 || d != 12) {
			t.Errorf("%s: sides %g %g %g %v, want %g %g %v", c.name, x, y, d, ok, c.x, c.y, c.ok)
		}
	}
}

func TestRodOfExtrudedCircle(t *testing.T) {
	tube := "#101=IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,#104,10.,3.);\n#104=IFCAXIS2PLACEMENT2D(#105,$);\n#105=IFCCARTESIANPOINT((5.,7.));\n"
	drawn := "#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#104);\n#104=IFCCIRCLE(#105,10.);\n#105=IFCAXIS2PLACEMENT2D(#106,$);\n#106=IFCCARTESIANPOINT((5.,7.));\n"
	derived := "#101=IFCDERIVEDPROFILEDEF(.AREA.,$,#104,#107,$);\n#104=IFCCIRCLEPROFILEDEF(.AREA.,$,$,5.);\n#107=IFCCARTESIANTRANSFORMATIONOPERATOR2D($,$,#105,2.);\n#105=IFCCARTESIANPOINT((5.,7.));\n"
	for name, c := range map[string]struct {
		profile string
		inner   float64
	}{"tube": {tube, 7}, "drawn": {drawn, 0}, "derived": {derived, 0}} {
		r := reader(t, "IFC4", mmRad, "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,500.);\n"+c.profile)
		s, err := r.solid(get(t, r, 100), 0)
		if err != nil || s.Rod == nil || s.Prism == nil {
			t.Errorf("%s: no rod with a prism: %v %v", name, s, err)
			continue
		}
		rod := s.Rod
		if len(rod.Path) != 2 || rod.Path[0].Dist(v(5, 7, 0)) > 1e-9 || rod.Path[1].Dist(v(5, 7, 500)) > 1e-9 || math.Abs(rod.Radius-10) > 1e-9 || rod.Inner != c.inner {
			t.Errorf("%s: rod %+v", name, rod)
		}
	}
}
