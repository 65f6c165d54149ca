package shape

import (
	"fmt"
	"math"
	"testing"

	"embedcheck/internal/geom"
)

func pathLength(p []geom.Vec) float64 { return geom.Rod{Path: p}.Length() }

// A stirrup leg: 300 along x, a bend of 90 degrees with radius 50, 200 up.
const bentLeg = "#101=IFCCOMPOSITECURVE((#110,#111,#112),.F.);\n" +
	"#110=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#120);\n#111=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#121);\n#112=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#122);\n" +
	"#120=IFCTRIMMEDCURVE(#130,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(300.)),.T.,.PARAMETER.);\n#130=IFCLINE(#1,#131);\n#131=IFCVECTOR(#4,1.);\n" +
	"#122=IFCTRIMMEDCURVE(#135,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(200.)),.T.,.PARAMETER.);\n#135=IFCLINE(#136,#137);\n#136=IFCCARTESIANPOINT((350.,0.,50.));\n#137=IFCVECTOR(#3,1.);\n" +
	"#132=IFCCIRCLE(#133,50.);\n#133=IFCAXIS2PLACEMENT3D(#134,#138,#139);\n#134=IFCCARTESIANPOINT((300.,0.,50.));\n#138=IFCDIRECTION((0.,-1.,0.));\n#139=IFCDIRECTION((0.,0.,-1.));\n"

const (
	bendRad = "#121=IFCTRIMMEDCURVE(#132,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(1.5707963267949)),.T.,.PARAMETER.);\n"
	bendDeg = "#121=IFCTRIMMEDCURVE(#132,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);\n"
)

// The whole leg must come out of every way in which files state its end.
func TestTrimConventionsOfBentLeg(t *testing.T) {
	arc := 50 * math.Pi / 2
	whole := 500 + arc
	for _, c := range []struct {
		name       string
		units      string
		start, end string
		want       float64
	}{
		{"none", mmRad, "$", "$", whole},
		{"one", mmRad, "0.", "1.", whole},
		{"segments", mmRad, "0.", "3.", whole},
		{"sum of parameters", mmRad, "0.", "501.5707963267949", whole},
		{"sum of parameters, degrees", mmDeg, "0.", "590.", whole},
		{"radians in a file of degrees", mmDeg, "0.", "501.5707963267949", whole},
		{"developed length", mmRad, "0.", "578.53981633974", whole},
		{"developed length, rounded", mmRad, "0.", "578.54", whole},
		{"beyond the end", mmRad, "0.", "9999.", whole},
		{"part by parameter", mmRad, "100.", "300.", 200},
		{"half the bend by parameter", mmRad, "0.", "300.78539816339745", 300 + arc/2},
		{"into the last leg by parameter", mmRad, "0.", "401.57079632679", 400 + arc},
		{"part by length", mmRad, "0.", "550.", 550},
		{"typed length", mmRad, "IFCLENGTHMEASURE(0.)", "IFCLENGTHMEASURE(450.)", 450},
	} {
		bend := bendRad
		if c.units == mmDeg {
			bend = bendDeg
		}
		if c.name == "part by length" { // within the parameters it would be read as those: state it beyond
			c.end, c.want = "560.", 560
		}
		r := reader(t, "IFC4", c.units, fmt.Sprintf("#100=IFCSWEPTDISKSOLID(#101,8.,$,%s,%s);\n", c.start, c.end)+bentLeg+bend)
		s, err := r.solid(get(t, r, 100), 0)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := s.Rod.Length(); math.Abs(got-c.want) > 0.05 {
			t.Errorf("%s: length %.4f, want %.4f", c.name, got, c.want)
		}
		if s.Rod.Radius != 8 {
			t.Errorf("%s: radius %g", c.name, s.Rod.Radius)
		}
	}
}

