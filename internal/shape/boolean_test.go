package shape

import (
	"fmt"
	"strings"
	"testing"
)

const block = "#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,100.);\n#111=IFCRECTANGLEPROFILEDEF(.AREA.,'W1',#7,200.,100.);\n" // -100..100, -50..50, 0..100

func TestBooleans(t *testing.T) {
	plane := func(x, y, z, nx, ny, nz float64) string {
		return fmt.Sprintf("#130=IFCPLANE(#131);\n#131=IFCAXIS2PLACEMENT3D(#132,#133,#134);\n#132=IFCCARTESIANPOINT((%g,%g,%g));\n#133=IFCDIRECTION((%g,%g,%g));\n#134=IFCDIRECTION((0.,1.,0.));\n", x, y, z, nx, ny, nz)
	}
	bounded := "#120=IFCPOLYGONALBOUNDEDHALFSPACE(#130,%s,#121,#122);\n#121=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((0.,0.,50.));\n" +
		"#122=IFCPOLYLINE((#124,#125,#126,#127,#124));\n#124=IFCCARTESIANPOINT((50.,-200.));\n#125=IFCCARTESIANPOINT((500.,-200.));\n#126=IFCCARTESIANPOINT((500.,0.));\n#127=IFCCARTESIANPOINT((50.,0.));\n"
	runItems(t, []item{
		{name: "half-space takes the side the normal points away from",
			data:   block + "#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#110,#120);\n#120=IFCHALFSPACESOLID(#130,.T.);\n" + plane(0, 0, 30, 0, 0, 1),
			volume: 200 * 100 * 70, min: v(-100, -50, 30), max: v(100, 50, 100)},
		{name: "half-space without agreement",
			data:   block + "#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#110,#120);\n#120=IFCHALFSPACESOLID(#130,.F.);\n" + plane(0, 0, 30, 0, 0, 1),
			volume: 200 * 100 * 30, min: v(-100, -50, 0), max: v(100, 50, 30)},
		{name: "intersection with a half-space",
			data:   block + "#100=IFCBOOLEANRESULT(.INTERSECTION.,#110,#120);\n#120=IFCHALFSPACESOLID(#130,.T.);\n" + plane(0, 0, 30, 0, 0, 1),
			volume: 200 * 100 * 30, min: v(-100, -50, 0), max: v(100, 50, 30)},
		{name: "skew half-space",
			data:   block + "#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#110,#120);\n#120=IFCBOXEDHALFSPACE(#130,.F.,$);\n" + plane(0, 0, 50, 1, 0, 1),
			volume: 200*100*100/2 + 0, min: v(-100, -50, 0), max: v(50, 50, 100)}, // cuts from (50, 0) to (-50, 100): half of the block
		{name: "bounded half-space", data: block + "#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#110,#120);\n" + fmt.Sprintf(bounded, ".F.") + plane(0, 0, 60, 0, 0, 1),
			volume: 200*100*100 - 50*50*40, min: v(-100, -50, 0), max: v(100, 50, 100)},
		{name: "bounded half-space below its own origin", data: block + "#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#110,#120);\n" + fmt.Sprintf(bounded, ".T.") + plane(0, 0, 20, 0, 0, 1),
			volume: 200*100*100 - 50*50*20, min: v(-100, -50, 0), max: v(100, 50, 100)},
		{name: "hole", data: block + "#100=IFCBOOLEANRESULT(.DIFFERENCE.,#110,#120);\n#120=IFCEXTRUDEDAREASOLID(#121,#122,#3,200.);\n#121=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,20.,20.);\n#122=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((10.,10.,-50.));\n",
			volume: 200*100*100 - 400*100, min: v(-100, -50, 0), max: v(100, 50, 100)},
		{name: "union of overlapping blocks", data: block + "#100=IFCBOOLEANRESULT(.UNION.,#110,#120);\n#120=IFCBLOCK(#122,20.,20.,50.);\n#122=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((0.,0.,90.));\n",
			volume: 200*100*100 + 400*40, min: v(-100, -50, 0), max: v(100, 50, 140)},
		{name: "union of blocks apart", data: block + "#100=IFCBOOLEANRESULT(.UNION.,#110,#120);\n#120=IFCBLOCK(#122,20.,20.,50.);\n#122=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((0.,0.,300.));\n",
			volume: 200*100*100 + 400*50, min: v(-100, -50, 0), max: v(100, 50, 350)},
		{name: "intersection of blocks", data: block + "#100=IFCBOOLEANRESULT(.INTERSECTION.,#110,#120);\n#120=IFCBLOCK(#122,20.,20.,50.);\n#122=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((90.,40.,90.));\n",
			volume: 1000, min: v(90, 40, 90), max: v(100, 50, 100)},
		{name: "at map coordinates", data: "#110=IFCEXTRUDEDAREASOLID(#111,#112,#3,100.);\n#111=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#112=IFCAXIS2PLACEMENT3D(#113,$,$);\n#113=IFCCARTESIANPOINT((1.E9,2.E9,3.E8));\n" +
			"#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#115,#120);\n#115=IFCBOOLEANRESULT(.DIFFERENCE.,#110,#116);\n#116=IFCBLOCK(#117,20.,20.,200.);\n#117=IFCAXIS2PLACEMENT3D(#118,$,$);\n#118=IFCCARTESIANPOINT((1.E9,2.E9,3.E8));\n#120=IFCHALFSPACESOLID(#130,.T.);\n" + plane(1e9, 2e9, 3e8+40, 0, 0, 1),
			volume: (200*100 - 400) * 60, min: v(1e9-100, 2e9-50, 3e8+40), max: v(1e9+100, 2e9+50, 3e8+100), slack: 2e-6},
		{name: "cutter far from its own origin", data: block + "#100=IFCBOOLEANRESULT(.DIFFERENCE.,#110,#120);\n#120=IFCEXTRUDEDAREASOLID(#121,#122,#3,200.);\n#121=IFCRECTANGLEPROFILEDEF(.AREA.,$,#124,20.,20.);\n#122=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((-1.E7,10.,-50.));\n#124=IFCAXIS2PLACEMENT2D(#125,$);\n#125=IFCCARTESIANPOINT((1.E7,0.));\n",
			volume: 200*100*100 - 400*100, min: v(-100, -50, 0), max: v(100, 50, 100)},
	})
}

