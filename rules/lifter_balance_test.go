package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// lifter is a lifting insert of 250 mm that ends in a face.
func lifter(name string, open, dir geom.Vec) spec {
	return spec{kind: model.Lifter, name: name, open: open, dir: dir, d: 20, length: 250, head: 20}
}

// slab is 3000 x 2000 x 400 mm, its top at z = 400.
func (s *scene) slab(name string) *model.Host {
	return s.host("IfcSlab", name, boxMesh(geom.V(0, 0, 0), geom.V(3000, 2000, 400)))
}

// inTop sets lifting inserts into the top of a slab.
func inTop(at ...[2]float64) func(*scene) {
	return func(s *scene) {
		h := s.slab("S")
		for _, q := range at {
			s.add(h, lifter("L", geom.V(q[0], q[1], 400), geom.V(0, 0, -1)))
		}
	}
}

func TestLifterBalance(t *testing.T) {
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"no lifting insert", func(s *scene) { s.bolt(s.wall("W"), "A", 1000, 1000) }, nil},
		{"four around the middle", inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{500, 1600}, [2]float64{2500, 1600}), nil},
		{"all moved by 150", inTop([2]float64{650, 400}, [2]float64{2650, 400}, [2]float64{650, 1600}, [2]float64{2650, 1600}), nil},
		{"all moved by 151", inTop([2]float64{651, 400}, [2]float64{2651, 400}, [2]float64{651, 1600}, [2]float64{2651, 1600}), []float64{151}},
		{"moved both ways, 90 and 121", inTop([2]float64{590, 521}, [2]float64{2590, 521}, [2]float64{590, 1721}, [2]float64{2590, 1721}), []float64{math.Hypot(90, 121)}},
		{"a lifting insert modelled twice counts once", inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{500, 1600}, [2]float64{2500, 1600}, [2]float64{2500, 1600}), nil},
		{"one in the middle", inTop([2]float64{1500, 1000}), nil},
		{"only one, at 200", inTop([2]float64{1700, 1000}), []float64{200}},
		{"two in a row, 160 beside", inTop([2]float64{500, 1160}, [2]float64{2500, 1160}), []float64{160}},
		{"a triangle without the middle", inTop([2]float64{500, 1100}, [2]float64{2500, 1100}, [2]float64{1500, 1700}), []float64{100}},
		{"a triangle around the middle", inTop([2]float64{500, 800}, [2]float64{2500, 800}, [2]float64{1500, 1700}), nil},
		{"edge lifters, an opening to the left", func(s *scene) { // centre of gravity at 1510
			h := s.wallWithOpening("W")
			s.add(h, lifter("a", geom.V(859, 100, 2500), geom.V(0, 0, -1)))
			s.add(h, lifter("b", geom.V(2459, 100, 2500), geom.V(0, 0, -1)))
		}, nil},
		{"edge lifters, too far right", func(s *scene) { // 1660 + 12 - 1510.4167
			h := s.wallWithOpening("W")
			s.add(h, lifter("a", geom.V(872, 100, 2500), geom.V(0, 0, -1)))
			s.add(h, lifter("b", geom.V(2472, 100, 2500), geom.V(0, 0, -1)))
		}, []float64{1672 - (3000*2500*1500-500*600*1250)/(3000*2500-500*600.0)}},
		{"inserts in the top and in an end are two lifts", func(s *scene) {
			inTop([2]float64{500, 1000}, [2]float64{2500, 1000})(s)
			for _, y := range []float64{400, 1600} {
				s.add(s.m.Hosts[0], lifter("E", geom.V(0, y, 200), geom.V(1, 0, 0)))
			}
		}, nil},
	} {
		for where, at := range placements {
			if where == "lying" { // there the top of the slab is a face that stands
				continue
			}
			s := newScene(at)
			c.build(s)
			if got := measured(only(t, LifterBalance, s.m)); !same(got, c.want) {
				t.Errorf("%s, %s: measured %v, want %v", c.name, where, got, c.want)
			}
		}
	}
	check(t, LifterBalance, limitFor(LifterBalance, Term{Inch, 8}), "8 in", nil, inTop([2]float64{1700, 1000}))
	check(t, LifterBalance, limitFor(LifterBalance, Term{Inch, 7}), "7 in", []float64{200}, inTop([2]float64{1700, 1000}))
}