func TestTrimConventionsOfPolyline(t *testing.T) {
	const data = "#101=IFCPOLYLINE((#1,#102,#103,#104));\n#102=IFCCARTESIANPOINT((300.,0.,0.));\n#103=IFCCARTESIANPOINT((300.,200.,0.));\n#104=IFCCARTESIANPOINT((300.,200.,100.));\n"
	for _, c := range []struct {
		start, end string
		want       float64
	}{
		{"$", "$", 600}, {"0.", "1.", 600}, {"0.", "3.", 600}, {"0.", "600.", 600}, {"0.", "2.", 500}, {"1.", "2.", 200},
		{"1.5", "3.", 200}, {"0.", "2.5", 550}, {"0.", "450.", 450}, {"1.", "$", 300}, {"0.", "7000.", 600},
	} {
		r := reader(t, "IFC4", mmRad, fmt.Sprintf("#100=IFCSWEPTDISKSOLID(#101,8.,$,%s,%s);\n", c.start, c.end)+data)
		s, err := r.solid(get(t, r, 100), 0)
		if err != nil {
			t.Errorf("%s to %s: %v", c.start, c.end, err)
			continue
		}
		if got := s.Rod.Length(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s to %s: length %.4f, want %.4f", c.start, c.end, got, c.want)
		}
	}
}

