package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// A tie is welded to its plate when it ends no more than 5 mm off it or in it,
// no more than 15 degrees askew, and within its outline: both sides of each.
func TestTiesOfAPlate(t *testing.T) {
	tie := func(x, y, z, degrees float64) []geom.Vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return []geom.Vec{{X: x, Y: y, Z: z}, {X: x + 120*sin, Y: y + 120*cos, Z: z}}
	}
	bent := func(path []geom.Vec) []geom.Vec { return append(path, path[1].Add(geom.V(0, 0, 300))) }
	for _, c := range []struct {
		name  string
		path  []geom.Vec
		clash bool
	}{
		{"on the back", tie(1500, 10, 1000, 0), false},
		{"just 5 mm behind the back", tie(1500, 14.99, 1000, 0), false},
		{"more than 5 mm behind the back", tie(1500, 15.02, 1000, 0), true},
		{"just 5 mm through the front", tie(1500, -4.99, 1000, 0), false},
		{"more than 5 mm through the front", tie(1500, -5.02, 1000, 0), true},
		{"14.9 degrees askew", tie(1500, 8, 1000, 14.9), false},
		{"15.1 degrees askew", tie(1500, 8, 1000, 15.1), true},
		{"axis within the right edge", tie(1599.9, 10, 1000, 0), false},
		{"axis beyond the right edge", tie(1600.1, 10, 1000, 0), true},
		{"axis within the left edge", tie(1400.1, 10, 1000, 0), false},
		{"axis beyond the left edge", tie(1399.9, 10, 1000, 0), true},
		{"axis within the upper edge", tie(1500, 10, 1099.9, 0), false},
		{"axis beyond the upper edge", tie(1500, 10, 1100.1, 0), true},
		{"axis beyond the lower edge", tie(1500, 10, 899.9, 0), true},
		{"bent behind the plate", bent(tie(1500, 10, 1000, 0)), false},
	} {
		for where, at := range placements {
			for _, backwards := range []bool{false, true} {
				s := newScene(at)
				s.plate(s.wall("W"), "P", 1400, 900, 1600, 1100, 10)
				path := append([]geom.Vec(nil), c.path...)
				if backwards {
					for i, k := 0, len(path)-1; i < k; i, k = i+1, k-1 {
						path[i], path[k] = path[k], path[i]
					}
				}
				s.bar("N16-1", 16, path...)
				got := onlyWith(t, ReinforcementClearance, s.m, limitFor(ReinforcementClearance, Term{MM, 20}))
				if (len(got) > 0) != c.clash {
					t.Errorf("%s, %s, backwards %v: measured %v", c.name, where, backwards, measured(got))
				}
			}
		}
	}
	s := newScene(geom.Identity)
	it := s.plate(s.wall("W"), "P", 1400, 900, 1600, 1100, 10)
	s.bar("N16-1", 16, geom.V(1500, 10, 1000))
	if weldedTo(it, &s.m.Bars, 0) {
		t.Error("a bar of one point is a tie")
	}
	s.bar("N16-2", 16, tie(1500, 10, 1000, 0)...)
	it.Outline = it.Outline[:2]
	if weldedTo(it, &s.m.Bars, 1) {
		t.Error("a plate without an outline has ties")
	}
}

// A clash is told of the stud that it is at: within 2 mm of what the stud is
// known to be, for facets of a round surface lie off it.
func TestAnchorOfAClash(t *testing.T) {
	plain := &model.Anchor{Open: geom.V(0, 0, 0), Dir: geom.V(0, 1, 0), Diameter: 20, Length: 150, Deepest: 150}
	headed := &model.Anchor{Open: geom.V(300, 0, 0), Dir: geom.V(0, 1, 0), Diameter: 20, HeadSize: 32, Length: 150, Deepest: 150}
	hooked := &model.Anchor{Open: geom.V(600, 0, 0), Dir: geom.V(0, 1, 0), Diameter: 20, Length: 150, Deepest: 150, Hook: []geom.Vec{{X: 600, Y: 140}, {X: 680, Y: 140}}}
	for _, c := range []struct {
		name string
		at   geom.Vec
		want *model.Anchor
	}{
		{"on the shank", geom.V(10, 70, 0), plain},
		{"2 mm off the shank", geom.V(12, 70, 0), plain},
		{"more than 2 mm off the shank", geom.V(12.1, 70, 0), nil},
		{"2 mm behind the end, and the radius", geom.V(0, 162, 0), plain},
		{"farther behind the end", geom.V(0, 162.1, 0), nil},
		{"before the open end", geom.V(0, -12.1, 0), nil},
		{"at the head", geom.V(300, 150, 18), headed},
		{"beyond the head", geom.V(300, 150, 18.1), nil},
		{"at the end of the hook", geom.V(692, 140, 0), hooked},
		{"beyond the hook", geom.V(692.1, 140, 0), nil},
		{"between two, nearer to the second", geom.V(200, 70, 0), nil},
	} {
		it := &model.Item{Kind: model.Plate, Anchors: []*model.Anchor{plain, headed, hooked}}
		if got := anchorAt(it, c.at); got != c.want {
			t.Errorf("%s: got %+v", c.name, got)
		}
	}
	bolt := &model.Item{Kind: model.Bolt, Anchors: []*model.Anchor{plain, headed}}
	if got := anchorAt(bolt, geom.V(200, 70, 0)); got != headed {
		t.Errorf("a bolt is its anchors, and the nearer one counts: got %+v", got)
	}
	if got := anchorAt(&model.Item{Kind: model.Bolt}, geom.V(0, 0, 0)); got != nil {
		t.Errorf("without anchors: got %+v", got)
	}
}

