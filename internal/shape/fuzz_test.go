package shape

import (
	"math/rand"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/bounded"
	"embedcheck/internal/geom"
)

// allowance is what one product may take: a few parameters can state a body of
// many facets, its booleans with another, and each once more in another frame.
var allowance = bounded.Limit{Base: 512 << 20, PerByte: 100_000}

// sampleItems are sets of instances of which #110 is the item of a body.
func sampleItems() []string {
	cubeData, cubeFaces := cube{at: 200, side: 100}.faceted()
	return []string{
		"#110=IFCFACETEDBREP(#111);\n#111=IFCCLOSEDSHELL((" + cubeFaces + "));\n" + cubeData,
		"#110=IFCSWEPTDISKSOLID(#101,8.,$,0.,501.57);\n" + strings.ReplaceAll(bentLeg+bendRad, "#110", "#109"),
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,1.);\n#111=IFCISHAPEPROFILEDEF(.AREA.,'I',#7,100.,200.,10.,20.,15.,$,$);\n",
		"#110=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#120,#121);\n#120=IFCBLOCK(#2,10.,20.,30.);\n#121=IFCHALFSPACESOLID(#122,.T.);\n#122=IFCPLANE(#123);\n#123=IFCAXIS2PLACEMENT3D(#124,#3,#4);\n#124=IFCCARTESIANPOINT((5.,5.,5.));\n",
		"#110=IFCBOOLEANRESULT(.DIFFERENCE.,#120,#121);\n#120=IFCBLOCK(#2,10.,20.,30.);\n#121=IFCRIGHTCIRCULARCYLINDER(#2,30.,4.);\n",
		"#110=IFCMAPPEDITEM(#120,#131);\n#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,2.,$);\n#120=IFCREPRESENTATIONMAP(#2,#123);\n#123=IFCSHAPEREPRESENTATION(#8,'Body','X',(#125));\n#125=IFCRECTANGULARPYRAMID(#2,4.,5.,6.);\n",
		"#110=IFCREVOLVEDAREASOLID(#111,#2,#114,1.57);\n#111=IFCRECTANGLEPROFILEDEF(.AREA.,'P',#112,20.,40.);\n#112=IFCAXIS2PLACEMENT2D(#113,$);\n#113=IFCCARTESIANPOINT((100.,0.));\n#114=IFCAXIS1PLACEMENT(#1,#5);\n",
		"#110=IFCFIXEDREFERENCESWEPTAREASOLID(#101,$,#102,$,$,#3);\n#101=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,20.,10.);\n#102=IFCPOLYLINE((#1,#103,#104));\n#103=IFCCARTESIANPOINT((100.,0.,0.));\n#104=IFCCARTESIANPOINT((100.,100.,0.));\n",
		"#110=IFCTRIANGULATEDFACESET(#101,$,.T.,((1,3,2),(1,2,4),(2,3,4),(3,1,4)),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(10.,0.,0.),(0.,20.,0.),(0.,0.,30.)));\n",
		"#110=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCRATIONALBSPLINECURVEWITHKNOTS(2,(#111,#115,#112),.CIRCULAR_ARC.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.,(1.,0.7,1.));\n#111=IFCCARTESIANPOINT((100.,0.,0.));\n#115=IFCCARTESIANPOINT((100.,100.,0.));\n#112=IFCCARTESIANPOINT((0.,100.,0.));\n",
		strings.Replace(strings.ReplaceAll(drum, "#110", "#109"), "#100=", "#110=", 1) + "#101=IFCCLOSEDSHELL((#140,#150,#200));\n#200=IFCADVANCEDFACE((#201),#160,.T.);\n#201=IFCFACEOUTERBOUND(#202,.T.);\n#202=IFCEDGELOOP((#161,#163,#162,#164));\n",
	}
}

// judge reads a product whose body is item #110. No text may lead to a panic, an
// endless loop, a body without a volume, or an unread item without a reason.
func judge(t *testing.T, items string) {
	bounded.Work(t, len(items), allowance, func() { judgeItems(t, items) })
}

func judgeItems(t *testing.T, items string) {
	src := source("IFC4", mmRad, product("Body", "X", "#110")+items)
	file, err := ifcread.Parse("fuzz.ifc", src, ifcread.Options{Workers: 1})
	if err != nil {
		return
	}
	r := NewReader(file, ReadUnits(file))
	in, ok := file.Get(100)
	if !ok {
		return
	}
	s := r.Shape(in)
	for _, p := range s.Parts {
		m, err := p.Solid.Mesh()
		if err != nil {
			continue
		}
		if b := m.Box(); !b.Min.Finite() || !b.Max.Finite() || !(m.Volume() > 0) {
			t.Errorf("box %v, volume %g of\n%s", b, m.Volume(), items)
		}
	}
	for _, u := range s.Unread {
		if u.Why == "" || u.ItemType == "" {
			t.Errorf("unread without a reason: %+v\n%s", u, items)
		}
	}
	r.Rods(in, func(path []geom.Vec, radius float64, at geom.Affine) {
		if len(path) < 2 || !(radius > 0) {
			t.Errorf("rod of %d points, radius %g of\n%s", len(path), radius, items)
		}
	})
}

