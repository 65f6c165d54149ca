package rules

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// A wall as it should be: nothing is wrong, so that no rule says anything.
func TestRunOnAWallAsItShouldBe(t *testing.T) {
	for where, at := range placements {
		s := newScene(at)
		w := s.wallWithOpening("WP-01")
		w.Property = says("FaceUp", "-Y")
		said := model.Stated{Diameter: 12, Embedment: 147, Finish: "galvanised", Grade: "8.8"}
		var bolts []*model.Item
		for _, p := range [][2]float64{{300, 300}, {600, 300}, {300, 500}, {600, 500}} {
			c := bolt("HB1", p[0], p[1])
			c.d, c.stated, c.mark = 12, said, "HB1"
			bolts = append(bolts, s.add(w, c))
		}
		s.set("HB-1", bolts...)
		for _, x := range []float64{820, 2200} { // the centre of gravity is at 1510
			s.add(w, spec{kind: model.Lifter, name: "L1", mark: "L1", open: geom.V(x, 100, 2500), dir: geom.V(0, 0, -1), d: 20, length: 250, head: 20, stated: said})
		}
		s.add(w, spec{kind: model.Socket, name: "F1", mark: "F1", open: geom.V(2400, 0, 1200), dir: geom.V(0, 1, 0), d: 16, length: 100, stated: model.Stated{Diameter: 16, Finish: "stainless"}})
		s.plate(w, "CP1", 2000, 400, 2200, 600, 10).Stated = said
		for x := 100.0; x < 900; x += 150 {
			s.bar("V", 12, geom.V(x, 40, 20), geom.V(x, 40, 2480))
		}
		set := limitFor(ConcreteCone, Term{Ratio, 0.01}) // a lifter in the top edge has edges near
		found, err := Run(s.m, set, 2)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			t.Errorf("%s: %s: %s", where, f.Rule, f.Message)
		}
	}
}

func TestRunIsTheSameForAnyNumberOfWorkers(t *testing.T) {
	s := crowded(24, 4*barBlock)
	for i := range 6 {
		s.add(nil, bolt(fmt.Sprint("X", i), float64(i), 9000))
		s.m.Unread = append(s.m.Unread, model.Unread{Ref: model.Ref{Class: "IfcWall", Name: fmt.Sprint("W", i)}, Role: "host", Why: "not closed"})
	}
	want, err := Run(s.m, Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]bool{}
	for _, f := range want {
		rules[f.Rule] = true
	}
	if len(want) < 30 || len(rules) < 6 {
		t.Fatalf("%d findings of %d rules: the test says little", len(want), len(rules))
	}
	for workers := 2; workers <= 8; workers++ {
		got, err := Run(s.m, Builtin(), workers)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%d workers give other findings", workers)
		}
	}
}

