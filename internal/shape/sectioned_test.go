package shape

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// along is a place at a distance on curve #102, and its frame: instances at and
// at+1.
func along(at int, mm, lateral, vertical float64) string {
	return fmt.Sprintf("#%d=IFCPOINTBYDISTANCEEXPRESSION(IFCLENGTHMEASURE(%f),%f,%f,$,#102);\n#%d=IFCAXIS2PLACEMENTLINEAR(#%d,$,$);\n", at, mm, lateral, vertical, at+1, at)
}

const tapering = "#120=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#121=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,100.,100.);\n"

// quarterTurn is a directrix of 1000 along x, a quarter circle of radius 500 to the
// left, written as segments of an alignment.
const quarterTurn = "#102=IFCCOMPOSITECURVE((#130,#131),.F.);\n#130=IFCCURVESEGMENT(.CONTINUOUS.,#7,IFCLENGTHMEASURE(0.),IFCLENGTHMEASURE(1000.),#132);\n#132=IFCLINE(#6,#133);\n#133=IFCVECTOR(#134,1.);\n#134=IFCDIRECTION((1.,0.));\n" +
	"#131=IFCCURVESEGMENT(.CONTINUOUS.,#135,IFCLENGTHMEASURE(0.),IFCLENGTHMEASURE(785.3981634),#136);\n#135=IFCAXIS2PLACEMENT2D(#137,$);\n#137=IFCCARTESIANPOINT((1000.,0.));\n#136=IFCCIRCLE(#7,500.);\n"

func TestSectionedSolids(t *testing.T) {
	straight := "#102=IFCPOLYLINE((#1,#103));\n#103=IFCCARTESIANPOINT((3000.,0.,0.));\n"
	runItems(t, []item{
		{name: "even", schema: "IFC4X3_ADD2", data: straight + along(110, 500, 0, 0) + along(112, 2500, 0, 0) + tapering +
			"#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#120),(#111,#113));\n",
			volume: 200 * 100 * 2000, min: v(500, -100, -50), max: v(2500, 100, 50)},
		{name: "tapering, to the left and up", schema: "IFC4X3_ADD2", data: straight + along(110, 0, 30, 40) + along(112, 3000, 30, 40) + tapering +
			"#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#121),(#111,#113));\n",
			volume: 150 * 100 * 3000, min: v(0, -70, -10), max: v(3000, 130, 90)},
		{name: "three sections", schema: "IFC4X3_ADD2", data: straight + along(110, 0, 0, 0) + along(112, 1000, 0, 0) + along(114, 3000, 0, 0) + tapering +
			"#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#121,#121),(#111,#113,#115));\n",
			volume: 150*100*1000 + 100*100*2000, min: v(0, -100, -50), max: v(3000, 100, 50)},
		// Pappus: the middle of the section runs along the directrix
		{name: "round a bend of an alignment", schema: "IFC4X3_ADD2", data: quarterTurn + along(110, 0, 0, 0) + along(112, 1000+500*math.Pi/2, 0, 0) + tapering +
			"#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#120),(#111,#113));\n",
			volume: 200 * 100 * (1000 + 500*math.Pi/2), tol: 1e-3, min: v(0, -100, -50), max: v(1600, 500, 50), slack: 0.1},
		{name: "spine", data: "#101=IFCCOMPOSITECURVE((#104),.F.);\n#104=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#102);\n" + straight +
			"#110=IFCAXIS2PLACEMENT3D(#1,#4,#5);\n#111=IFCAXIS2PLACEMENT3D(#103,#4,#5);\n" + tapering +
			"#100=IFCSECTIONEDSPINE(#101,(#120,#121),(#110,#111));\n",
			volume: 150 * 100 * 3000, min: v(0, -100, -50), max: v(3000, 100, 50)},
		{name: "spine of round sections", schema: "IFC2X3", data: "#101=IFCCOMPOSITECURVE((#104),.F.);\n#104=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#102);\n" + straight +
			"#110=IFCAXIS2PLACEMENT3D(#1,#4,#5);\n#111=IFCAXIS2PLACEMENT3D(#103,#4,#5);\n#120=IFCCIRCLEPROFILEDEF(.AREA.,$,#7,50.);\n#121=IFCCIRCLEPROFILEDEF(.AREA.,$,#7,100.);\n" +
			"#100=IFCSECTIONEDSPINE(#101,(#120,#121),(#110,#111));\n",
			volume: math.Pi / 3 * 3000 * (50*50 + 50*100 + 100*100), tol: 5e-3, min: v(0, -100, -100), max: v(3000, 100, 100), slack: 0.1},
	})
}