func TestDeepBooleanChain(t *testing.T) {
	const n = 3000
	var b strings.Builder
	b.WriteString(block)
	b.WriteString("#130=IFCPLANE(#131);\n#131=IFCAXIS2PLACEMENT3D(#132,$,$);\n#132=IFCCARTESIANPOINT((0.,0.,10.));\n#120=IFCHALFSPACESOLID(#130,.T.);\n")
	prev := 110
	for i := range n {
		id := 1000 + i
		if i == n-1 {
			id = 100
		}
		fmt.Fprintf(&b, "#%d=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#%d,#120);\n", id, prev)
		prev = id
	}
	item{data: b.String(), volume: 200 * 100 * 90, min: v(-100, -50, 10), max: v(100, 50, 100)}.run(t)
}

func TestBooleanKeepsWhatItWasCutFrom(t *testing.T) {
	r := reader(t, "IFC4", mmRad, block+"#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#110,#120);\n#120=IFCHALFSPACESOLID(#130,.T.);\n#130=IFCPLANE(#131);\n#131=IFCAXIS2PLACEMENT3D(#1,$,$);\n")
	s, err := r.solid(get(t, r, 100), 0)
	if err != nil {
		t.Fatal(err)
	}
	if s.Profile != "W1" || s.Base == nil || s.Base.Prism == nil || s.Base.Prism.Depth != 100 {
		t.Errorf("profile %q, base %+v", s.Profile, s.Base)
	}
}
