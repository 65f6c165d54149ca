package shape

import (
	"fmt"
	"math"
	"testing"

	"embedcheck/internal/geom"
)

type seenRod struct {
	path   []geom.Vec
	radius float64
}

func rodsOf(r *Reader, t *testing.T) (rods []seenRod, ok bool) {
	ok = r.Rods(get(t, r, 100), func(path []geom.Vec, radius float64, at geom.Affine) {
		s, _ := at.Scale()
		q := seenRod{radius: radius * s}
		for _, p := range path {
			q.path = append(q.path, at.Apply(p))
		}
		rods = append(rods, q)
	})
	return rods, ok
}

// What the short way finds must be what the long way finds.
func TestRodsAgreeWithShape(t *testing.T) {
	const target = "#131=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#132,2.,$);\n#132=IFCCARTESIANPOINT((0.,50.,0.));\n#120=IFCREPRESENTATIONMAP(#121,#123);\n#121=IFCAXIS2PLACEMENT3D(#122,$,$);\n#122=IFCCARTESIANPOINT((5.,0.,0.));\n#123=IFCSHAPEREPRESENTATION(#8,'Body','AdvancedSweptSolid',(#110));\n"
	const pts = "#115=IFCCARTESIANPOINT((1000.,0.,0.));\n#116=IFCCARTESIANPOINT((1000.,300.,0.));\n"
	disk := func(trim string) string {
		return "#110=IFCSWEPTDISKSOLID(#111,8.,$," + trim + ");\n#111=IFCPOLYLINE((#1,#115,#116));\n" + pts
	}
	for _, c := range []struct {
		name, data string
		n          int
		ok         bool
	}{
		{"disk", product("Body", "AdvancedSweptSolid", "#110") + disk("$,$"), 1, true},
		{"disk to parameter 2", product("Body", "AdvancedSweptSolid", "#110") + disk("0.,2."), 1, true},
		{"disk to its length", product("Body", "AdvancedSweptSolid", "#110") + disk("0.,1300."), 1, true},
		{"disk cut short", product("Body", "AdvancedSweptSolid", "#110") + disk("0.5,1.5"), 1, true},
		{"tube", product("Body", "AdvancedSweptSolid", "#110") + "#110=IFCSWEPTDISKSOLID(#111,8.,6.,$,$);\n#111=IFCPOLYLINE((#1,#115,#116));\n" + pts, 1, true},
		{"repeated point", product("Body", "AdvancedSweptSolid", "#110") + "#110=IFCSWEPTDISKSOLID(#111,8.,$,$,$);\n#111=IFCPOLYLINE((#1,#115,#115,#116));\n" + pts, 1, true},
		{"extruded circle", product("Body", "SweptSolid", "#110") + "#110=IFCEXTRUDEDAREASOLID(#111,#2,#3,500.);\n#111=IFCCIRCLEPROFILEDEF(.AREA.,$,#7,10.);\n", 1, true},
		{"far away", product("Body", "AdvancedSweptSolid", "#110") + "#110=IFCSWEPTDISKSOLID(#111,8.,$,$,$);\n#111=IFCPOLYLINE((#115,#116));\n#115=IFCCARTESIANPOINT((1.E9,0.,0.));\n#116=IFCCARTESIANPOINT((1.E9,300.,0.));\n", 1, true},
		{"two mapped bars", product("Body", "MappedRepresentation", "#130,#133") + "#130=IFCMAPPEDITEM(#120,#131);\n#133=IFCMAPPEDITEM(#120,#134);\n#134=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#116,$,$);\n" + target + disk("$,$"), 2, true},
		{"block", product("Body", "CSG", "#110") + "#110=IFCBLOCK(#2,1.,1.,1.);\n", 0, false},
		{"disk and block", product("Body", "SolidModel", "#110,#140") + "#140=IFCBLOCK(#2,1.,1.,1.);\n" + disk("$,$"), 1, false},
		{"mapped block", product("Body", "MappedRepresentation", "#130") + "#130=IFCMAPPEDITEM(#120,#131);\n#110=IFCBLOCK(#2,1.,1.,1.);\n" + target, 0, false},
		{"axis only", product("Axis", "Curve3D", "#111") + disk("$,$"), 0, false},
		{"no radius", product("Body", "AdvancedSweptSolid", "#110") + "#110=IFCSWEPTDISKSOLID(#111,0.,$,$,$);\n#111=IFCPOLYLINE((#1,#115));\n" + pts, 0, false},
		{"missing point", product("Body", "AdvancedSweptSolid", "#110") + "#110=IFCSWEPTDISKSOLID(#111,8.,$,$,$);\n#111=IFCPOLYLINE((#1,#999));\n", 0, false},
	} {
		r := reader(t, "IFC4", mmRad, c.data)
		got, ok := rodsOf(r, t)
		if ok != c.ok || len(got) != c.n {
			t.Errorf("%s: %d rods, %v; want %d, %v", c.name, len(got), ok, c.n, c.ok)
			continue
		}
		if !ok {
			continue
		}
		s := r.Shape(get(t, r, 100))
		if len(s.Parts) != c.n {
			t.Errorf("%s: %d parts, want %d", c.name, len(s.Parts), c.n)
			continue
		}
		for i, p := range s.Parts {
			want, _ := p.Solid.Rod.Transform(p.At)
			if math.Abs(got[i].radius-want.Radius) > 1e-9 || len(got[i].path) != len(want.Path) {
				t.Errorf("%s: %+v, want %+v", c.name, got[i], want)
				continue
			}
			for k := range want.Path {
				if got[i].path[k].Dist(want.Path[k]) > 1e-6 {
					t.Errorf("%s: point %d %v, want %v", c.name, k, got[i].path[k], want.Path[k])
				}
			}
		}
	}
}