func TestSectionedSolidsAreRefused(t *testing.T) {
	straight := "#102=IFCPOLYLINE((#1,#103));\n#103=IFCCARTESIANPOINT((3000.,0.,0.));\n"
	for _, c := range []struct{ name, data, why string }{
		{"beyond the end", along(110, 0, 0, 0) + along(112, 3005, 0, 0) + "#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#120),(#111,#113));\n", "does not lie on its curve"},
		{"not a length", strings.ReplaceAll(along(110, 0, 0, 0), "IFCLENGTHMEASURE", "IFCPARAMETERVALUE") + along(112, 3000, 0, 0) + "#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#120),(#111,#113));\n", "only by a distance"},
		{"in falling order", along(110, 2000, 0, 0) + along(112, 1000, 0, 0) + "#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#120),(#111,#113));\n", "do not follow"},
		{"one section too few", along(110, 0, 0, 0) + along(112, 1000, 0, 0) + "#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120),(#111,#113));\n", "1 cross-sections and 2 positions"},
		{"other corners", along(110, 0, 0, 0) + along(112, 1000, 0, 0) + "#122=IFCLSHAPEPROFILEDEF(.AREA.,$,#7,100.,100.,10.,$,$,$);\n#100=IFCSECTIONEDSOLIDHORIZONTAL(#102,(#120,#122),(#111,#113));\n", "corners"},
	} {
		r := reader(t, "IFC4X3_ADD2", mmRad, straight+tapering+c.data)
		if _, err := r.solid(get(t, r, 100), 0); err == nil || !strings.Contains(err.Error(), c.why) {
			t.Errorf("%s: %v, want %q", c.name, err, c.why)
		}
	}
}

// Places along an alignment: on its straight part, in the middle of its bend, and
// beside it; a stated cartesian position goes before.
func TestLinearPlacements(t *testing.T) {
	s := math.Sqrt2 / 2
	data := quarterTurn + along(110, 400, 0, 0) + along(112, 1000+250*math.Pi/2, 100, 20) +
		"#120=IFCLINEARPLACEMENT($,#111,$);\n#121=IFCLINEARPLACEMENT($,#113,$);\n#122=IFCLINEARPLACEMENT(#120,#113,#123);\n#123=IFCAXIS2PLACEMENT3D(#124,$,$);\n#124=IFCCARTESIANPOINT((1.,2.,3.));\n"
	r := reader(t, "IFC4X3_ADD2", mmRad, data)
	for id, want := range map[ifcread.ID]geom.Affine{
		120: geom.Identity.Shift(v(400, 0, 0)),
		121: {X: v(s, s, 0), Y: v(-s, s, 0), Z: v(0, 0, 1), T: v(1000+400*s, 500-400*s, 20)},
		122: geom.Identity.Shift(v(401, 2, 3)),
	} {
		got, err := r.Placement(get(t, r, id))
		if err != nil {
			t.Error(err)
		}
		for _, p := range []geom.Vec{{}, v(1, 0, 0), v(0, 1, 0), v(0, 0, 1)} {
			if d := got.Apply(p).Dist(want.Apply(p)); d > 1e-3 {
				t.Errorf("#%d: %v lies at %v, want %v", id, p, got.Apply(p), want.Apply(p))
			}
		}
	}
}

// A clothoid's end against the sums of Fresnel's integrals in small steps, and
// the height of a curve with a gradient.
func TestAlignmentCurves(t *testing.T) {
	for _, c := range []struct{ from, length, constant float64 }{{0, 80_000, 100_000}, {20_000, 60_000, -100_000}, {80_000, -80_000, 100_000}} {
		b := bend{rise: 1 / (c.constant * math.Abs(c.constant))}
		got := b.run(geom.Identity, c.from, c.length).end()
		var want geom.Vec
		turn, n := 0.0, 400_000
		ds := math.Abs(c.length) / float64(n)
		for i := range n {
			s := c.from + c.length*(float64(i)+0.5)/float64(n)
			k := s / (c.constant * math.Abs(c.constant))
			if c.length < 0 {
				k = -k
			}
			sn, cs := math.Sincos(turn + k*ds/2)
			want = want.Add(v(cs*ds, sn*ds, 0))
			turn += k * ds
		}
		if d := got.Dist(want); d > 0.01 {
			t.Errorf("clothoid %+v ends at %v, want %v", c, got, want)
		}
	}
	r := reader(t, "IFC4X3_ADD2", mmRad, quarterTurn+
		"#100=IFCGRADIENTCURVE((#140),.F.,#102,$);\n#140=IFCCURVESEGMENT(.CONTINUOUS.,#141,IFCLENGTHMEASURE(0.),IFCLENGTHMEASURE(2000.),#132);\n#141=IFCAXIS2PLACEMENT2D(#142,#143);\n#142=IFCCARTESIANPOINT((0.,50.));\n#143=IFCDIRECTION((1.,0.1));\n")
	c, err := r.curve(get(t, r, 100), 0)
	if err != nil {
		t.Fatal(err)
	}
	if want := v(1500, 500, 50+0.1*(1000+250*math.Pi)); c.end().Dist(want) > 0.01 {
		t.Errorf("the curve ends at %v, want %v", c.end(), want)
	}
	if p := c.frameAt(500 * math.Sqrt(1.01)).T; p.Dist(v(500, 0, 100)) > 0.01 {
		t.Errorf("it passes %v, want 500 0 100", p)
	}
}
