package rules

import (
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// upright is a bar in the middle of a wall, so many mm right of the anchor at
// x = 1500.
func upright(s *scene, name string, d, off float64) {
	s.bar(name, d, geom.V(1500+off, 100, 0), geom.V(1500+off, 100, 2500))
}

func TestReinforcementClearance(t *testing.T) {
	near := func(kind model.Kind, d, gap float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1500, 1000)
			c.kind = kind
			s.add(s.wall("W"), c)
			upright(s, "N16-1", d, 10+gap+d/2)
		}
	}
	own := func(bar, item string) func(*scene) {
		return func(s *scene) {
			near(model.Bolt, 16, 5)(s)
			s.m.Items[0].Assembly = item
			s.m.Bars.Assemblies = []string{"", bar}
			s.m.Bars.Marks[0].Assembly = 2
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"20 mm", near(model.Bolt, 16, 20), nil},
		{"float noise below", near(model.Bolt, 16, 20-1e-6), nil},
		{"19 mm", near(model.Bolt, 16, 19), []float64{19}},
		{"touching", near(model.Bolt, 16, 0), []float64{0}},
		{"overlap", near(model.Bolt, 16, -3), []float64{-3}},
		{"socket", near(model.Socket, 12, 19), []float64{19}},
		{"other", near(model.Other, 12, 19), []float64{19}},
		{"lifter may touch", near(model.Lifter, 16, 0), nil},
		{"lifter overlaps", near(model.Lifter, 16, -1), []float64{-1}},
		{"sleeve may touch", near(model.Sleeve, 16, 0), nil},
		{"sleeve overlaps", near(model.Sleeve, 16, -1), []float64{-1}},
		{"former overlaps", near(model.Former, 16, -1), []float64{-1}},
		{"template is not asked", near(model.Template, 16, -1), nil},
		{"bar of its own assembly", own("g1", "g1"), nil},
		{"bar of another assembly", own("g1", "g2"), []float64{5}},
		{"bar and item of no assembly", own("", ""), []float64{5}},
		{"bar ends before", func(s *scene) {
			s.bolt(s.wall("W"), "A", 1500, 1000)
			s.bar("N16-1", 16, geom.V(1500, 100, 0), geom.V(1500, 100, 970))
		}, nil},
		{"bar ends near", func(s *scene) {
			s.bolt(s.wall("W"), "A", 1500, 1000)
			s.bar("N16-1", 16, geom.V(1500, 100, 0), geom.V(1500, 100, 971))
		}, []float64{19}}, // ends are flat
		{"two bars", func(s *scene) {
			near(model.Bolt, 16, 5)(s)
			upright(s, "N16-2", 16, -30)
		}, []float64{5, 12}},
		{"three pieces of one mark", func(s *scene) {
			near(model.Bolt, 16, 5)(s)
			for _, off := range []float64{-30, -29, 60} {
				s.piece(16, geom.V(1500+off, 100, 0), geom.V(1500+off, 100, 2500))
			}
		}, []float64{5}},
		{"bar known as a body", func(s *scene) {
			s.bolt(s.wall("W"), "A", 1500, 1000)
			upright(s, "N16-1", 16, 500)
			m := boxMesh(geom.V(1525, 90, 0), geom.V(1540, 110, 2500)).Transform(s.at)
			s.m.Bars.Meshes = []model.BarMesh{{Mark: 0, Mesh: m, Box: m.Box()}}
		}, []float64{15}},
		{"plate before a bar", func(s *scene) {
			s.plate(s.wall("W"), "P", 1400, 900, 1600, 1100, 10)
			s.bar("N16-1", 16, geom.V(1500, 25, 0), geom.V(1500, 25, 2500))
		}, nil},
		{"tie of a plate", func(s *scene) {
			s.plate(s.wall("W"), "P", 1400, 900, 1600, 1100, 10)
			s.bar("N16-1", 16, geom.V(1450, 10, 950), geom.V(1450, 150, 950), geom.V(1450, 150, 1500))
			s.bar("N16-2", 16, geom.V(1550, 150, 1500), geom.V(1550, 150, 950), geom.V(1550, 5, 950))
		}, nil},
	} {
		check(t, ReinforcementClearance, Builtin(), c.name, c.want, c.build)
	}
	check(t, ReinforcementClearance, limitFor(ReinforcementClearance, Term{BarDiameters, 1.5}), "1.5 bar diameters", nil, near(model.Bolt, 16, 24))
	check(t, ReinforcementClearance, limitFor(ReinforcementClearance, Term{BarDiameters, 1.5}), "less", []float64{23}, near(model.Bolt, 16, 23))
}

