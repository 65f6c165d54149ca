package rules

import (
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

func TestSpacing(t *testing.T) {
	two := func(kind model.Kind, apart, d1, d2 float64) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			for i, d := range []float64{d1, d2} {
				c := bolt("A", 1000+apart*float64(i), 1000)
				c.kind, c.d = kind, d
				s.add(w, c)
			}
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"6 diameters", two(model.Bolt, 120, 20, 20), nil},
		{"float noise below", two(model.Bolt, 120-1e-6, 20, 20), nil},
		{"1 mm below", two(model.Bolt, 119, 20, 20), []float64{119, 119}},
		{"the thicker one counts", two(model.Bolt, 179, 20, 30), []float64{179, 179}},
		{"the thicker one counts, far enough", two(model.Bolt, 180, 30, 20), nil},
		{"studs, 4 diameters", two(model.Stud, 80, 20, 20), nil},
		{"studs, less", two(model.Stud, 79, 20, 20), []float64{79, 79}},
		{"sleeves are not asked", two(model.Sleeve, 30, 20, 20), nil},
		{"one axis", two(model.Bolt, 1, 20, 20), nil},
		{"hardly one axis", two(model.Bolt, 1.1, 20, 20), []float64{1.1, 1.1}},
		{"other side of the wall", func(s *scene) {
			w := s.wall("W")
			s.bolt(w, "A", 1000, 1000)
			s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(1050, 300, 1000), dir: geom.V(0, -1, 0), d: 20, length: 200})
		}, nil},
		{"other wall", func(s *scene) { s.bolt(s.wall("V"), "A", 1000, 1000); s.bolt(s.wall("W"), "B", 1050, 1000) }, nil},
		{"three in a row", func(s *scene) {
			w := s.wall("W")
			s.bolt(w, "A", 1000, 1000)
			s.bolt(w, "B", 1100, 1000)
			s.bolt(w, "C", 1190, 1000)
		}, []float64{90, 90, 100}},
	} {
		check(t, Spacing, Builtin(), c.name, c.want, c.build)
	}
}

func TestSpacingText(t *testing.T) {
	got := text(t, Spacing, Builtin(), func(s *scene) {
		w := s.wall("W")
		s.set("HB-1", s.bolt(w, "a", 1000, 1000), s.bolt(w, "b", 1080, 1000))
	})
	want := "80 mm from axis to axis of HB-1 bolt 1 and HB-1 bolt 2; 120 mm needed (6 diameters of 20 mm). One more place."
	if got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// A neighbour for which the rule is off is a neighbour all the same.
func TestSpacingToAnItemThatIsOff(t *testing.T) {
	set := &Set{For: []For{{Items: named("^B$"), Rules: map[string]Change{"spacing": {Off: ptr(true)}}}}}
	check(t, Spacing, set, "off for B", []float64{100}, func(s *scene) {
		w := s.wall("W")
		s.bolt(w, "A", 1000, 1000)
		s.bolt(w, "B", 1100, 1000)
	})
}

// The sweep over sorted anchors finds what the double loop finds.
func TestSpacingAgainstAllPairs(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	for range 20 {
		s := newScene(placements["askew"])
		w := s.wall("W")
		for range 40 {
			c := bolt("A", 100+rnd.Float64()*800, 100+rnd.Float64()*800)
			c.d = []float64{10, 16, 24}[rnd.IntN(3)]
			s.add(w, c)
		}
		var want []float64
		for _, a := range s.m.Items {
			worst, miss := 0.0, 0.0
			for _, b := range s.m.Items {
				d, ok := measure.Spacing(a.Anchors[0], b.Anchors[0])
				need := 6 * max(a.Anchors[0].Diameter, b.Anchors[0].Diameter)
				if ok && d > coaxial && need-d > miss {
					worst, miss = d, need-d
				}
			}
			if miss > geom.Tol {
				want = append(want, worst)
			}
		}
		if got := measured(only(t, Spacing, s.m)); len(want) == 0 || !same(got, sorted(want)) {
			t.Fatalf("got %v\nwant %v", got, sorted(want))
		}
	}
}
