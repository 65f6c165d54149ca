package rules

import (
	"testing"

	"embedcheck/internal/geom"
)

func TestSupplementaryBars(t *testing.T) {
	// 147 mm deep and 40 mm from the edge: the cone's share is below 0.5. Half
	// the depth is 73.5 mm.
	barAt := func(x, off float64) func(*scene) {
		return func(s *scene) {
			s.bolt(s.wall("W"), "HB1", x, 1000)
			s.bar("N12-1", 12, geom.V(x+off, 100, 100), geom.V(x+off, 100, 2400))
		}
	}
	check(t, SupplementaryBars, Builtin(), "73 mm", nil, barAt(40, 16+73))
	check(t, SupplementaryBars, Builtin(), "74 mm", []float64{74}, barAt(40, 16+74))
	check(t, SupplementaryBars, Builtin(), "far off", []float64{1.5 * 147}, barAt(40, 1000))
	check(t, SupplementaryBars, Builtin(), "far from edges", nil, barAt(1000, 100))
	check(t, SupplementaryBars, Builtin(), "no bars at all", nil, func(s *scene) { s.bolt(s.wall("W"), "HB1", 40, 1000) })
	if got := text(t, SupplementaryBars, Builtin(), barAt(40, 116)); got != "the nearest bar to HB1, whose breakout cone is cut by edges, is 100 mm away; at most 73.5 mm (0.5 embedment depths of 147 mm)." {
		t.Errorf("got %s", got)
	}
	if got := text(t, SupplementaryBars, Builtin(), barAt(40, 1000)); got != "no bar is within 220.5 mm of HB1, whose breakout cone is cut by edges; at most 73.5 mm (0.5 embedment depths of 147 mm)." {
		t.Errorf("got %s", got)
	}
	s := newScene(geom.Identity)
	barAt(40, 1000)(s)
	set := limitFor(ConcreteCone, Term{Ratio, 0.1})
	if got := onlyWith(t, SupplementaryBars, s.m, set); len(got) != 0 {
		t.Errorf("a lower limit of concrete-cone: got %+v", got)
	}
}
