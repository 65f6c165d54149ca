package spfcheck

import (
	"math"
	"strings"
	"testing"
)

const head = "ISO-10303-21;HEADER;FILE_SCHEMA(('X'));ENDSEC;DATA;"
const tail = "ENDSEC;END-ISO-10303-21;"

func TestParseSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"doubled number", "#1=A(1);#1=A(1);", "twice"},
		{"no bracket", "#1=A(1;", "expected"},
		{"string without end", "#1=A('x);", "does not end"},
		{"no semicolon", "#1=A(1)", "; expected"},
		{"empty value", "#1=A(1,);", "value expected"},
	} {
		if _, err := Parse([]byte(head + c.data + tail)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

func TestFaultsAreFound(t *testing.T) {
	guid := "'0123456789012345678901'"
	all := Schemas{"X": {
		"ROOT": {Attrs: []Attribute{{Name: "GlobalId"}, {Name: "B", Optional: true}, {Name: "C", Optional: true}, {Name: "D", Optional: true}, {Name: "E", Optional: true}}},
		"A":    {Attrs: []Attribute{{Name: "Must", Type: "IfcLabel"}, {Name: "May", Optional: true, Type: "LIST [1:?] OF IfcLengthMeasure"}}},
		"STAR": {Attrs: []Attribute{{Name: "Given", Derived: true}}},
		"NONE": {Abstract: true},
		"E":    {Attrs: []Attribute{{Name: "Kind", Type: "IfcKindEnum"}}},
		"L":    {Attrs: []Attribute{{Name: "Length", Type: "IfcLengthMeasure"}}},
		"T":    {Attrs: []Attribute{{Name: "Flag", Type: "BOOLEAN"}}},
	}}
	for _, c := range []struct {
		name, data string
		faults     int
	}{
		{"all right", "#1=A('x',(1.));#2=STAR(*);#3=E(.X.);#4=L(1.5);#5=T(.T.);#6=ROOT(" + guid + ",#1,$,$,$);", 0},
		{"missing reference", "#1=A('x',(#9));", 1},
		{"too few", "#1=A('x');", 1},
		{"unknown entity", "#1=B();", 1},
		{"abstract entity", "#1=NONE();", 1},
		{"mandatory value", "#1=A($,$);", 1},
		{"star", "#1=A(*,$);", 1},
		{"no star", "#1=STAR($);", 1},
		{"empty list", "#1=A('x',());", 1},
		{"no list", "#1=A('x',1.);", 1},
		{"no string", "#1=A(1,$);", 1},
		{"no enumerator", "#1=E('X');", 1},
		{"no real", "#1=L(1);", 1},
		{"no Boolean", "#1=T(.U.);", 1},
		{"GlobalId twice", "#1=ROOT(" + guid + ",$,$,$,$);#2=ROOT(" + guid + ",$,$,$,$);", 1},
		{"GlobalId out of range", "#1=ROOT('4123456789012345678901',$,$,$,$);", 1},
	} {
		f, err := Parse([]byte(head + c.data + tail))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if errs := append(f.Sound(), f.Against(all)...); len(errs) != c.faults {
			t.Errorf("%s: %d faults, want %d: %v", c.name, len(errs), c.faults, errs)
		}
	}
}

func TestArcGoesRound(t *testing.T) {
	for _, p := range arc(Point{10, 0, 0}, Point{0, -10, 0}, Point{-10, 0, 0}) {
		if r := math.Hypot(p[0], p[1]); math.Abs(r-10) > 1e-9 || p[1] > 0 {
			t.Fatalf("%v is not on the lower half of the circle", p)
		}
	}
}
