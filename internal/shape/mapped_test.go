package shape

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

func ifcID(n int) ifcread.ID { return ifcread.ID(n) }

// product is #100 with one representation #91 that holds the items.
func product(id, kind, items string) string {
	return fmt.Sprintf("#100=IFCBUILDINGELEMENTPROXY('0000000000000000000002',$,$,$,$,$,#92,$,$);\n#92=IFCPRODUCTDEFINITIONSHAPE($,$,(#91));\n#91=IFCSHAPEREPRESENTATION(#8,'%s','%s',(%s));\n", id, kind, items)
}

// wedge is an extrusion without symmetry: a right triangle 30 x 20, 10 deep.
const wedge = "#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,10.);\n#111=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#112);\n#112=IFCPOLYLINE((#113,#114,#115,#113));\n" +
	"#113=IFCCARTESIANPOINT((0.,0.));\n#114=IFCCARTESIANPOINT((30.,0.));\n#115=IFCCARTESIANPOINT((0.,20.));\n"

const wedgeMap = "#120=IFCREPRESENTATIONMAP(#121,#123);\n#121=IFCAXIS2PLACEMENT3D(#122,$,$);\n#122=IFCCARTESIANPOINT((5.,0.,0.));\n#123=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#110));\n" + wedge

func TestMappedItems(t *testing.T) {
	for _, c := range []struct {
		name, target string
		volume       float64 // with sign: what the mesh moved by At has
		min, max     geom.Vec
	}{
		{"moved", "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#132,$,$);\n#132=IFCCARTESIANPOINT((100.,0.,0.));\n", 3000, v(95, 0, 0), v(125, 20, 10)},
		{"scaled", "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,2.,$);\n", 24000, v(-10, 0, 0), v(50, 40, 20)},
		{"scaled unevenly", "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM($,$,#1,2.,$,1.,0.5);\n", 3000, v(-10, 0, 0), v(50, 20, 5)},
		{"mirrored", "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D(#4,#132,#1,$,#3);\n#132=IFCDIRECTION((0.,-1.,0.));\n", 3000, v(-5, -20, 0), v(25, 0, 10)},
		{"turned", "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D(#5,#132,#1,1.,#3);\n#132=IFCDIRECTION((-1.,0.,0.));\n", 3000, v(-20, -5, 0), v(0, 25, 10)},
		{"turned, only z and x given", "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D(#3,$,#1,1.,#4);\n", 3000, v(0, 0, -5), v(10, 20, 25)},
	} {
		r := reader(t, "IFC4", mmRad, product("Body", "MappedRepresentation", "#130")+"#130=IFCMAPPEDITEM(#120,#131);\n"+c.target+wedgeMap)
		s := r.Shape(get(t, r, 100))
		if len(s.Parts) != 1 || len(s.Unread) > 0 {
			t.Errorf("%s: %+v", c.name, s)
			continue
		}
		p := s.Parts[0]
		m, err := p.Solid.Mesh()
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		m = m.Transform(p.At)
		b := m.Box()
		if got := volume(m); math.Abs(got-c.volume) > 1e-6 {
			t.Errorf("%s: volume %g, want %g: a mirrored body must still face outwards", c.name, got, c.volume)
		}
		if b.Min.Dist(c.min) > 1e-9 || b.Max.Dist(c.max) > 1e-9 {
			t.Errorf("%s: box %v, want %v %v", c.name, b, c.min, c.max)
		}
		if p.Item != get(t, r, 110) {
			t.Errorf("%s: item #%d", c.name, p.Item.ID())
		}
	}
}

