package rules

import (
	"math"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// A pair is told once: of the item whose limit is larger, of equal ones once.
func TestItemClearanceOfTwoLimits(t *testing.T) {
	limits := &Set{Name: "test", Rules: map[string]Change{ItemClearance.ID: {Limit: Limit{{MM, 25}}}}, For: []For{
		{Items: named("^B"), Rules: map[string]Change{ItemClearance.ID: {Limit: Limit{{MM, 60}}}}},
	}}
	pair := func(gap float64, first, second string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.bolt(w, first, 1000, 1000)
			s.bolt(w, second, 1020+gap, 1000)
		}
	}
	for _, c := range []struct {
		name     string
		build    func(*scene)
		want     []float64
		required float64
		of       string
	}{
		{"within the larger limit only", pair(40, "A", "B"), []float64{40}, 60, "B"},
		{"the other way round", pair(40, "B", "A"), []float64{40}, 60, "B"},
		{"within both", pair(20, "A", "B"), []float64{20}, 60, "B"},
		{"at the larger limit", pair(60, "A", "B"), nil, 0, ""},
		{"two of the larger limit", pair(59, "B1", "B2"), []float64{59}, 60, "B1"},
		{"two of the smaller one", pair(40, "A1", "A2"), nil, 0, ""},
		{"two of the smaller one, near", pair(24, "A1", "A2"), []float64{24}, 25, "A1"},
	} {
		check(t, ItemClearance, limits, c.name, c.want, c.build)
		if c.want == nil {
			continue
		}
		f := onlyScene(t, ItemClearance, limits, c.build)
		if in := f.Instances[0]; len(f.Instances) != 1 || in.Required != c.required || in.Item.Name != c.of {
			t.Errorf("%s: %+v", c.name, f.Instances)
		}
	}
}

// Two items sit on one axis within the borders of the angle and of the offset.
func TestItemsOnOneAxis(t *testing.T) {
	rod := func(off, degrees float64) *model.Item {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return &model.Item{Anchors: []*model.Anchor{{Open: geom.V(off, 0, 0), Dir: geom.V(sin, cos, 0)}}}
	}
	bare := func(off float64) *model.Item {
		return &model.Item{Box: geom.BoxOf(geom.V(off-10, 0, -10), geom.V(off+10, 100, 10))}
	}
	own := rod(0, 0)
	for _, c := range []struct {
		name string
		with *model.Item
		want bool
	}{
		{"the same line", rod(0, 0), true},
		{"the other way", rod(0, 180), true},
		{"offset at the border", rod(coaxial-0.001, 0), true},
		{"offset beyond the border", rod(coaxial+0.001, 0), false},
		{"1.1 degrees", rod(0, 1.1), true},
		{"1.2 degrees", rod(0, 1.2), false},
		{"body in the middle", bare(4.99), true},
		{"body off the middle", bare(5.01), false},
		{"two bodies", nil, false},
	} {
		a, b := own, c.with
		if b == nil {
			a, b = bare(0), bare(0)
		}
		if got := oneAxis(a, b); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if got := oneAxis(b, a); got != c.want {
			t.Errorf("%s, exchanged: %v", c.name, got)
		}
	}
}

// Anchors of kinds that a rule does not ask are no neighbours for it.
func TestNeighboursAreOfTheRulesKinds(t *testing.T) {
	near := func(kind model.Kind) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.bolt(w, "A", 1000, 1000)
			c := bolt("B", 1060, 1000)
			c.kind = kind
			s.add(w, c)
		}
	}
	check(t, Spacing, Builtin(), "a socket", []float64{60, 60}, near(model.Socket))
	check(t, Spacing, Builtin(), "a sleeve", nil, near(model.Sleeve))
}

// Each item and each piece of reinforcement meet once, in whatever block.
func TestEachNearBarOnce(t *testing.T) {
	s := crowded(4, 3*barBlock)
	p := passOf(ReinforcementClearance, s, Builtin())
	type pair struct {
		it    *model.Item
		piece int
	}
	seen := map[pair]int{}
	p.eachNearBar(s.m.Items, func(*model.Item) float64 { return 100 }, func(int) {}, func(_ int, it *model.Item, i int) { seen[pair{it, i}]++ })
	if len(seen) < 5 {
		t.Fatalf("%d pairs: the test says little", len(seen))
	}
	for k, n := range seen {
		if n != 1 {
			t.Fatalf("%s and piece %d meet %d times", k.it.Name, k.piece, n)
		}
	}
}

// Facets count as one curved face only where they touch.
func TestFacetsThatTouch(t *testing.T) {
	for _, c := range []struct {
		b    [3]int32
		want bool
	}{{[3]int32{1, 8, 9}, true}, {[3]int32{8, 2, 9}, true}, {[3]int32{8, 9, 3}, true}, {[3]int32{7, 8, 9}, false}} {
		if got := touch([3]int32{1, 2, 3}, c.b); got != c.want {
			t.Errorf("%v: %v", c.b, got)
		}
	}
}

// Each mark counts its own bars, and only those.
func TestBarsOfASecondMarkAreCounted(t *testing.T) {
	s := newScene(geom.Identity)
	s.bolt(s.wall("W"), "HB1", 1500, 1000)
	upright(s, "N16-1", 16, 25)
	upright(s, "N16-2", 16, -30)
	s.piece(16, geom.V(1469, 100, 0), geom.V(1469, 100, 2500))
	got := only(t, ReinforcementClearance, s.m)
	if len(got) != 1 || len(got[0].Instances) != 2 {
		t.Fatalf("got %+v", got)
	}
	for _, in := range got[0].Instances {
		if twice := strings.HasSuffix(in.Text, "; 2 bars of this mark are too near"); twice != (in.Others[0].Name == "N16-2") {
			t.Errorf("%s: %s", in.Others[0].Name, in.Text)
		}
	}
	if want := "7 mm clear between HB1 and bar N16-1 (16 mm); 20 mm needed. One more place."; got[0].Message != want {
		t.Errorf("got %s\nwant %s", got[0].Message, want)
	}
	upright(s, "N16-3", 16, 36)
	if got = only(t, ReinforcementClearance, s.m); !strings.HasSuffix(got[0].Message, " 2 more places.") {
		t.Errorf("got %s", got[0].Message)
	}
}
