package shape

import (
	"fmt"
	"strings"
	"testing"

	"embedcheck/internal/geom"
)

func TestPlacements(t *testing.T) {
	// #100 in #101 in #102: 102 moves by (1000, 0, 0) and turns x to y; 101 moves by (0, 10, 5)
	const chain = "#100=IFCLOCALPLACEMENT(#101,#110);\n#101=IFCLOCALPLACEMENT(#102,#112);\n#102=IFCLOCALPLACEMENT($,#114);\n" +
		"#110=IFCAXIS2PLACEMENT3D(#111,$,$);\n#111=IFCCARTESIANPOINT((1.,2.,3.));\n#112=IFCAXIS2PLACEMENT3D(#113,$,$);\n#113=IFCCARTESIANPOINT((0.,10.,5.));\n" +
		"#114=IFCAXIS2PLACEMENT3D(#115,#3,#5);\n#115=IFCCARTESIANPOINT((1000.,0.,0.));\n"
	grid := "#110=IFCVIRTUALGRIDINTERSECTION((#111,#112),(10.,20.,5.));\n#111=IFCGRIDAXIS('A',#113,.T.);\n#112=IFCGRIDAXIS('1',#114,.F.);\n#113=IFCPOLYLINE((#115,#116));\n#114=IFCPOLYLINE((#117,#118));\n" +
		"#115=IFCCARTESIANPOINT((0.,100.));\n#116=IFCCARTESIANPOINT((50.,100.));\n#117=IFCCARTESIANPOINT((300.,0.));\n#118=IFCCARTESIANPOINT((300.,50.));\n" +
		"#119=IFCGRID('0000000000000000000001',$,$,$,$,#102,$,(#111),(#112),$,$);\n#102=IFCLOCALPLACEMENT($,#120);\n#120=IFCAXIS2PLACEMENT3D(#121,$,$);\n#121=IFCCARTESIANPOINT((0.,0.,7.));\n"
	for _, c := range []struct {
		name, schema, units, data string
		p, want                   geom.Vec
	}{
		{"chain", "IFC4", mmRad, chain, v(0, 0, 0), v(1000-12, 1, 8)},
		{"chain, a point", "IFC2X3", mmRad, chain, v(1, 0, 0), v(1000-12, 2, 8)},
		{"metres", "IFC4", metre, chain, v(0, 0, 0), v(1e6-12e3, 1e3, 8e3)},
		{"axis at an angle to the given x", "IFC4", mmRad, "#100=IFCLOCALPLACEMENT($,#110);\n#110=IFCAXIS2PLACEMENT3D(#1,#4,#111);\n#111=IFCDIRECTION((5.,5.,0.));\n", v(1, 2, 3), v(3, 1, 2)},
		// x along axis A, 10 to its left; axis 1 runs backwards, so its left is +x
		{"grid", "IFC4", mmRad, "#100=IFCGRIDPLACEMENT(#110,$);\n" + grid, v(1, 0, 0), v(321, 110, 12)},
		{"grid in 4X3", "IFC4X3_ADD2", mmRad, "#100=IFCGRIDPLACEMENT($,#110,#5);\n" + grid, v(1, 0, 0), v(320, 111, 12)},
		{"alignment with a stated position", "IFC4X3_ADD2", mmRad, "#100=IFCLINEARPLACEMENT($,$,#110);\n#110=IFCAXIS2PLACEMENT3D(#111,$,$);\n#111=IFCCARTESIANPOINT((1.,2.,3.));\n", v(0, 0, 0), v(1, 2, 3)},
	} {
		r := reader(t, c.schema, c.units, c.data)
		m, err := r.Placement(get(t, r, 100))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if got := m.Apply(c.p); got.Dist(c.want) > 1e-9*(1+c.want.Norm()) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestWorldCoordinateSystemCountsOnce(t *testing.T) {
	data := "#100=IFCLOCALPLACEMENT(#101,#2);\n#101=IFCLOCALPLACEMENT($,#2);\n#120=IFCAXIS2PLACEMENT3D(#121,$,$);\n#121=IFCCARTESIANPOINT((0.,0.,500.));\n"
	src := strings.Replace(string(source("IFC4", mmRad, data)), "3,1.E-5,#2,$", "3,1.E-5,#120,$", 1)
	f := parse(t, []byte(src))
	r := NewReader(f, ReadUnits(f))
	for _, id := range []int{100, 101, 100} {
		m, err := r.Placement(get(t, r, ifcID(id)))
		if err != nil || m.T != v(0, 0, 500) {
			t.Errorf("#%d: %v %v", id, m.T, err)
		}
	}
}

func TestPlacementsThatLeadNowhere(t *testing.T) {
	long := "#100=IFCLOCALPLACEMENT(#1000,#2);\n"
	for i := range 2000 {
		long += fmt.Sprintf("#%d=IFCLOCALPLACEMENT(#%d,#2);\n", 1000+i, 1001+i)
	}
	for name, data := range map[string]string{
		"itself":              "#100=IFCLOCALPLACEMENT(#100,#2);\n",
		"a cycle":             "#100=IFCLOCALPLACEMENT(#101,#2);\n#101=IFCLOCALPLACEMENT(#102,#2);\n#102=IFCLOCALPLACEMENT(#101,#2);\n",
		"endless":             long,
		"missing parent":      "#100=IFCLOCALPLACEMENT(#999,#2);\n",
		"missing axes":        "#100=IFCLOCALPLACEMENT($,#999);\n",
		"no axes":             "#100=IFCLOCALPLACEMENT($,$);\n",
		"axes without point":  "#100=IFCLOCALPLACEMENT($,#110);\n#110=IFCAXIS2PLACEMENT3D($,$,$);\n",
		"no placement at all": "#100=IFCDIRECTION((1.,0.,0.));\n",
		"parallel grid axes":  "#100=IFCGRIDPLACEMENT(#110,$);\n#110=IFCVIRTUALGRIDINTERSECTION((#111,#111),(0.,0.));\n#111=IFCGRIDAXIS('A',#113,.T.);\n#113=IFCPOLYLINE((#1,#115));\n#115=IFCCARTESIANPOINT((0.,100.));\n",
		"grid offset unset":   "#100=IFCGRIDPLACEMENT(#110,$);\n#110=IFCVIRTUALGRIDINTERSECTION((#111,#112),(0.,0.,$));\n#111=IFCGRIDAXIS('A',#113,.T.);\n#112=IFCGRIDAXIS('1',#114,.T.);\n#113=IFCPOLYLINE((#1,#115));\n#114=IFCPOLYLINE((#1,#116));\n#115=IFCCARTESIANPOINT((0.,100.));\n#116=IFCCARTESIANPOINT((100.,0.));\n",
		"along an alignment":  "#100=IFCLINEARPLACEMENT($,$,$);\n",
	} {
		r := reader(t, "IFC4X3_ADD2", mmRad, data)
		if _, err := r.Placement(get(t, r, 100)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A bar's own placement below a storey whose placement is known.
func BenchmarkPlacement(b *testing.B) {
	r := reader(b, "IFC4", mmRad, "#100=IFCLOCALPLACEMENT(#101,#110);\n#101=IFCLOCALPLACEMENT(#102,#2);\n#102=IFCLOCALPLACEMENT($,#2);\n#110=IFCAXIS2PLACEMENT3D(#111,#3,#4);\n#111=IFCCARTESIANPOINT((1.,2.,3.));\n")
	p := get(b, r, 100)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Placement(p); err != nil {
			b.Fatal(err)
		}
	}
}
