package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// drill gives a plate a round hole at (x, z); its loop has 24 corners.
func (s *scene) drill(p *model.Sheet, x, z, d float64) {
	var loop []geom.Vec
	for i := range 24 {
		w := 2 * math.Pi * float64(i) / 24
		loop = append(loop, s.onUpper(p, x+d/2*math.Cos(w), z+d/2*math.Sin(w)))
	}
	p.Holes = append(p.Holes, model.Hole{At: s.onUpper(p, x, z), Diameter: d, Loop: loop, Round: true})
}

// slot gives a plate a rectangular slot, w long and h high.
func (s *scene) slot(p *model.Sheet, x, z, w, h float64) {
	var loop []geom.Vec
	for _, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		loop = append(loop, s.onUpper(p, x+c[0]*w/2, z+c[1]*h/2))
	}
	p.Holes = append(p.Holes, model.Hole{At: s.onUpper(p, x, z), Diameter: min(w, h), Loop: loop})
}

// onUpper is a place on the upper side of a plate in front of a wall.
func (s *scene) onUpper(p *model.Sheet, x, z float64) geom.Vec {
	flat := s.at.Apply(geom.V(x, 0, z))
	return flat.Sub(p.Upper.N.Mul(p.Upper.Dist(flat)))
}

// four are four M20 bolts at 200 x 200 around (1000, 1000) in a wall.
func four(s *scene) []*model.Item {
	w := s.wall("W")
	var out []*model.Item
	for i, q := range [4][2]float64{{900, 900}, {1100, 900}, {1100, 1100}, {900, 1100}} {
		out = append(out, s.add(w, standing(string(rune('A'+i)), q[0], q[1], 100)))
	}
	s.set("HD-1", out...)
	return out
}

// patterned is a plate over the four bolts with a hole of a diameter for each,
// all of them moved by (dx, dz).
func patterned(template bool, d, dx, dz float64) func(*scene) {
	return func(s *scene) {
		p := s.over("Base plate", 850, 850, 1150, 1150, 30, 20, four(s)...)
		if template {
			s.template(p)
		}
		for _, q := range [4][2]float64{{1100, 1100}, {900, 900}, {900, 1100}, {1100, 900}} {
			s.drill(p, q[0]+dx, q[1]+dz, d)
		}
	}
}

func TestSetPattern(t *testing.T) {
	checkAll(t, SetPattern, []sceneCase{
		{"6 mm more than the bolt", Builtin(), patterned(false, 26, 0, 0), nil},
		{"5 mm more", Builtin(), patterned(false, 25, 0, 0), []float64{2.5, 2.5, 2.5, 2.5}},
		{"half a millimetre off", Builtin(), patterned(false, 26, 0.3, 0.4), nil},
		{"1 mm off", Builtin(), patterned(false, 26, 0.6, 0.8), []float64{2, 2, 2, 2}},
		{"1 mm off in wide holes", Builtin(), patterned(false, 28, 0.6, 0.8), nil},
		{"60 mm off", Builtin(), patterned(false, 26, 60, 0), []float64{-57, -57, -57, -57}},
		{"template, 2 mm more", Builtin(), patterned(true, 22, 0, 0), nil},
		{"template, as wide as the bolt", Builtin(), patterned(true, 20, 0, 0), nil},
		{"template, narrower", Builtin(), patterned(true, 19.5, 0, 0), []float64{-0.25, -0.25, -0.25, -0.25}},
		{"template, 2 mm off", Builtin(), patterned(true, 22, 2, 0), []float64{-1, -1, -1, -1}},
		{"holes not modelled", Builtin(), func(s *scene) { s.over("P", 850, 850, 1150, 1150, 30, 20, four(s)...) }, nil},
		{"a hole for something else only", Builtin(), func(s *scene) {
			s.drill(s.over("P", 850, 850, 1150, 1150, 30, 20, four(s)...), 1000, 1000, 75)
		}, nil},
		{"one bolt off its hole", Builtin(), func(s *scene) {
			p := s.over("P", 850, 850, 1150, 1150, 30, 20, four(s)...)
			for _, q := range [4][2]float64{{900, 900}, {1100, 900}, {1100, 1100}, {900, 1090}} {
				s.drill(p, q[0], q[1], 26)
			}
		}, []float64{-7}},
		{"three holes for four bolts", Builtin(), func(s *scene) {
			p := s.over("P", 850, 850, 1150, 1150, 30, 20, four(s)...)
			for _, q := range [3][2]float64{{900, 900}, {1100, 900}, {1100, 1100}} {
				s.drill(p, q[0], q[1], 26)
			}
		}, []float64{13 - 200 - 10}},
		{"three bolts for four holes, and one for grout", Builtin(), func(s *scene) {
			p := s.over("P", 850, 850, 1150, 1150, 30, 20, four(s)[:3]...)
			for _, q := range [4][2]float64{{900, 900}, {1100, 900}, {1100, 1100}, {900, 1100}} {
				s.drill(p, q[0], q[1], 26)
			}
			s.drill(p, 1000, 1000, 45)
		}, []float64{13 - 200 - 10}},
		{"slots", Builtin(), func(s *scene) {
			p := s.over("P", 850, 850, 1150, 1150, 30, 20, four(s)...)
			s.slot(p, 910, 900, 60, 26) // 10 off along the slot: 13 - 10 = 3 across
			s.slot(p, 1100, 908, 60, 26)
			s.drill(p, 1100, 1100, 26)
			s.drill(p, 900, 1100, 26)
		}, []float64{13 - 8 - 10}},
		{"limit of the rule file", limitFor(SetPattern, Term{MM, 10}), patterned(false, 40, 0, 0), nil},
		{"below the limit of the rule file", limitFor(SetPattern, Term{MM, 10}), patterned(false, 39.6, 0, 0), []float64{9.8, 9.8, 9.8, 9.8}},
	})
}

func TestSetPatternSays(t *testing.T) {
	for _, c := range []struct {
		build func(*scene)
		want  string
	}{
		{patterned(false, 25, 0, 0), "the hole of 25 mm in Base plate leaves 2.5 mm of room around HD-1 bolt 1 (20 mm); 3 mm needed. 3 more places."},
		{patterned(false, 26, 3, 4), "HD-1 bolt 1 stands 5 mm off the middle of its hole of 26 mm in Base plate: -2 mm of room; 3 mm needed. 3 more places."},
	} {
		f := onlyScene(t, SetPattern, Builtin(), c.build)
		if f.Message != c.want {
			t.Errorf("got %s", f.Message)
		}
		if o := f.Instances[0].Others; len(o) != 1 || o[0].Name != "Base plate" {
			t.Errorf("the plate is not named: %+v", o)
		}
	}
	f := onlyScene(t, SetPattern, Builtin(), patterned(true, 19, 0, 0))
	if f.Source != "common practice, no published source" {
		t.Errorf("template: source %q", f.Source)
	}
}
