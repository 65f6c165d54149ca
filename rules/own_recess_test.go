package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// former is a round recess former in the front of a wall, 40 mm deep and 80 mm
// across, at (x, z).
func (s *scene) former(h *model.Host, name string, x, z float64) *model.Item {
	rod := &geom.Rod{Path: []geom.Vec{s.at.Apply(geom.V(x, 0, z)), s.at.Apply(geom.V(x, 40, z))}, Radius: 40}
	it := &model.Item{
		Ref: model.Ref{GlobalID: s.id("former"), Class: "IfcDiscreteAccessory", Name: name}, Kind: model.Former, Host: h,
		Bodies: []model.Body{{Rod: rod, Box: rod.Box()}}, Box: rod.Box(),
	}
	h.Items, s.m.Items = append(h.Items, it), append(s.m.Items, it)
	return it
}

// recess cuts a square recess of 90 mm out of the front of a wall, so deep, at
// (x, z).
func (s *scene) recess(h *model.Host, x, z, deep float64) {
	v := boxMesh(geom.V(x-45, -10, z-45), geom.V(x+45, deep, z+45)).Transform(s.at)
	h.Voids = append(h.Voids, &model.Void{Ref: model.Ref{GlobalID: s.id("void"), Name: "R"}, Mesh: v, Box: v.Box()})
	h.Solid = nil // so that it is worked out anew
	h.Solid = h.Without(nil)
}

// sunk is an insert of 20 mm below the front of a wall, whose own recess is left
// filled where its entry face is looked for.
func (s *scene) sunk(h *model.Host, name string, x, z float64, filled bool) *model.Item {
	c := lifter(name, geom.V(x, 20, z), geom.V(0, 1, 0))
	c.length, c.noEntry = 120, true
	it := s.add(h, c)
	if filled {
		it.Anchors[0].Entry = measure.Entry(it.Anchors[0], geom.NewSolid(h.Body), true)
	}
	return it
}

func TestOwnRecessOfFormers(t *testing.T) {
	with := func(deep float64, more int) func(*scene) {
		return func(s *scene) {
			h := s.wall("W")
			for i := range more { // so that it is not the way of drawing
				x := 300 + 200*float64(i)
				s.recess(h, x, 2000, 40)
				s.former(h, "RF", x, 2000)
			}
			if deep > 0 {
				s.recess(h, 1000, 1000, deep)
			}
			s.former(h, "RF", 1000, 1000)
		}
	}
	// The former is sampled in twelve cuts of 3.33 mm.
	for _, c := range []struct {
		name string
		deep float64
		more int
		want []float64
	}{
		{"cut out", 40, 2, nil},
		{"cut to 30 of 40 mm", 30, 2, nil},
		{"cut to 26 of 40 mm", 26, 2, []float64{4.0 / 12}},
		{"not cut out", 0, 2, []float64{1}},
		{"the only one, not cut out", 0, 0, []float64{1}},
	} {
		check(t, OwnRecess, Builtin(), c.name, c.want, with(c.deep, c.more))
	}
	if got := text(t, OwnRecess, Builtin(), with(0, 2)); got != "100 % of RF lies in the concrete of W, with no recess cut for it; at most 30 %." {
		t.Errorf("got %s", got)
	}
	s := newScene(geom.Identity)
	h := s.wall("W")
	s.former(h, "RF", 500, 1000)
	s.former(h, "RF", 1500, 1000)
	s.former(h, "RF", 2500, 1000)
	s.recess(h, 2500, 1000, 40)
	found := only(t, OwnRecess, s.m)
	if len(found) != 1 || found[0].Priority.String() != "note" || len(found[0].Instances) != 2 ||
		found[0].Message != "no recess is cut out of the concrete for 2 of the 3 recess formers of a.ifc." {
		t.Errorf("a way of drawing: got %+v", found)
	}
}

