package shape

import (
	"math"
	"testing"
)

// Each profile as an extrusion of 1 mm: the volume is its area. The values are
// computed by hand; roundings are taken off as squares less quarter circles.
func TestProfiles(t *testing.T) {
	quarter := 1 - math.Pi/4 // what a rounding of radius 1 takes off a right corner
	for _, c := range []struct {
		name, schema, units, profile string
		area, tol                    float64
		x, y                         float64 // overall size, the middle at the origin
	}{
		{"rectangle", "IFC4", mmRad, "IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,10.)", 200, 0, 20, 10},
		{"rounded rectangle", "IFC4", mmRad, "IFCROUNDEDRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.,20.)", 20000 - 4*400*quarter, 1e-3, 200, 100},
		{"hollow rectangle with roundings", "IFC4", mmRad, "IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,#7,200.,100.,10.,10.,20.)", 20000 - 4*400*quarter - (180*80 - 4*100*quarter), 1e-3, 200, 100},
		{"circle", "IFC2X3", mmRad, "IFCCIRCLEPROFILEDEF(.AREA.,$,#7,100.)", ngon(sides(100, bodyTol), 100), 0, 200, 200},
		{"hollow circle", "IFC4", mmRad, "IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,$,100.,10.)", math.Pi * (10000 - 8100), 3e-3, 200, 200},
		{"ellipse", "IFC4", mmRad, "IFCELLIPSEPROFILEDEF(.AREA.,$,#7,20.,10.)", 200 * ngon(sides(20, bodyTol), 1), 0, 40, 20},
		{"trapezium", "IFC4", mmRad, "IFCTRAPEZIUMPROFILEDEF(.AREA.,$,#7,100.,60.,50.,20.)", 80 * 50, 0, 100, 50},
		{"I in 2X3", "IFC2X3", mmRad, "IFCISHAPEPROFILEDEF(.AREA.,'I',#7,100.,200.,10.,20.,$)", 2*100*20 + 160*10, 0, 100, 200},
		{"I in IFC4 with fillets", "IFC4", mmRad, "IFCISHAPEPROFILEDEF(.AREA.,'I',#7,100.,200.,10.,20.,15.,$,$)", 2*100*20 + 160*10 + 4*225*quarter, 1e-3, 100, 200},
		{"I with sloping flanges in degrees", "IFC4", mmDeg, "IFCISHAPEPROFILEDEF(.AREA.,'I',#7,100.,200.,10.,20.,$,$,8.)", // thickness 20 at a quarter of the width
			2*100*20 + 160*10 - 4*45*2.5*math.Tan(8*math.Pi/180) + 0, 0, 100, 200},
		{"asymmetric I in 2X3", "IFC2X3", mmRad, "IFCASYMMETRICISHAPEPROFILEDEF(.AREA.,$,#7,100.,200.,10.,20.,$,60.,30.,$,$)", 100*20 + 60*30 + 150*10, 0, 100, 200},
		{"asymmetric I in IFC4", "IFC4", mmRad, "IFCASYMMETRICISHAPEPROFILEDEF(.AREA.,$,#7,100.,200.,10.,20.,$,60.,30.,$,$,$,$,$)", 100*20 + 60*30 + 150*10, 0, 100, 200},
		{"L in 2X3", "IFC2X3", mmRad, "IFCLSHAPEPROFILEDEF(.AREA.,$,#7,150.,100.,10.,$,$,$,$,$)", 150*10 + 90*10, 0, 100, 150},
		{"L with equal legs", "IFC4", mmRad, "IFCLSHAPEPROFILEDEF(.AREA.,$,#7,100.,$,10.,12.,6.,$)", 1900 + (144-2*36)*quarter, 1e-3, 100, 100},
		{"U", "IFC2X3", mmRad, "IFCUSHAPEPROFILEDEF(.AREA.,$,#7,200.,80.,10.,15.,$,$,$,$)", 200*10 + 2*70*15, 0, 80, 200},
		{"C", "IFC4", mmRad, "IFCCSHAPEPROFILEDEF(.AREA.,$,#7,200.,80.,4.,25.,$)", 200*4 + 2*76*4 + 2*21*4, 0, 80, 200},
		{"C with roundings", "IFC4", mmRad, "IFCCSHAPEPROFILEDEF(.AREA.,$,#7,200.,80.,4.,25.,6.)", 200*4 + 2*76*4 + 2*21*4 - 4*(100-36)*quarter, 2e-3, 80, 200},
		{"Z", "IFC4", mmRad, "IFCZSHAPEPROFILEDEF(.AREA.,$,#7,200.,80.,10.,15.,$,$)", 200*10 + 2*70*15, 0, 150, 200},
		{"T in 2X3", "IFC2X3", mmRad, "IFCTSHAPEPROFILEDEF(.AREA.,$,#7,120.,100.,10.,15.,$,$,$,$,$,$)", 100*15 + 105*10, 0, 100, 120},
		{"T in IFC4", "IFC4", mmRad, "IFCTSHAPEPROFILEDEF(.AREA.,$,#7,120.,100.,10.,15.,$,$,$,$,$)", 100*15 + 105*10, 0, 100, 120},
		{"strip along a centre line", "IFC4", mmRad, "IFCCENTERLINEPROFILEDEF(.AREA.,$,#110,10.)", 10 * (100 + 50 - 0), 0, 0, 0},
		{"ring along a closed centre line", "IFC4", mmRad, "IFCCENTERLINEPROFILEDEF(.AREA.,$,#114,10.)", 110*110 - 90*90, 0, 0, 0},
	} {
		data := "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,1.);\n#101=" + c.profile + ";\n" +
			"#110=IFCPOLYLINE((#6,#111,#112));\n#111=IFCCARTESIANPOINT((100.,0.));\n#112=IFCCARTESIANPOINT((100.,50.));\n" +
			"#114=IFCPOLYLINE((#6,#111,#115,#116,#6));\n#115=IFCCARTESIANPOINT((100.,100.));\n#116=IFCCARTESIANPOINT((0.,100.));\n"
		r := reader(t, c.schema, c.units, data)
		s, err := r.solid(get(t, r, 100), 0)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		m, err := s.Mesh()
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		tol := max(c.tol, 1e-9)
		if got := volume(m); math.Abs(got-c.area) > tol*c.area || leaks(m) > 0 {
			t.Errorf("%s: area %.4f, want %.4f; %d leaks", c.name, got, c.area, leaks(m))
		}
		if b := m.Box(); c.x > 0 && (b.Min.Dist(v(-c.x/2, -c.y/2, 0)) > 1e-6 || b.Max.Dist(v(c.x/2, c.y/2, 1)) > 1e-6) {
			t.Errorf("%s: box %v, want %g x %g around the origin", c.name, b, c.x, c.y)
		}
	}
}

func TestRoundingsThatDoNotFitAreRefused(t *testing.T) {
	for r, ok := range map[string]bool{"49.9": true, "50.": true, "50.1": false} {
		rd := reader(t, "IFC4", mmRad, "#100=IFCEXTRUDEDAREASOLID(#101,#2,#3,1.);\n#101=IFCROUNDEDRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.,"+r+");\n")
		if _, err := rd.solid(get(t, rd, 100), 0); (err == nil) != ok {
			t.Errorf("radius %s in a side of 100: %v", r, err)
		}
	}
}