func TestRecentMapsAreBounded(t *testing.T) {
	var c recentMaps
	for i := range 3 * maxRecent {
		c.put(ifcID(i), nil)
		if len(c.m) > maxRecent {
			t.Fatalf("%d kept", len(c.m))
		}
	}
}

func barModel(n int) string {
	data := "#115=IFCCARTESIANPOINT((1000.,0.,0.));\n#116=IFCCARTESIANPOINT((1000.,300.,0.));\n"
	for i := range n {
		k := 1000 + 10*i
		data += fmt.Sprintf("#%d=IFCREINFORCINGBAR('0000000000000000000002',$,$,$,$,$,#%d,$,$,$,$,$,$,$);\n#%d=IFCPRODUCTDEFINITIONSHAPE($,$,(#%d));\n#%d=IFCSHAPEREPRESENTATION(#8,'Body','AdvancedSweptSolid',(#%d));\n#%d=IFCSWEPTDISKSOLID(#%d,8.,$,$,$);\n#%d=IFCPOLYLINE((#1,#115,#116));\n",
			k, k+1, k+1, k+2, k+2, k+3, k+3, k+4, k+4)
	}
	return data
}

func BenchmarkRods(b *testing.B) {
	const n = 1000
	r := reader(b, "IFC4", mmRad, barModel(n))
	var sum float64
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		bar, _ := r.file.Get(ifcID(1000 + 10*(i%n)))
		if !r.Rods(bar, func(path []geom.Vec, radius float64, at geom.Affine) { sum += path[1].X }) {
			b.Fatal("no rods")
		}
	}
}

func BenchmarkShape(b *testing.B) {
	for _, name := range models(b) {
		b.Run(name[len(name)-12:], func(b *testing.B) {
			f := parseFile(b, name)
			u := ReadUnits(f)
			for b.Loop() {
				r := NewReader(f, u)
				for _, p := range f.Of(tProductType) {
					for _, q := range r.Shape(p).Parts {
						_, _ = q.Solid.Mesh()
					}
				}
			}
		})
	}
}
