package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// A row of lifting points is one when they lie no farther apart across it than a
// tenth of its length; the way up of one lift turns by no more than 20 degrees.
func TestWhatIsOneLift(t *testing.T) {
	lean := func(degrees float64) geom.Vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return geom.V(sin, 0, cos)
	}
	for _, c := range []struct {
		degrees float64
		lifts   int
	}{{0, 1}, {19.5, 1}, {20.5, 2}, {90, 2}} {
		it := &model.Item{}
		lifts := joinLift(nil, nil, it, geom.V(0, 0, 0), geom.V(0, 0, 1))
		lifts = joinLift(lifts, nil, it, geom.V(500, 0, 0), lean(c.degrees))
		if len(lifts) != c.lifts {
			t.Errorf("%v degrees: %d lifts", c.degrees, len(lifts))
		}
	}
	tube := joinLift(nil, nil, &model.Item{Tube: true}, geom.V(0, 0, 0), geom.V(0, 0, 1))
	if tube = joinLift(tube, nil, &model.Item{}, geom.V(500, 0, 0), geom.V(0, 0, 1)); len(tube) != 2 {
		t.Errorf("a hole and an insert: %d lifts", len(tube))
	}
	for _, c := range []struct {
		apart float64
		n     int
	}{{samePlace, 1}, {samePlace + 0.01, 2}} {
		it := &model.Item{}
		lifts := joinLift(joinLift(nil, nil, it, geom.V(0, 0, 0), geom.V(0, 0, 1)), nil, it, geom.V(c.apart, 0, 0), geom.V(0, 0, 1))
		if len(lifts[0].points) != c.n {
			t.Errorf("%v mm apart: %d points", c.apart, len(lifts[0].points))
		}
	}
	row := func(off float64) *lift {
		return &lift{points: []geom.Vec{{X: 0}, {X: 2000}, {X: 1000, Y: off}}, up: geom.V(0, 0, 1)}
	}
	if b := row(199).balance(geom.V(1000, 300, 0)); !b.row || b.outside != 0 {
		t.Errorf("199 mm across 2000: %+v", b)
	}
	if b := row(201).balance(geom.V(1000, 300, 0)); b.row || math.Abs(b.outside-99) > 1e-9 {
		t.Errorf("201 mm across 2000: %+v", b)
	}
	if b := row(900).balance(geom.V(1000, 200, 0)); b.row || b.outside != 0 || math.Abs(b.inside-200) > 1e-9 {
		t.Errorf("inside: %+v", b)
	}
}

func TestLiftingPoints(t *testing.T) {
	leg := func(x float64) *model.Anchor {
		return &model.Anchor{Open: geom.V(x, 0, 400), Dir: geom.V(0, 0, -1)}
	}
	at, up, ok := liftingPoint(&model.Item{Anchors: []*model.Anchor{leg(100), leg(300)}})
	if !ok || at != geom.V(200, 0, 400) || up != geom.V(0, 0, 1) {
		t.Errorf("a loop with two legs: %v, %v, %v", at, up, ok)
	}
	if at, up, ok = liftingPoint(&model.Item{Anchors: []*model.Anchor{leg(100)}}); !ok || at != geom.V(100, 0, 400) || up != geom.V(0, 0, 1) {
		t.Errorf("one leg: %v, %v, %v", at, up, ok)
	}
	if _, _, ok = liftingPoint(&model.Item{}); ok {
		t.Error("without an axis there is no lifting point")
	}
	at, up, ok = liftingPoint(&model.Item{Tube: true, Box: geom.BoxOf(geom.V(0, 0, 0), geom.V(100, 200, 60))})
	if !ok || at != geom.V(50, 100, 30) || up != geom.V(0, 0, 1) {
		t.Errorf("a hole for a pin: %v, %v, %v", at, up, ok)
	}
	if _, _, ok = liftingPoint(&model.Item{Tube: true, Box: geom.EmptyBox}); ok {
		t.Error("a hole without a body has no place")
	}
}

// A lift is passed without working the openings out only where no centre of
// gravity within the slack can miss the limit or lie outside.
func TestLiftsThatNeedNoOpenings(t *testing.T) {
	s := newScene(geom.Identity)
	inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{1500, 1600})(s)
	p := passOf(LifterBalance, s, Builtin())
	l := p.liftsOf(s.m.Hosts[0])[0]
	middle := geom.V(1500, 800, 200)
	for _, c := range []struct {
		name  string
		off   float64
		slack float64
		want  bool
	}{
		{"in the middle", 0, 10, true}, {"near the limit", 139.9, 10, true}, {"within the slack of the limit", 140.1, 10, false},
		{"outside the points", 500, 10, false}, {"near a side", 0, 401, false},
	} {
		if got := p.level(l, middle.Sub(geom.V(0, c.off, 0)), c.slack); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	s.m.Items[1].Twin = true
	if lifts := p.liftsOf(s.m.Hosts[0]); len(lifts) != 1 || len(lifts[0].points) != 2 {
		t.Errorf("a body that stands for another one counts: %d lifts", len(lifts))
	}
	s.m.Items[2].Kind = model.Sleeve
	if lifts := p.liftsOf(s.m.Hosts[0]); len(lifts) != 1 || len(lifts[0].points) != 1 {
		t.Errorf("a sleeve is no lifting point: %d lifts", len(lifts))
	}
}

func TestLabelsOfLifts(t *testing.T) {
	for _, c := range []struct {
		build func(*scene)
		want  string
	}{
		{inTop([2]float64{1700, 1000}), "the lifting point"}, {inTop([2]float64{500, 1160}, [2]float64{2500, 1160}), "2 lifting points"},
	} {
		if f := onlyScene(t, LifterBalance, Builtin(), c.build); f.Set != c.want {
			t.Errorf("%q, want %q", f.Set, c.want)
		}
	}
}