func TestNestedMapsShareTheSolid(t *testing.T) {
	data := product("Body", "MappedRepresentation", "#130,#140,#110") + wedgeMap +
		"#130=IFCMAPPEDITEM(#120,#131);\n#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,$,$);\n" +
		"#140=IFCMAPPEDITEM(#141,#144);\n#141=IFCREPRESENTATIONMAP(#2,#142);\n#142=IFCSHAPEREPRESENTATION(#8,'Body','MappedRepresentation',(#143,#130));\n#143=IFCMAPPEDITEM(#120,#144);\n" +
		"#144=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#145,$,$);\n#145=IFCCARTESIANPOINT((0.,0.,10.));\n"
	r := reader(t, "IFC4", mmRad, data)
	s := r.Shape(get(t, r, 100))
	var z []float64
	for _, p := range s.Parts {
		if p.Solid != s.Parts[0].Solid {
			t.Error("the solid was evaluated twice")
		}
		z = append(z, p.At.T.Z)
	}
	if fmt.Sprint(z) != "[0 20 10 0]" {
		t.Errorf("heights %v", z)
	}
}

func TestCyclesEnd(t *testing.T) {
	op := "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,$,$);\n"
	for name, data := range map[string]string{
		"map in itself":     product("Body", "MappedRepresentation", "#130") + "#130=IFCMAPPEDITEM(#120,#131);\n#120=IFCREPRESENTATIONMAP(#2,#91);\n" + op,
		"maps in a ring":    product("Body", "MappedRepresentation", "#130") + "#130=IFCMAPPEDITEM(#120,#131);\n#120=IFCREPRESENTATIONMAP(#2,#140);\n#140=IFCSHAPEREPRESENTATION(#8,'Body','X',(#141));\n#141=IFCMAPPEDITEM(#142,#131);\n#142=IFCREPRESENTATIONMAP(#2,#143);\n#143=IFCSHAPEREPRESENTATION(#8,'Body','X',(#130));\n" + op,
		"boolean first":     product("Body", "CSG", "#130") + "#130=IFCBOOLEANRESULT(.UNION.,#130,#110);\n" + wedge,
		"boolean second":    product("Body", "CSG", "#130") + "#130=IFCBOOLEANRESULT(.UNION.,#110,#130);\n" + wedge,
		"csg in itself":     product("Body", "CSG", "#130") + "#130=IFCCSGSOLID(#130);\n",
		"curve in itself":   product("Body", "X", "#130") + "#130=IFCSWEPTDISKSOLID(#131,1.,$,$,$);\n#131=IFCCOMPOSITECURVE((#132),.F.);\n#132=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#131);\n",
		"profile in itself": product("Body", "X", "#130") + "#130=IFCEXTRUDEDAREASOLID(#131,#2,#3,10.);\n#131=IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#131,#131),$);\n",
	} {
		r := reader(t, "IFC4", mmRad, data)
		s := r.Shape(get(t, r, 100))
		if len(s.Parts) != 0 || len(s.Unread) == 0 || s.Unread[0].Why == "" {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// Each of 40 representations maps the next one twice: 2^40 parts.
func TestMapsThatMultiplyAreBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString(product("Body", "MappedRepresentation", "#1000") + wedge)
	for i := range 40 {
		n := 1000 + 10*i
		fmt.Fprintf(&b, "#%d=IFCMAPPEDITEM(#%d,#131);\n#%d=IFCREPRESENTATIONMAP(#2,#%d);\n#%d=IFCSHAPEREPRESENTATION(#8,'Body','X',(#%d,#%d));\n", n, n+1, n+1, n+2, n+2, n+10, n+10)
	}
	b.WriteString("#1400=IFCMAPPEDITEM(#1401,#131);\n#1401=IFCREPRESENTATIONMAP(#2,#1402);\n#1402=IFCSHAPEREPRESENTATION(#8,'Body','X',(#110));\n#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#1,$,$);\n")
	r := reader(t, "IFC4", mmRad, b.String())
	if s := r.Shape(get(t, r, 100)); len(s.Parts) > maxParts || len(s.Unread) == 0 {
		t.Errorf("%d parts, unread %v", len(s.Parts), s.Unread)
	}
}