// Panels are tilted up by inserts above the centre of gravity of a face that
// stands; below it they turn the panel over.
func TestLifterBalanceInAStandingFace(t *testing.T) {
	inFace := func(dx, dz float64) func(*scene) {
		return func(s *scene) {
			h := s.wall("W") // centre of gravity at (1500, 1250)
			for _, x := range []float64{900, 2100} {
				c := lifter("L", geom.V(x+dx, 0, 1250+dz), geom.V(0, 1, 0))
				c.length = 120
				s.add(h, c)
			}
		}
	}
	for _, c := range []struct {
		name   string
		dx, dz float64
		want   []float64
	}{
		{"in the middle", 0, 0, nil},
		{"high", 0, 500, nil},
		{"high and 160 to the side", 160, 500, []float64{160}},
		{"150 low", 0, -150, nil},
		{"151 low", 0, -151, []float64{151}},
	} {
		for _, where := range []string{"as drawn", "far away", "turned in plan"} {
			s := newScene(placements[where])
			inFace(c.dx, c.dz)(s)
			if got := measured(only(t, LifterBalance, s.m)); !same(got, c.want) {
				t.Errorf("%s, %s: measured %v, want %v", c.name, where, got, c.want)
			}
		}
	}
}

// A hole for a lifting pin lies across the way up.
func TestLifterBalanceOfPinHoles(t *testing.T) {
	hole := func(y float64) func(*scene) {
		return func(s *scene) {
			c := lifter("pin", geom.V(1500, y, 300), geom.V(1, 0, 0))
			c.noAnchor = true
			it := s.add(s.slab("S"), c)
			it.Tube, it.Bodies, it.Box = true, nil, geom.BoxOf(s.at.Apply(geom.V(1500, y, 300)))
		}
	}
	for where, at := range map[string]geom.Affine{"as drawn": geom.Identity, "turned in plan": placements["turned in plan"]} {
		for y, want := range map[float64][]float64{1150: nil, 1151: {151}} {
			s := newScene(at)
			hole(y)(s)
			if got := measured(only(t, LifterBalance, s.m)); !same(got, want) {
				t.Errorf("%s, y = %v: measured %v, want %v", where, y, got, want)
			}
		}
	}
}

func TestLifterBalanceIsSilent(t *testing.T) {
	s := newScene(geom.Identity)
	inTop([2]float64{1700, 1000})(s)
	off := true
	set := &Set{For: []For{{Rules: map[string]Change{LifterBalance.ID: {Off: &off}}}}}
	if got := onlyWith(t, LifterBalance, s.m, set); len(got) != 0 {
		t.Errorf("switched off, but found %v", got)
	}
	c := lifter("no axis", geom.V(300, 300, 400), geom.V(0, 0, -1))
	c.noAnchor = true
	s.add(s.m.Hosts[0], c)
	found, err := run([]*Rule{LifterBalance, NotChecked}, s.m, Builtin(), 1)
	if err != nil || len(found) != 1 || found[0].Rule != NotChecked.ID || len(found[0].Instances) != 2 {
		t.Errorf("one without an axis: found %+v, %v", found, err)
	}
}

func TestLifterBalanceWords(t *testing.T) {
	for _, c := range []struct {
		build func(*scene)
		want  string
	}{
		{inTop([2]float64{1700, 1000}), "the centre of gravity of S lies 200 mm from its only lifting point in plan; at most 150 mm."},
		{inTop([2]float64{560, 1160}, [2]float64{2560, 1160}), "the centre of gravity of S lies 170.9 mm from the middle of its 2 lifting points in plan (60 mm along their row, 160 mm beside it); at most 150 mm."},
		{inTop([2]float64{500, 1100}, [2]float64{2500, 1100}, [2]float64{1500, 1700}), "the centre of gravity of S lies 100 mm outside of its 3 lifting points in plan: it tips."},
	} {
		if got := text(t, LifterBalance, Builtin(), c.build); got != c.want {
			t.Errorf("got %s\nwant %s", got, c.want)
		}
	}
	s := newScene(geom.Identity)
	inTop([2]float64{700, 1200}, [2]float64{2700, 1200})(s)
	f := only(t, LifterBalance, s.m)[0]
	if f.Title != "Lifting points off balance: 2 lifting points in S" || f.Source != "common practice, no published source" || len(f.Instances[0].Others) != 1 {
		t.Errorf("got %s, %s, %v", f.Title, f.Source, f.Instances[0].Others)
	}
	ids := map[string]bool{} // two panels of one name have findings of their own
	inTop([2]float64{700, 1200}, [2]float64{2700, 1200})(s)
	for _, f := range only(t, LifterBalance, s.m) {
		ids[f.ID] = true
	}
	if len(ids) != 2 {
		t.Errorf("%d ids for two panels", len(ids))
	}
}