func TestPlateClashWords(t *testing.T) {
	build := func(s *scene) {
		s.plate(s.wall("W"), "P", 1400, 900, 1600, 1100, 10)
		s.bar("N16-1", 16, geom.V(1500, 15, 0), geom.V(1500, 15, 2500))
	}
	if got, want := text(t, ReinforcementClearance, Builtin(), build), "bar N16-1 (16 mm) runs into P by 3 mm."; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// Of the bars of one mark the nearest is told, and of bars that are equally near
// the one that comes first in the host.
func TestNearestBarOfAMark(t *testing.T) {
	for where, at := range placements {
		s := newScene(at)
		s.bolt(s.wall("W"), "A", 1500, 1000)
		upright(s, "N16-1", 16, 37)
		s.piece(16, geom.V(1469, 100, 0), geom.V(1469, 100, 2500))
		s.piece(16, geom.V(1535, 100, 0), geom.V(1535, 100, 2500))
		got := only(t, ReinforcementClearance, s.m)
		if len(got) != 1 || len(got[0].Instances) != 1 || !same(measured(got), []float64{13}) {
			t.Errorf("%s: measured %v in %d findings", where, measured(got), len(got))
		}
	}
}

// A hole that is cut for the hook itself is no lack of concrete: what begins up to
// 3 mm beyond the hook counts. Without such a hole the axis has to be in concrete.
func TestConcreteBeyondAHook(t *testing.T) {
	for where, at := range placements {
		for _, c := range []struct {
			name  string
			from  float64 // where the concrete begins, seen from the axis
			clear float64
			want  float64
			ok    bool
		}{
			{"axis in concrete", -100, 0, 120, true},
			{"axis in no concrete", 1, 0, 0, false},
			{"hole for the hook, 3 mm wider", 82.9, 10, 120, true},
			{"hole for the hook, wider than that", 83.1, 10, 0, false},
		} {
			body := boxMesh(geom.V(c.from, -100, -100), geom.V(200, 100, 100)).Transform(at)
			a := &model.Anchor{Diameter: 20, Entry: &model.Entry{Solid: geom.NewSolid(body), Clear: c.clear}}
			got, _, ok := coverFrom(a, at.Apply(geom.V(0, 0, 0)), at.Turn(geom.V(1, 0, 0)), 80)
			if ok != c.ok || ok && math.Abs(got-c.want) > 1e-6 {
				t.Errorf("%s, %s: %v, %v", c.name, where, got, ok)
			}
		}
		behind := boxMesh(geom.V(-300, -100, -100), geom.V(-100, 100, 100)).Transform(at)
		a := &model.Anchor{Diameter: 20, Entry: &model.Entry{Solid: geom.NewSolid(behind), Clear: 10}}
		if got, _, ok := coverFrom(a, at.Apply(geom.V(0, 0, 0)), at.Turn(geom.V(1, 0, 0)), 80); ok {
			t.Errorf("%s: concrete behind the axis: %v", where, got)
		}
		gap := boxMesh(geom.V(50, -101, -101), geom.V(60, 101, 101)).Transform(at)
		whole := boxMesh(geom.V(-100, -100, -100), geom.V(200, 100, 100)).Transform(at)
		a.Entry.Solid = geom.NewSolid(whole, gap)
		if got, _, ok := coverFrom(a, at.Apply(geom.V(0, 0, 0)), at.Turn(geom.V(1, 0, 0)), 80); !ok || math.Abs(got-120) > 1e-6 {
			t.Errorf("%s: the farthest concrete that begins before the hook's end: %v, %v", where, got, ok)
		}
	}
}