// What runs through a plate, or ends beside it or at a slant, is no tie of it.
func TestReinforcementClearancePlateInTheWay(t *testing.T) {
	for name, path := range map[string][]geom.Vec{
		"along":                {{X: 1500, Y: 15, Z: 0}, {X: 1500, Y: 15, Z: 2500}},
		"through":              {{X: 1500, Y: -50, Z: 1000}, {X: 1500, Y: 150, Z: 1000}},
		"slanted":              {{X: 1500, Y: 8, Z: 1000}, {X: 1500, Y: 108, Z: 1100}},
		"at its edge, outside": {{X: 1605, Y: 5, Z: 1000}, {X: 1605, Y: 150, Z: 1000}},
	} {
		for where, at := range placements {
			s := newScene(at)
			s.plate(s.wall("W"), "P", 1400, 900, 1600, 1100, 10)
			s.bar("N16-1", 16, path...)
			got := measured(only(t, ReinforcementClearance, s.m))
			if len(got) != 1 || got[0] >= 0 {
				t.Errorf("%s, %s: measured %v", name, where, got)
			}
		}
	}
}

func TestReinforcementClearanceText(t *testing.T) {
	for _, c := range []struct {
		gap  float64
		want string
	}{
		{12, "12 mm clear between HB1 and bar N16-2 (16 mm); 20 mm needed."},
		{-8, "bar N16-2 (16 mm) runs into HB1 by 8 mm; 20 mm clear needed."},
	} {
		got := text(t, ReinforcementClearance, Builtin(), func(s *scene) {
			s.bolt(s.wall("W"), "HB1", 1500, 1000)
			upright(s, "N16-2", 16, 18+c.gap)
		})
		if got != c.want {
			t.Errorf("got %s\nwant %s", got, c.want)
		}
	}
	got := text(t, ReinforcementClearance, Builtin(), func(s *scene) {
		s.bolt(s.wall("W"), "HB1", 1500, 1000)
		upright(s, "", 16, 30)
		s.piece(16, geom.V(1471, 100, 0), geom.V(1471, 100, 2500))
	})
	if want := "11 mm clear between HB1 and a bar (16 mm); 20 mm needed; 2 bars of this mark are too near."; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// A limit in bar diameters means nothing for a bar that is a mere body: that is
// told, not left out.
func TestReinforcementClearanceOfUnknownDiameter(t *testing.T) {
	s := newScene(geom.Identity)
	s.bolt(s.wall("W"), "A", 1500, 1000)
	upright(s, "N16-1", 16, 500)
	m := boxMesh(geom.V(1505, 90, 0), geom.V(1520, 110, 2500))
	s.m.Bars.Meshes = []model.BarMesh{{Mark: 0, Mesh: m, Box: m.Box()}}
	found, err := run([]*Rule{ReinforcementClearance, NotChecked}, s.m, limitFor(ReinforcementClearance, Term{BarDiameters, 1}), 2)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 || found[0].Rule != "not-checked" || !strings.Contains(found[0].Message, "no diameter is known of bar N16-1") {
		t.Errorf("got %+v", found)
	}
}

// The index and the blocks of bars find what the double loop finds.
func TestReinforcementClearanceAgainstAllPairs(t *testing.T) {
	s := crowded(12, 3*barBlock)
	var want []float64
	for _, it := range s.m.Items {
		rod := *it.Bodies[0].Rod
		for i := range s.m.Bars.Pieces {
			if d, _, _ := geom.RodRod(rod, s.m.Bars.Rod(i)); d < 20-geom.Tol {
				want = append(want, d)
			}
		}
	}
	if len(want) < 10 {
		t.Fatalf("only %d pairs are near: the test says little", len(want))
	}
	for _, workers := range []int{1, 3, 8} {
		found, err := run([]*Rule{ReinforcementClearance}, s.m, Builtin(), workers)
		if err != nil {
			t.Fatal(err)
		}
		if got := measured(found); !same(got, sorted(want)) {
			t.Errorf("%d workers: %d pairs, want %d", workers, len(got), len(want))
		}
	}
}
