package rules

import (
	"math"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Holes that may be meant for bolts are wider than 0.8 times the thinnest and
// narrower than 2.5 times the thickest.
func TestHolesForBolts(t *testing.T) {
	bolts := []*model.Anchor{{Diameter: 24}, {Diameter: 20}}
	s := &model.Sheet{Holes: []model.Hole{{Diameter: 15.9}, {Diameter: 16.1}, {Diameter: 26}, {Diameter: 59.9}, {Diameter: 60.1}}}
	got := boltHoles(s, bolts)
	if len(got) != 3 || got[0].Diameter != 16.1 || got[2].Diameter != 59.9 {
		t.Errorf("got %d holes", len(got))
	}
}

// Plates that cannot be measured are left out, and what is no plate of two corners.
func TestPlatesThatCannotBeMeasured(t *testing.T) {
	s := newScene(geom.Identity)
	it := s.plate(s.wall("W"), "P", 10, 1000, 210, 1200, 10)
	if !soundPlate(it) {
		t.Fatal("a plate in a wall is sound")
	}
	whole := it.Outline
	it.Outline = whole[:3]
	if !soundPlate(it) {
		t.Error("three corners are an outline")
	}
	it.Outline = whole[:2]
	if soundPlate(it) {
		t.Error("two corners are no outline")
	}
	it.Outline, it.PlateIn = whole, nil
	if soundPlate(it) {
		t.Error("a plate in no face is sound")
	}
	if got := only(t, PlateEdge, s.m); got != nil {
		t.Errorf("a plate in no face was measured: %+v", got)
	}
}

// Without a table for its thread, what the rule file leaves out is named.
func TestStackOfAnUnknownThread(t *testing.T) {
	s := newScene(geom.Identity)
	c := standing("A", 1000, 1000, 60)
	c.d = 21
	s.add(s.wall("W"), c)
	found, err := run([]*Rule{Projection, NotChecked}, s.m, stating(Given{"plate": mm(20), "nut": mm(18)}), 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 || !strings.Contains(found[0].Message, "no table has hardware for 21 mm; state spare, washer in the stack") {
		t.Errorf("got %+v", found)
	}
	check(t, Projection, Builtin(), "a nut under the plate is none on it", nil, func(s *scene) {
		underPlate(20, 91.6)(s) // 30 + 20 + 3 + 36 + 2.5 = 91.5
		s.m.Items[0].Anchors[0].Parts = []model.Part{{Kind: model.Nut, From: 2, To: 20, Size: 34.6}, {Kind: model.Nut, From: 20, To: 38, Size: 34.6}, {Kind: model.Nut, From: 61, To: 79, Size: 34.6}}
	})
	sunk := func(gap float64) func(*scene) {
		return func(s *scene) {
			s.over("P", 900, 900, 1100, 1100, gap, 20, s.add(s.wall("W"), standing("A", 1000, 1000, 42)))
		}
	}
	check(t, Projection, Builtin(), "a plate 9.95 mm in the concrete is over the bolt", []float64{42}, sunk(-9.95))
	check(t, Projection, Builtin(), "a plate 10.05 mm in the concrete is set into it", nil, sunk(-10.05))
}

// Bolts that cannot be measured, and what is no bolt, take no part in the fit of
// a plate.
func TestFitIsOfSoundBolts(t *testing.T) {
	off := func(change func(*model.Item)) func(*scene) {
		return func(s *scene) {
			patterned(false, 26, 0, 0)(s)
			it := s.m.Items[3]
			s.m.Sheets[0].Holes = slices.DeleteFunc(s.m.Sheets[0].Holes, func(h model.Hole) bool { return h.At.Dist(it.Anchors[0].Open) < 150 })
			change(it)
		}
	}
	checkAll(t, SetPattern, []sceneCase{
		{"a stud", Builtin(), off(func(it *model.Item) { it.Kind = model.Stud }), nil},
		{"a bolt of no entry", Builtin(), off(func(it *model.Item) { it.Anchors[0].Entry = nil }), nil},
	})
}

// A bolt of an odd thickness whose stack nobody states lacks nothing.
func TestNoStackIsAskedForWithoutAPlate(t *testing.T) {
	s := newScene(geom.Identity)
	c := standing("A", 1000, 1000, 60)
	c.d = 21
	s.add(s.wall("W"), c)
	found, err := run([]*Rule{Projection, NotChecked}, s.m, Builtin(), 1)
	if err != nil || len(found) != 0 {
		t.Errorf("%v, %+v", err, found)
	}
}

// Of two plates over a bolt the template counts, whichever is read first.
func TestTemplateBeforeBasePlate(t *testing.T) {
	for _, templateFirst := range []bool{true, false} {
		s := newScene(geom.Identity)
		items := four(s)
		add := func(template bool) *model.Sheet {
			if template {
				return s.template(s.over("T", 850, 850, 1150, 1150, 30, 8, items...))
			}
			return s.over("P", 850, 850, 1150, 1150, 60, 20, items...)
		}
		add(templateFirst)
		add(!templateFirst)
		b := passOf(PartsComplete, s, Builtin()).newBill()
		if got := b.first(items[0].Anchors[0]); got == nil || !got.Template() {
			t.Errorf("template first %v: %+v", templateFirst, got)
		}
	}
}

// A bolt in a recess of its own is sunk from 10 mm on: no plate lies over it.
func TestProjectionOfSunkBolts(t *testing.T) {
	sunk := func(y float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.open.Y, c.length = y, 150
			s.add(s.wall("W"), c)
		}
	}
	check(t, Projection, Builtin(), "9.95 mm", []float64{-9.95}, sunk(9.95))
	check(t, Projection, Builtin(), "10.05 mm", nil, sunk(10.05))
}

// Without a template the base plate that was read first counts.
func TestFirstOfTwoBasePlates(t *testing.T) {
	s := newScene(geom.Identity)
	items := four(s)
	first := s.over("P", 850, 850, 1150, 1150, 30, 20, items...)
	s.over("Q", 850, 850, 1150, 1150, 60, 20, items...)
	if got := passOf(PartsComplete, s, Builtin()).newBill().first(items[0].Anchors[0]); got != first {
		t.Errorf("got %+v", got)
	}
}

func TestBoltsThatAreAlike(t *testing.T) {
	lean := func(d, degrees float64) *model.Anchor {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return &model.Anchor{Diameter: d, Dir: geom.V(sin, cos, 0)}
	}
	for _, c := range []struct {
		d, degrees float64
		want       bool
	}{{20, 0, true}, {20.9, 0, true}, {21.1, 0, false}, {20, 2.5, true}, {20, 2.6, false}, {20, 180, false}} {
		if got := alikeBolts(lean(20, 0), lean(c.d, c.degrees)); got != c.want {
			t.Errorf("%v mm, %v degrees: %v", c.d, c.degrees, got)
		}
	}
}