func TestSamplesAreRead(t *testing.T) {
	for _, items := range sampleItems() {
		r := reader(t, "IFC4", mmRad, product("Body", "X", "#110")+items)
		if s := r.Shape(get(t, r, 100)); len(s.Parts) != 1 || len(s.Unread) > 0 {
			t.Errorf("%+v of\n%s", s, items)
		}
	}
}

// brokenItems are bodies that contain themselves, have no size or cross themselves.
func brokenItems() []string {
	const bowTie = "#111=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#112);\n#112=IFCPOLYLINE((#6,#113,#114,#115,#6));\n#113=IFCCARTESIANPOINT((30.,30.));\n#114=IFCCARTESIANPOINT((30.,0.));\n#115=IFCCARTESIANPOINT((0.,30.));\n"
	return []string{
		"#110=IFCMAPPEDITEM(#120,#131);\n#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,$,$);\n#120=IFCREPRESENTATIONMAP(#2,#123);\n#123=IFCSHAPEREPRESENTATION(#8,'Body','X',(#110,#110));\n",
		"#110=IFCMAPPEDITEM(#120,#131);\n#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,0.,$);\n#120=IFCREPRESENTATIONMAP(#2,#91);\n",
		"#110=IFCBOOLEANRESULT(.UNION.,#110,#120);\n#120=IFCBLOCK(#2,10.,20.,30.);\n",
		"#110=IFCBOOLEANRESULT(.DIFFERENCE.,#120,#121);\n#120=IFCBOOLEANRESULT(.UNION.,#121,#121);\n#121=IFCBOOLEANRESULT(.INTERSECTION.,#120,#120);\n",
		"#110=IFCCSGSOLID(#120);\n#120=IFCBOOLEANRESULT(.UNION.,#110,#110);\n",
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,10.);\n#111=IFCDERIVEDPROFILEDEF(.AREA.,$,#111,#112,$);\n#112=IFCCARTESIANTRANSFORMATIONOPERATOR2D($,$,#6,$);\n",
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,10.);\n#111=IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#111,#111,#111),$);\n",
		"#110=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCCOMPOSITECURVE((#102,#102),.F.);\n#102=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#101);\n",
		"#110=IFCSWEPTDISKSOLID(#101,1.,$,$,$);\n#101=IFCTRIMMEDCURVE(#101,(#1),(#1),.T.,.CARTESIAN.);\n",
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,10.);\n" + bowTie,
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#4,0.);\n" + bowTie,
		"#110=IFCREVOLVEDAREASOLID(#111,#2,#116,6.2831853);\n#116=IFCAXIS1PLACEMENT(#1,#5);\n" + bowTie,
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,1.E300);\n#111=IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,#7,1.E300,1.E300);\n",
		"#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,NaN);\n#111=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,1.#INF,-1.#IND);\n",
		"#110=IFCTRIANGULATEDFACESET(#101,$,.T.,((1,1,1),(1,2,3),(3,2,1),(2,3,9999999)),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(0.,0.,0.),(0.,0.,0.)));\n",
	}
}

// A body that is broken is no body, and its reason is told; what crosses itself
// may be read.
func TestBrokenItemsAreTold(t *testing.T) {
	for _, items := range brokenItems() {
		judge(t, items)
		r := reader(t, "IFC4", mmRad, product("Body", "X", "#110")+items)
		if s := r.Shape(get(t, r, 100)); len(s.Parts) == 0 && len(s.Unread) == 0 {
			t.Errorf("neither a body nor a reason of\n%s", items)
		}
	}
}

func FuzzShape(f *testing.F) {
	for _, items := range append(sampleItems(), brokenItems()...) {
		f.Add(items)
	}
	f.Fuzz(judge)
}

// Parameters exchanged for others at random, by a fixed seed.
func TestExchangedParameters(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	seeds := sampleItems()
	others := strings.Fields("0. -1. 1.E9 1.E-9 1.E300 $ * #1 #2 #3 #4 #110 #111 #112 #999 ( ) () .T. .F. 0 1 2 7 100000 'x' 1.5707963 359. 0.5 NaN")
	for range 2000 {
		s := seeds[rng.Intn(len(seeds))]
		for range 1 + rng.Intn(3) {
			from := strings.LastIndexAny(s[:rng.Intn(len(s))], ",(") + 1
			to := from + max(strings.IndexAny(s[from:], ",)"), 0)
			s = s[:from] + others[rng.Intn(len(others))] + s[to:]
		}
		judge(t, s)
	}
}
