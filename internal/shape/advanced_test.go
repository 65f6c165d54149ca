package shape

import (
	"math"
	"strings"
	"testing"
)

// A drum of radius 50 and height 100: circles at both ends, whose vertices lie
// on the x axis. Side faces differ from case to case and start at #200.
const drum = "#100=IFCADVANCEDBREP(#101);\n" +
	"#110=IFCVERTEXPOINT(#111);\n#111=IFCCARTESIANPOINT((50.,0.,0.));\n#112=IFCVERTEXPOINT(#113);\n#113=IFCCARTESIANPOINT((50.,0.,100.));\n" +
	"#120=IFCCIRCLE(#2,50.);\n#121=IFCCIRCLE(#122,50.);\n#122=IFCAXIS2PLACEMENT3D(#123,$,$);\n#123=IFCCARTESIANPOINT((0.,0.,100.));\n" +
	"#130=IFCEDGECURVE(#110,#110,#120,.T.);\n#131=IFCEDGECURVE(#112,#112,#121,.T.);\n#132=IFCEDGECURVE(#110,#112,#133,.T.);\n#133=IFCLINE(#111,#134);\n#134=IFCVECTOR(#3,1.);\n" +
	// lids
	"#140=IFCADVANCEDFACE((#141),#144,.F.);\n#141=IFCFACEOUTERBOUND(#142,.T.);\n#142=IFCEDGELOOP((#143));\n#143=IFCORIENTEDEDGE(*,*,#130,.F.);\n#144=IFCPLANE(#2);\n" +
	"#150=IFCADVANCEDFACE((#151),#154,.T.);\n#151=IFCFACEOUTERBOUND(#152,.T.);\n#152=IFCEDGELOOP((#153));\n#153=IFCORIENTEDEDGE(*,*,#131,.T.);\n#154=IFCPLANE(#122);\n" +
	"#160=IFCCYLINDRICALSURFACE(#2,50.);\n#161=IFCORIENTEDEDGE(*,*,#130,.T.);\n#162=IFCORIENTEDEDGE(*,*,#131,.F.);\n#163=IFCORIENTEDEDGE(*,*,#132,.T.);\n#164=IFCORIENTEDEDGE(*,*,#132,.F.);\n"

