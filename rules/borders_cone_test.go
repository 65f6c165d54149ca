package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// The distance from an anchor to an outline that runs askew: 40 mm to the right
// and 60 mm upwards, by similar triangles.
func TestRaysToASlantedEdge(t *testing.T) {
	p := &pad{outline: [][]geom.Vec2{{{X: -100, Y: -100}, {X: 140, Y: -100}, {X: -60, Y: 200}}}}
	q := geom.Vec2{X: 0, Y: 20}
	// The right side runs from (140, -100) to (-60, 200), the left one from (-60, 200)
	// to (-100, -100).
	for _, c := range []struct {
		dir  geom.Vec2
		want float64
	}{{geom.Vec2{X: 1}, 60}, {geom.Vec2{Y: 1}, 90}, {geom.Vec2{X: -1}, 84}, {geom.Vec2{Y: -1}, 120}} {
		if got := p.ray(q, c.dir); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("along %v: %v, want %v", c.dir, got, c.want)
		}
	}
	if got := p.ray(geom.Vec2{X: 500, Y: 500}, geom.Vec2{X: 1}); !math.IsInf(got, 1) {
		t.Errorf("away from the outline: %v", got)
	}
}

// The reduced depth of a narrow member goes by the farthest of the near edges,
// whichever side it is on: ACI 318-19 17.6.2.1.2.
func TestNarrowDepthOfEachSide(t *testing.T) {
	for i, far := range [4]geom.Vec2{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		reach := func(dir geom.Vec2) float64 {
			if dir == far {
				return 120
			}
			return 60
		}
		x0, x1 := -reach(geom.Vec2{X: -1}), reach(geom.Vec2{X: 1})
		y0, y1 := -reach(geom.Vec2{Y: -1}), reach(geom.Vec2{Y: 1})
		p := (&pad{at: []geom.Vec2{{}}, depth: []float64{100}}).within(x0, y0, x1, y1)
		if d, ok := p.narrowDepth(100); !ok || math.Abs(d-80) > 1e-9 {
			t.Errorf("side %d: %v, %v; want 120 / 1.5", i, d, ok)
		}
		open := (&pad{at: []geom.Vec2{{}}, depth: []float64{100}}).within(x0-200*min(far.X*far.X, 1), y0-200, x1+200*min(far.X*far.X, 1), y1+200)
		if d, ok := open.narrowDepth(100); ok {
			t.Errorf("side %d, two edges near at most: %v", i, d)
		}
	}
}

// Two anchors far from all edges are drawn along their own line; the outline is
// taken halfway down the anchor, or the member where that is less.
func TestPlanOfTwoAnchors(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	a, b := s.bolt(w, "A", 1000, 1000).Anchors[0], s.bolt(w, "B", 1120, 1160).Anchors[0]
	p, ok := newPad([]*model.Anchor{a, b}, func(a *model.Anchor) (measure.Edge, bool) { return measure.EdgeDistance(a) })
	if !ok || math.Abs(p.at[1].Y) > 1e-9 || math.Abs(math.Abs(p.at[1].X)-200) > 1e-9 {
		t.Errorf("got %+v", p)
	}
	if got := half([]*model.Anchor{a, b}); math.Abs(got-73.5) > 1e-9 { // 147 mm deep in 200 mm
		t.Errorf("half of 147 mm: %v", got)
	}
	a.Entry.Thickness = 100
	if got := half([]*model.Anchor{a, b}); math.Abs(got-50) > 1e-9 {
		t.Errorf("half of a member of 100 mm: %v", got)
	}
}

// The anchor nearest to an edge stands for a set, of equal ones the first by place,
// whatever the order of reading.
func TestAnchorThatIsNearestToAnEdge(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	var all []*model.Anchor
	for _, x := range []float64{140, 90, 400} {
		all = append(all, s.bolt(w, "A", x, 1200).Anchors[0])
	}
	above := s.bolt(w, "B", 90.004, 1000).Anchors[0] // as near as the second, but for noise
	p := passOf(ConcreteCone, s, Builtin())
	if got := p.nearestEdge(all); got != all[1] {
		t.Errorf("got the one at %v", got.Open)
	}
	for _, order := range [][]*model.Anchor{{all[0], all[1], above}, {above, all[1], all[0]}, {all[1], above, all[2]}} {
		got := p.nearestEdge(order)
		if want := all[1]; compareVec(above.Entry.Point, want.Entry.Point) < 0 {
			want = above
			if got != want {
				t.Errorf("got the one at %v, want %v", got.Open, want.Open)
			}
		} else if got != want {
			t.Errorf("got the one at %v, want %v", got.Open, want.Open)
		}
	}
}

// The greatest spacing is that of neighbouring rows, wherever they lie.
func TestWidestSpacing(t *testing.T) {
	p := &pad{at: []geom.Vec2{{X: 200, Y: -40}, {X: 230, Y: -40}, {X: 300, Y: 0}, {X: 300.9, Y: 0}}}
	if got := p.widest(); math.Abs(got-70) > 1e-9 {
		t.Errorf("got %v", got)
	}
}
