package shape

import (
	"math"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// Units of test models. Items are numbered from #100.
const (
	mmRad   = "#10=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n#11=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n"
	metre   = "#10=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n#11=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n"
	degrees = "#11=IFCCONVERSIONBASEDUNIT(#12,.PLANEANGLEUNIT.,'DEGREE',#13);\n#12=IFCDIMENSIONALEXPONENTS(0,0,0,0,0,0,0);\n" +
		"#13=IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.0174532925199433),#14);\n#14=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n"
	mmDeg = "#10=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n" + degrees
	inch  = "#10=IFCCONVERSIONBASEDUNIT(#15,.LENGTHUNIT.,'INCH',#16);\n#15=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);\n" +
		"#16=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(25.4),#17);\n#17=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n#11=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n"
)

// common instances that every test model has.
const common = "#1=IFCCARTESIANPOINT((0.,0.,0.));\n#2=IFCAXIS2PLACEMENT3D(#1,$,$);\n#3=IFCDIRECTION((0.,0.,1.));\n" +
	"#4=IFCDIRECTION((1.,0.,0.));\n#5=IFCDIRECTION((0.,1.,0.));\n#6=IFCCARTESIANPOINT((0.,0.));\n#7=IFCAXIS2PLACEMENT2D(#6,$);\n" +
	"#8=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#2,$);\n#9=IFCUNITASSIGNMENT((#10,#11));\n"

// source is a whole file of the given schema.
func source(schema, units, data string) []byte {
	project := "#20=IFCPROJECT('0000000000000000000000',$,'P',$,$,$,$,(#8),#9);\n"
	return []byte("ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('" + schema + "'));\nENDSEC;\nDATA;\n" +
		common + project + units + data + "ENDSEC;\nEND-ISO-10303-21;\n")
}

func parse(t testing.TB, src []byte) *ifcread.File {
	t.Helper()
	f, err := ifcread.Parse("test.ifc", src, ifcread.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func reader(t testing.TB, schema, units, data string) *Reader {
	t.Helper()
	f := parse(t, source(schema, units, data))
	return NewReader(f, ReadUnits(f))
}

func get(t testing.TB, r *Reader, id ifcread.ID) ifcread.Inst {
	t.Helper()
	in, ok := r.file.Get(id)
	if !ok {
		t.Fatalf("#%d is not in the test model", id)
	}
	return in
}

// volume of a closed mesh, by tetrahedra from its first vertex.
func volume(m *geom.Mesh) float64 {
	var v float64
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		o := m.Verts[0]
		v += a.Sub(o).Dot(b.Sub(o).Cross(c.Sub(o))) / 6
	}
	return v
}

// leaks counts directed edges without a partner in the other direction.
func leaks(m *geom.Mesh) int {
	n := map[[2]int32]int{}
	for _, t := range m.Tris {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			n[[2]int32{a, b}]++
			n[[2]int32{b, a}]--
		}
	}
	sum := 0
	for _, c := range n {
		sum += max(c, 0)
	}
	return sum
}

// item is a case for one representation item #100.
type item struct {
	name   string
	schema string // IFC4 when empty
	units  string // mmRad when empty
	data   string
	volume float64 // mm3
	tol    float64 // relative; 1e-9 when 0
	min    geom.Vec
	max    geom.Vec
	slack  float64 // of the box, mm; 1e-6 when 0
	kind   Kind
}

func (c item) run(t *testing.T) {
	schema, units := c.schema, c.units
	if schema == "" {
		schema = "IFC4"
	}
	if units == "" {
		units = mmRad
	}
	r := reader(t, schema, units, c.data)
	s, err := r.solid(get(t, r, 100), 0)
	if err != nil {
		t.Fatal(err)
	}
	if s.Kind != c.kind {
		t.Errorf("kind %v, want %v", s.Kind, c.kind)
	}
	m, err := s.Mesh()
	if err != nil {
		t.Fatal(err)
	}
	if s.Base != nil { // cut bodies may have a vertex within a side
		if c := m.Closed(); !c.OK {
			t.Errorf("open: %s", c.Why)
		}
	} else if n := leaks(m); n > 0 {
		t.Errorf("%d edges leak", n)
	}
	tol := c.tol
	if tol == 0 {
		tol = 1e-9
	}
	if v := volume(m); math.Abs(v-c.volume) > tol*c.volume {
		t.Errorf("volume %.9g, want %.9g", v, c.volume)
	}
	slack := c.slack
	if slack == 0 {
		slack = 1e-6
	}
	for what, b := range map[string]geom.Box{"mesh": m.Box(), "solid": s.Box()} {
		b.Min, b.Max = b.Min.Add(s.origin), b.Max.Add(s.origin)
		if b.Min.Dist(c.min) > slack || b.Max.Dist(c.max) > slack {
			t.Errorf("box of the %s is %v, want %v %v", what, b, c.min, c.max)
		}
	}
}

func runItems(t *testing.T, cases []item) {
	t.Helper()
	for _, c := range cases {
		t.Run(strings.ReplaceAll(c.name, " ", "-"), c.run)
	}
}