func TestAdvancedBreps(t *testing.T) {
	exact := math.Pi * 2500 * 100
	box := func(c item) item {
		c.min, c.max = v(-50, -50, 0), v(50, 50, 100)
		if c.volume == 0 {
			c.volume = exact * 0.998
		}
		c.tol, c.slack = 0.002, 0.11
		return c
	}
	spline := "#160=IFCRATIONALBSPLINESURFACEWITHKNOTS(2,1,((#170,#180),(#171,#181),(#172,#182),(#173,#183),(#174,#184),(#175,#185),(#176,#186),(#177,#187),(#170,#180)),.UNSPECIFIED.,.T.,.F.,.F.," +
		"(3,2,2,2,3),(2,2),(0.,1.,2.,3.,4.),(0.,1.),.UNSPECIFIED.,((1.,1.),(0.707106781186548,0.707106781186548),(1.,1.),(0.707106781186548,0.707106781186548),(1.,1.),(0.707106781186548,0.707106781186548),(1.,1.),(0.707106781186548,0.707106781186548),(1.,1.)));\n"
	for i, p := range []string{"50.,0.", "50.,50.", "0.,50.", "-50.,50.", "-50.,0.", "-50.,-50.", "0.,-50.", "50.,-50."} {
		d := string(rune('0' + i))
		spline += "#17" + d + "=IFCCARTESIANPOINT((" + p + ",0.));\n#18" + d + "=IFCCARTESIANPOINT((" + p + ",100.));\n"
	}
	drumSpline := drum[:strings.Index(drum, "#160=")] + drum[strings.Index(drum, "#161="):]
	seam := "#101=IFCCLOSEDSHELL((#140,#150,#200));\n#200=IFCADVANCEDFACE((#201),#160,.T.);\n#201=IFCFACEOUTERBOUND(#202,.T.);\n#202=IFCEDGELOOP((#161,#163,#162,#164));\n"
	for _, c := range []item{
		box(item{name: "cylinder with a seam", data: drum + seam}),
		box(item{name: "cylinder with two bounds", data: drum + "#101=IFCCLOSEDSHELL((#140,#150,#200));\n#200=IFCADVANCEDFACE((#201,#203),#160,.T.);\n#201=IFCFACEBOUND(#202,.T.);\n#202=IFCEDGELOOP((#161));\n#203=IFCFACEBOUND(#204,.T.);\n#204=IFCEDGELOOP((#162));\n"}),
		box(item{name: "turned inwards", data: drum + "#101=IFCCLOSEDSHELL((#140,#150,#200));\n#200=IFCADVANCEDFACE((#201),#160,.F.);\n#201=IFCFACEOUTERBOUND(#202,.F.);\n#202=IFCEDGELOOP((#161,#163,#162,#164));\n"}),
		box(item{name: "rational spline surface", data: drumSpline + spline + seam}),
		box(item{name: "surface of extrusion", data: drumSpline + "#160=IFCSURFACEOFLINEAREXTRUSION(#165,$,#3,100.);\n#165=IFCARBITRARYCLOSEDPROFILEDEF(.CURVE.,$,#120);\n" + seam}),
		box(item{name: "surface of revolution", data: drumSpline + "#160=IFCSURFACEOFREVOLUTION(#165,#167,#166);\n#165=IFCARBITRARYOPENPROFILEDEF(.CURVE.,$,#168);\n#166=IFCAXIS1PLACEMENT(#1,#5);\n" +
			"#167=IFCAXIS2PLACEMENT3D(#1,#169,#4);\n#168=IFCPOLYLINE((#190,#191));\n#169=IFCDIRECTION((0.,-1.,0.));\n#190=IFCCARTESIANPOINT((50.,0.));\n#191=IFCCARTESIANPOINT((50.,100.));\n" + seam}),
		{name: "half ball", data: "#100=IFCADVANCEDBREP(#101);\n#101=IFCCLOSEDSHELL((#140,#200));\n#110=IFCVERTEXPOINT(#111);\n#111=IFCCARTESIANPOINT((50.,0.,0.));\n#120=IFCCIRCLE(#2,50.);\n#130=IFCEDGECURVE(#110,#110,#120,.T.);\n" +
			"#140=IFCADVANCEDFACE((#141),#144,.F.);\n#141=IFCFACEOUTERBOUND(#142,.T.);\n#142=IFCEDGELOOP((#143));\n#143=IFCORIENTEDEDGE(*,*,#130,.F.);\n#144=IFCPLANE(#2);\n" +
			"#200=IFCADVANCEDFACE((#201),#160,.T.);\n#201=IFCFACEOUTERBOUND(#202,.T.);\n#202=IFCEDGELOOP((#161));\n#160=IFCSPHERICALSURFACE(#2,50.);\n#161=IFCORIENTEDEDGE(*,*,#130,.T.);\n",
			volume: 2. / 3 * math.Pi * 125000 * 0.996, tol: 0.004, min: v(-50, -50, 0), max: v(50, 50, 50), slack: 0.11},
	} {
		t.Run(c.name, c.run)
	}
}

func TestBoundsOffTheirSurfaceAreRefused(t *testing.T) {
	data := drum + "#101=IFCCLOSEDSHELL((#140,#150,#200));\n#200=IFCADVANCEDFACE((#201),#160,.T.);\n#201=IFCFACEOUTERBOUND(#202,.T.);\n#202=IFCEDGELOOP((#161,#163,#162,#164));\n"
	for radius, ok := range map[string]bool{"50.": true, "50.9": true, "51.1": false, "500.": false} {
		r := reader(t, "IFC4", mmRad, strings.Replace(data, "#160=IFCCYLINDRICALSURFACE(#2,50.)", "#160=IFCCYLINDRICALSURFACE(#2,"+radius+")", 1))
		s, err := r.solid(get(t, r, 100), 0)
		if err == nil {
			_, err = s.Mesh()
		}
		if (err == nil) != ok {
			t.Errorf("radius %s for circles of 50: %v", radius, err)
		}
	}
}
