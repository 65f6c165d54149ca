package shape

import (
	"math"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/bounded"
	"embedcheck/internal/geom"
)

// samplePlacements are sets of instances of which #100 is a placement.
func samplePlacements() []string {
	const axes = "#110=IFCAXIS2PLACEMENT3D(#111,#3,#5);\n#111=IFCCARTESIANPOINT((1000.,0.,-3.5));\n"
	const grid = "#110=IFCVIRTUALGRIDINTERSECTION((#111,#112),(10.,20.,5.));\n#111=IFCGRIDAXIS('A',#113,.T.);\n#112=IFCGRIDAXIS('1',#114,.F.);\n#113=IFCPOLYLINE((#115,#116));\n#114=IFCPOLYLINE((#117,#118));\n" +
		"#115=IFCCARTESIANPOINT((0.,100.));\n#116=IFCCARTESIANPOINT((50.,100.));\n#117=IFCCARTESIANPOINT((300.,0.));\n#118=IFCCARTESIANPOINT((300.,50.));\n"
	return []string{
		"#100=IFCLOCALPLACEMENT(#101,#110);\n#101=IFCLOCALPLACEMENT(#102,#110);\n#102=IFCLOCALPLACEMENT($,#110);\n" + axes,
		"#100=IFCLOCALPLACEMENT(#101,#110);\n#101=IFCLOCALPLACEMENT(#100,#110);\n" + axes,
		"#100=IFCGRIDPLACEMENT(#110,$);\n" + grid,
		"#100=IFCLOCALPLACEMENT(#101,#2);\n#101=IFCGRIDPLACEMENT($,#110,#5);\n" + grid,
		"#100=IFCLINEARPLACEMENT(#101,$,#110);\n#101=IFCLOCALPLACEMENT($,#2);\n" + axes,
		"#100=IFCLOCALPLACEMENT($,#110);\n#110=IFCAXIS2PLACEMENT2D(#6,#111);\n#111=IFCDIRECTION((1.E-300,1.E300));\n",
	}
}

// judgePlacement reads placement #100. No text may lead to a panic, an endless
// loop or anything but a rigid map, and asking for another one first must not
// change the answer.
func judgePlacement(t *testing.T, items string) {
	bounded.Work(t, len(items), bounded.Limit{Base: 4 << 20, PerByte: 1000}, func() { judgePlacing(t, items) })
}

func judgePlacing(t *testing.T, items string) {
	file, err := ifcread.Parse("fuzz.ifc", source("IFC4X3_ADD2", mmRad, items), ifcread.Options{Workers: 1})
	if err != nil {
		return
	}
	in, ok := file.Get(100)
	if !ok {
		return
	}
	m, err := NewReader(file, ReadUnits(file)).Placement(in)
	if err == nil && !isRigid(m) {
		t.Errorf("%+v of\n%s", m, items)
	}
	r := NewReader(file, ReadUnits(file))
	for id := ifcread.ID(101); id < 140; id++ {
		if other, ok := file.Get(id); ok {
			_, _ = r.Placement(other)
		}
	}
	again, errAgain := r.Placement(in)
	if (err == nil) != (errAgain == nil) || err == nil && again != m {
		t.Errorf("%+v (%v), after others %+v (%v) of\n%s", m, err, again, errAgain, items)
	}
}

// isRigid reports whether a map turns and moves, and does nothing else.
func isRigid(m geom.Affine) bool {
	const tol = 1e-9
	near := func(a, b float64) bool { return math.Abs(a-b) < tol }
	return m.T.Finite() && near(m.X.Norm(), 1) && near(m.Y.Norm(), 1) && near(m.Z.Norm(), 1) && near(m.Det(), 1) &&
		near(m.X.Dot(m.Y), 0) && near(m.Y.Dot(m.Z), 0) && near(m.Z.Dot(m.X), 0)
}

func FuzzPlacement(f *testing.F) {
	for _, items := range samplePlacements() {
		f.Add(items)
	}
	f.Fuzz(judgePlacement)
}

// exchanged are the parameters that FuzzExchanged puts in.
var exchanged = strings.Fields("0. -1. 1.E9 1.E-9 1.E300 -1.E300 1.E-300 $ * #1 #2 #3 #4 #5 #6 #7 #100 #101 #110 #111 #112 #113 #120 #123 #999 ( ) () (0.,0.) (1.,0.) " +
	".T. .F. .U. 0 1 2 -1 7 100000 'x' 1.5707963 359. 0.5 NaN 1.#INF IFCPARAMETERVALUE(1.) (#1,#1) (#110) ((1,1,1)) .UNION. .INTERSECTION.")

// FuzzExchanged changes parameters of the samples one by one, which keeps the text
// well-formed where FuzzShape mostly breaks it. Each change takes three bytes: the
// place, in 64ths and 16384ths of the text, and the new parameter.
func FuzzExchanged(f *testing.F) {
	for i := range len(sampleItems()) + len(brokenItems()) {
		f.Add(uint8(i), []byte{10, 3, 7, 40, 9, 12})
	}
	for i := range samplePlacements() {
		f.Add(uint8(128+i), []byte{3, 1, 16, 20, 5, 24})
	}
	items, placements := append(sampleItems(), brokenItems()...), samplePlacements()
	f.Fuzz(func(t *testing.T, pick uint8, changes []byte) {
		s, judged := items[int(pick)%len(items)], judge
		if pick >= 128 {
			s, judged = placements[int(pick)%len(placements)], judgePlacement
		}
		for k := 0; k+2 < len(changes) && k < 24; k += 3 {
			place := int(changes[k])*256 + int(changes[k+1])
			at := 1 + place*(len(s)-1)/65536
			from := strings.LastIndexAny(s[:at], ",(") + 1
			to := from + max(strings.IndexAny(s[from:], ",)"), 0)
			s = s[:from] + exchanged[int(changes[k+2])%len(exchanged)] + s[to:]
		}
		judged(t, s)
	})
}