// Nothing but the order of equal names may depend on the order of reading.
func TestRunIsTheSameForAnyOrderOfReading(t *testing.T) {
	build := func() *scene {
		s := pump(geom.Identity, nil, nil)
		s.bolt(s.m.Hosts[0], "S1", 2950, 2000)
		s.bolt(s.m.Hosts[0], "S2", 2900, 2000)
		s.bar("N1", 16, geom.V(2930, 100, 0), geom.V(2930, 100, 2500))
		return s
	}
	a, b := build(), build()
	reverseAll(b)
	want, err := Run(a.m, Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Run(b.m, Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != len(want) {
		t.Fatalf("%d findings, want %d", len(got), len(want))
	}
	for i := range got {
		if got[i].ID != want[i].ID || got[i].Rule != want[i].Rule || len(got[i].Instances) != len(want[i].Instances) {
			t.Errorf("finding %d: got %s %s, want %s %s", i, got[i].Rule, got[i].ID, want[i].Rule, want[i].ID)
		}
	}
}

func TestRunFillsFindings(t *testing.T) {
	s := newScene(geom.Identity)
	s.m.Origin = geom.V(100000, 0, 0)
	w := s.wall("WP-03")
	s.set("HB-1", s.bolt(w, "HB1", 65, 1000), s.bolt(w, "HB1", 115, 1500))
	set := &Set{Name: "site", For: []For{{Items: named("HB1"), Rules: map[string]Change{"edge-distance": {Priority: ptr(finding.Review)}}}}}
	found := onlyWith(t, EdgeDistance, s.m, set)
	if len(found) != 1 {
		t.Fatalf("%d findings, want 1", len(found))
	}
	f := found[0]
	if f.Rule != "edge-distance" || f.Priority != finding.Review || f.Status != "open" || f.Set != "HB-1" ||
		f.Host.Name != "WP-03" || f.Host.Class != "IfcWall" || f.Host.Model != "a.ifc" ||
		f.Title != "Edge distance: HB-1 in WP-03" || !strings.HasPrefix(f.Source, "ACI 318-19") {
		t.Errorf("got %+v", f)
	}
	in := f.Instances[0]
	if len(f.Instances) != 2 || in.Kind != "bolt" || in.Anchor != 0 || in.Unit != "mm" || in.Relation != finding.AtLeast ||
		in.Governs != "diameters" || in.Required != 120 || in.Measured != 65 {
		t.Errorf("got %+v", in)
	}
	if in.At.Dist(geom.V(100.065, 0, 1)) > 1e-9 || in.Normal.Dist(geom.V(0, -1, 0)) > 1e-9 {
		t.Errorf("at %v, normal %v", in.At, in.Normal)
	}
}

// What cannot be compared comes out as not checked, once for each place.
func TestRunTellsWhatItCannotCompare(t *testing.T) {
	s := newScene(geom.Identity)
	c := bolt("HB1", 1000, 1000)
	c.d = 0
	s.add(s.wall("W"), c)
	found, err := Run(s.m, Builtin(), 4)
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, f := range found {
		if f.Rule == "not-checked" {
			for _, in := range f.Instances {
				texts = append(texts, in.Text)
			}
		}
	}
	want := "HB1: edge-distance: the limit of 6 diameters cannot be worked out, no diameter is known"
	if n := strings.Count(strings.Join(texts, "\n"), want); n != 1 {
		t.Errorf("%d times %q in %v", n, want, texts)
	}
}

func TestRunGivesTheErrorOfARule(t *testing.T) {
	sick := errors.New("sick")
	bad := &Rule{ID: "bad", Run: func(*Pass) error { return sick }}
	if _, err := run([]*Rule{bad}, &model.Model{}, Builtin(), 2); !errors.Is(err, sick) || !strings.Contains(err.Error(), "rule bad") {
		t.Errorf("got %v", err)
	}
}

func TestRunOnAnEmptyModel(t *testing.T) {
	found, err := Run(&model.Model{}, Builtin(), 0)
	if err != nil || len(found) != 0 {
		t.Errorf("got %v, %v", found, err)
	}
}

// Every rule that looks at items is switched off by a rule file.
func TestRunWithRulesOff(t *testing.T) {
	s := crowded(8, 2000)
	s.add(nil, bolt("X", 1, 9000))
	set := &Set{Rules: map[string]Change{}}
	for _, r := range All {
		set.Rules[r.ID] = Change{Off: ptr(true)}
	}
	found, err := Run(s.m, set, 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

func TestNames(t *testing.T) {
	it := &model.Item{Kind: model.Bolt, Size: "M20"}
	if got := itemName(it); got != "M20 bolt" {
		t.Errorf("no name: got %q", got)
	}
	it.Mark = "P7"
	if got := itemName(it); got != "P7" {
		t.Errorf("mark: got %q", got)
	}
	it.Name = "HB\n\x1b[31m1"
	if got := itemName(it); got != "HB ?[31m1" {
		t.Errorf("a name with control characters: got %q", got)
	}
	a, b := &model.Anchor{Item: it}, &model.Anchor{Item: it, Index: 1}
	it.Anchors = []*model.Anchor{a, b}
	if got := anchorName(b); got != "HB ?[31m1 bolt 2" {
		t.Errorf("second anchor: got %q", got)
	}
	it.Kind, it.Name = model.Plate, "CP1"
	if got := anchorName(a); got != "CP1 stud 1" {
		t.Errorf("stud of a plate: got %q", got)
	}
	it.Set = &model.Set{Name: "S", Anchors: []*model.Anchor{b, a}}
	if got := anchorName(a); got != "S stud 2" {
		t.Errorf("in a set: got %q", got)
	}
}