func TestDiskPaths(t *testing.T) {
	const line3 = "#103=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(100.,100.,0.),(200.,100.,0.)));\n"
	for _, c := range []struct {
		name, units, data string
		length            float64
		end               geom.Vec
	}{
		{"indexed lines", mmRad, "#100=IFCSWEPTDISKSOLID(#101,8.,$,$,$);\n#101=IFCINDEXEDPOLYCURVE(#103,$,.F.);\n" + line3, 300, v(200, 100, 0)},
		{"indexed arc", mmRad, "#100=IFCSWEPTDISKSOLID(#101,8.,$,$,$);\n#101=IFCINDEXEDPOLYCURVE(#103,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,4))),.F.);\n" +
			"#103=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(170.710678118655,29.2893218813452,0.),(200.,100.,0.)));\n", 100 + 50*math.Pi, v(200, 100, 0)},
		{"straight arc", mmRad, "#100=IFCSWEPTDISKSOLID(#101,8.,$,$,$);\n#101=IFCINDEXEDPOLYCURVE(#103,(IFCARCINDEX((1,2,3))),.F.);\n#103=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(250.,0.,0.)));\n", 250, v(250, 0, 0)},
		{"filleted", mmRad, "#100=IFCSWEPTDISKSOLIDPOLYGONAL(#101,8.,$,$,$,20.);\n#101=IFCPOLYLINE((#1,#110,#111));\n#110=IFCCARTESIANPOINT((100.,0.,0.));\n#111=IFCCARTESIANPOINT((100.,100.,0.));\n",
			200 - 40 + 10*math.Pi, v(100, 100, 0)},
		{"fillets that do not fit", mmRad, "#100=IFCSWEPTDISKSOLIDPOLYGONAL(#101,8.,$,$,$,80.);\n#101=IFCINDEXEDPOLYCURVE(#103,$,.F.);\n" + line3, 300 - 200 + 50*math.Pi, v(200, 100, 0)},
		{"in inches", inch, "#100=IFCSWEPTDISKSOLID(#101,0.5,$,$,$);\n#101=IFCPOLYLINE((#1,#110));\n#110=IFCCARTESIANPOINT((0.,0.,10.));\n", 254, v(0, 0, 254)},
		{"line with parameters", mmRad, "#100=IFCSWEPTDISKSOLID(#101,8.,$,10.,60.);\n#101=IFCLINE(#1,#110);\n#110=IFCVECTOR(#5,2.);\n", 100, v(0, 120, 0)},
		{"ellipse quarter", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(1.5707963267949)),.T.,.PARAMETER.);\n#102=IFCELLIPSE(#2,200.,100.);\n",
			242.2112, v(0, 100, 0)}, // quarter of the perimeter of an ellipse 2:1, complete elliptic integral E(0.75)
		{"arc by points", mmDeg, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(#110),(#111),.T.,.CARTESIAN.);\n#102=IFCCIRCLE(#2,100.);\n#110=IFCCARTESIANPOINT((0.,100.,0.));\n#111=IFCCARTESIANPOINT((100.,0.,0.));\n",
			150 * math.Pi, v(100, 0, 0)},
		{"arc backwards", mmDeg, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(#110),(#111),.F.,.CARTESIAN.);\n#102=IFCCIRCLE(#2,100.);\n#110=IFCCARTESIANPOINT((0.,100.,0.));\n#111=IFCCARTESIANPOINT((100.,0.,0.));\n",
			50 * math.Pi, v(100, 0, 0)},
		{"arc over the seam", mmDeg, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(IFCPARAMETERVALUE(270.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);\n#102=IFCCIRCLE(#2,100.);\n",
			100 * math.Pi, v(0, 100, 0)},
		{"degrees in a file of radians", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);\n#102=IFCCIRCLE(#2,100.);\n",
			50 * math.Pi, v(0, 100, 0)},
		{"parameter against point", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(IFCPARAMETERVALUE(0.),#110),(IFCPARAMETERVALUE(3.),#111),.T.,.PARAMETER.);\n#102=IFCCIRCLE(#2,100.);\n#110=IFCCARTESIANPOINT((100.,0.,0.));\n#111=IFCCARTESIANPOINT((0.,100.,0.));\n",
			50 * math.Pi, v(0, 100, 0)},
		{"reversed segment", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCCOMPOSITECURVE((#110),.F.);\n#110=IFCCOMPOSITECURVESEGMENT(.DISCONTINUOUS.,.F.,#111);\n#111=IFCPOLYLINE((#1,#112));\n#112=IFCCARTESIANPOINT((70.,0.,0.));\n", 70, v(0, 0, 0)},
		{"segments whose senses are wrong", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCCOMPOSITECURVE((#110,#111,#112),.F.);\n#110=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.F.,#113);\n#111=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#114);\n#112=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.F.,#115);\n" +
			"#113=IFCPOLYLINE((#1,#116));\n#114=IFCPOLYLINE((#116,#117));\n#115=IFCPOLYLINE((#117,#118));\n#116=IFCCARTESIANPOINT((50.,0.,0.));\n#117=IFCCARTESIANPOINT((50.,20.,0.));\n#118=IFCCARTESIANPOINT((50.,20.,30.));\n", 100, v(50, 20, 30)},
		{"trimmed polyline", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#102,(IFCPARAMETERVALUE(0.5)),(IFCPARAMETERVALUE(1.5)),.T.,.PARAMETER.);\n#102=IFCPOLYLINE((#1,#110,#111));\n#110=IFCCARTESIANPOINT((100.,0.,0.));\n#111=IFCCARTESIANPOINT((100.,60.,0.));\n", 80, v(100, 30, 0)},
		{"quarter circle as rational spline", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCRATIONALBSPLINECURVEWITHKNOTS(2,(#110,#111,#112),.CIRCULAR_ARC.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.,(1.,0.707106781186548,1.));\n" +
			"#110=IFCCARTESIANPOINT((100.,0.,0.));\n#111=IFCCARTESIANPOINT((100.,100.,0.));\n#112=IFCCARTESIANPOINT((0.,100.,0.));\n", 50 * math.Pi, v(0, 100, 0)},
		{"offset to the left", mmRad, "#100=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCOFFSETCURVE2D(#102,10.,.F.);\n#102=IFCPOLYLINE((#6,#110,#111));\n#110=IFCCARTESIANPOINT((100.,0.));\n#111=IFCCARTESIANPOINT((100.,50.));\n", 90 + 40, v(90, 50, 0)},
	} {
		r := reader(t, "IFC4", c.units, c.data)
		s, err := r.solid(get(t, r, 100), 0)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		p := s.Rod.Path
		if got := pathLength(p); math.Abs(got-c.length) > 0.001*c.length {
			t.Errorf("%s: length %.4f, want %.4f", c.name, got, c.length)
		}
		if d := p[len(p)-1].Dist(c.end); d > 1e-6 {
			t.Errorf("%s: ends at %v, want %v", c.name, p[len(p)-1], c.end)
		}
	}
}

func TestArcPathsKeepTheChordTolerance(t *testing.T) {
	for _, radius := range []float64{0.5, 25, 300, 8000} {
		a := piece{kind: conic, x: v(radius, 0, 0), y: v(0, radius, 0), t1: math.Pi}
		pts := path{pieces: []piece{a}}.points(pathTol)
		worst := 0.0
		for i := 1; i < len(pts); i++ {
			worst = max(worst, radius-pts[i].Add(pts[i-1]).Mul(0.5).Norm())
		}
		limit := pathTol * 1.01
		if n := len(pts) - 1; n >= maxSides {
			limit = radius * (1 - math.Cos(math.Pi/2/maxSides)) * 1.01
		}
		if worst > limit {
			t.Errorf("radius %g: chords lie %.4f inside, limit %.4f", radius, worst, limit)
		}
	}
}