func TestOwnRecessOfSunkItems(t *testing.T) {
	inserts := func(n int, cut func(i int) bool, formers int) func(*scene) {
		return func(s *scene) {
			h := s.wall("W")
			for i := range n {
				x := 300 + 400*float64(i)
				if cut(i) {
					s.recess(h, x, 1000, 40)
				}
				if i < formers {
					s.former(h, "RF", x, 1000)
				}
			}
			for i := range n {
				s.sunk(h, "L", 300+400*float64(i), 1000, true)
			}
		}
	}
	all, none := func(int) bool { return true }, func(int) bool { return false }
	butLast := func(i int) bool { return i < 2 }
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  int
	}{
		{"all have a recess", inserts(3, all, 0), 0},
		{"none has a recess", inserts(3, none, 0), 0},
		{"two of three have a recess", inserts(3, butLast, 0), 1},
		{"one of two has a recess", inserts(2, func(i int) bool { return i == 0 }, 0), 0},
		{"all have a former", inserts(3, all, 3), 0},
		{"two of three have a former", inserts(3, all, 2), 1},
		{"one of three has a former", inserts(3, all, 1), 0},
	} {
		for where, at := range placements {
			s := newScene(at)
			c.build(s)
			if got := measured(only(t, OwnRecess, s.m)); len(got) != c.want {
				t.Errorf("%s, %s: found %v, want %d", c.name, where, got, c.want)
			}
		}
	}
	if got := text(t, OwnRecess, Builtin(), inserts(3, butLast, 0)); got != "no recess is cut around the open end of L, as it is for 2 of the 3 like it." {
		t.Errorf("got %s", got)
	}
	if got := text(t, OwnRecess, Builtin(), inserts(3, all, 2)); got != "no former stands in the recess of L, as it does for 2 of the 3 like it." {
		t.Errorf("got %s", got)
	}
	buried := func(cut bool) func(*scene) {
		return func(s *scene) {
			h := s.wall("W")
			if cut {
				s.recess(h, 1000, 1000, 40)
			}
			s.sunk(h, "L", 1000, 1000, cut)
		}
	}
	check(t, OwnRecess, Builtin(), "buried", []float64{1}, buried(false))
	check(t, OwnRecess, Builtin(), "in its recess", nil, buried(true))
	check(t, OwnRecess, limitFor(OwnRecess, Term{Ratio, 1}), "limit that nothing misses", nil, buried(false))
	if got := text(t, OwnRecess, Builtin(), buried(false)); got != "the open end of L lies 20 mm inside the concrete, and no recess leads to it." {
		t.Errorf("got %s", got)
	}
	check(t, OwnRecess, Builtin(), "a bolt is not asked", nil, func(s *scene) {
		c := bolt("A", 1000, 1000)
		c.open, c.noEntry = geom.V(1000, 20, 1000), true
		s.add(s.wall("W"), c)
	})
}

// Volumes worked by hand: half a ball, a box and a slanting rod.
func TestShareIn(t *testing.T) {
	wall := geom.NewSolid(boxMesh(geom.V(-500, 0, -500), geom.V(500, 200, 500)))
	rod := func(radius float64, path ...geom.Vec) *model.Item {
		return &model.Item{Bodies: []model.Body{{Rod: &geom.Rod{Path: path, Radius: radius}}}}
	}
	for _, c := range []struct {
		name string
		it   *model.Item
		want float64
	}{
		{"box, a quarter in", &model.Item{Bodies: []model.Body{{Mesh: boxMesh(geom.V(0, -30, 0), geom.V(50, 10, 70))}}}, 0.25},
		{"rod along the face, half in", rod(20, geom.V(-100, 0.001, 0), geom.V(100, 0.001, 0)), 0.5},
		{"rod across the face, a third in", rod(20, geom.V(0, -80, 0), geom.V(0, 40, 0)), 1.0 / 3},
		{"rod with a bend, half in", rod(5, geom.V(0, -100, 0), geom.V(0, 0, 0), geom.V(70, 0, 0), geom.V(70, 100, 0)), 0.5},
	} {
		if got, ok := measure.ShareIn(c.it, wall); !ok || math.Abs(got-c.want) > 0.06 {
			t.Errorf("%s: %v, %v; want %v", c.name, got, ok, c.want)
		}
	}
	if got, ok := measure.ShareIn(&model.Item{}, wall); ok {
		t.Errorf("an item without bodies: %v", got)
	}
}
