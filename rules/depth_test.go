package rules

import (
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// deep is a bolt of a diameter that ends so many mm below the face of a wall.
func deep(kind model.Kind, d, end float64) func(*scene) {
	return func(s *scene) {
		c := bolt("A", 1000, 1000)
		c.kind, c.d, c.length = kind, d, 100+end
		s.add(s.wall("W"), c)
	}
}

func TestEmbedmentDepth(t *testing.T) {
	stating := func(mm float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.d, c.stated = 10, model.Stated{Embedment: mm, From: map[string]string{"embedment": "Pset_Bolt.Embedment"}}
			s.add(s.wall("W"), c)
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"12 diameters", deep(model.Bolt, 12, 157), nil},
		{"1 mm less", deep(model.Bolt, 12, 156), []float64{143}},
		{"stud, 4 diameters", deep(model.Stud, 20, 93), nil},
		{"stud, 1 mm less", deep(model.Stud, 20, 92), []float64{79}},
		{"stud, 50 mm", deep(model.Stud, 10, 63), nil},
		{"stud, 49 mm", deep(model.Stud, 10, 62), []float64{49}},
		{"a sleeve is not asked", deep(model.Sleeve, 20, 20), nil},
		{"as deep as stated", stating(147), nil},
		{"stated to the end of the head, rounded", stating(161), nil},
		{"stated deeper", stating(162), []float64{147}},
	} {
		check(t, EmbedmentDepth, Builtin(), c.name, c.want, c.build)
	}
	got := text(t, EmbedmentDepth, Builtin(), stating(200))
	if want := "A is embedded by 147 mm to the bearing side of its head; 200 mm needed (stated in Pset_Bolt.Embedment)."; got != want {
		t.Errorf("got %s", got)
	}
	got = text(t, EmbedmentDepth, Builtin(), deep(model.Bolt, 12, 156))
	if want := "A is embedded by 143 mm to the bearing side of its head; 144 mm needed (12 diameters of 12 mm)."; got != want {
		t.Errorf("got %s", got)
	}
}

func TestEmbedmentDepthSaysWhereTheLimitComesFrom(t *testing.T) {
	s := newScene(geom.Identity)
	c := bolt("A", 1000, 1000)
	c.stated.Embedment = 500
	s.add(s.wall("W"), c)
	if got := only(t, EmbedmentDepth, s.m)[0]; got.Source != "stated in the model" || got.Instances[0].Governs != "stated" {
		t.Errorf("got source %q, governs %q", got.Source, got.Instances[0].Governs)
	}
}

func TestBackCoverAndThrough(t *testing.T) {
	for _, c := range []struct {
		name                string
		build               func(*scene)
		cover, through, two []float64
	}{
		{"20 mm", deep(model.Bolt, 20, 180), nil, nil, nil},
		{"19 mm", deep(model.Bolt, 20, 181), []float64{19}, nil, nil},
		{"to the far face", deep(model.Stud, 20, 200), []float64{0}, nil, nil},
		{"through", deep(model.Stud, 20, 201), nil, []float64{-1}, nil},
		{"a sleeve is not asked", deep(model.Sleeve, 20, 300), nil, nil, nil},
		{"into another wall", func(s *scene) {
			deep(model.Bolt, 20, 300)(s)
			s.host("IfcWall", "V", boxMesh(geom.V(0, 200, 0), geom.V(3000, 600, 2500)))
		}, nil, nil, []float64{100}},
		{"into an element known by its box", func(s *scene) {
			deep(model.Bolt, 20, 300)(s)
			v := s.host("IfcWall", "V", boxMesh(geom.V(0, 200, 0), geom.V(3000, 600, 2500)))
			v.Solid, v.Body = nil, nil
		}, nil, nil, []float64{100}},
		{"a little into another wall", func(s *scene) {
			deep(model.Bolt, 20, 205)(s)
			s.host("IfcWall", "V", boxMesh(geom.V(0, 200, 0), geom.V(3000, 600, 2500)))
		}, nil, []float64{-5}, nil},
		{"another wall in the same place", func(s *scene) {
			deep(model.Bolt, 20, 180)(s)
			s.wall("V")
		}, nil, nil, nil},
		{"another wall far off", func(s *scene) {
			deep(model.Bolt, 20, 300)(s)
			s.host("IfcWall", "V", boxMesh(geom.V(0, 700, 0), geom.V(3000, 900, 2500)))
		}, nil, []float64{-100}, nil},
	} {
		check(t, BackCover, Builtin(), c.name+": back-cover", c.cover, c.build)
		check(t, Through, Builtin(), c.name+": through", c.through, c.build)
		if c.name != "into an element known by its box" { // boxes do not turn
			check(t, TwoHosts, Builtin(), c.name+": two-hosts", c.two, c.build)
		}
	}
	for _, c := range []struct {
		rule  *Rule
		build func(*scene)
		want  string
	}{
		{BackCover, deep(model.Bolt, 20, 188), "12 mm of concrete behind A; 20 mm needed."},
		{Through, deep(model.Bolt, 20, 215), "A sticks out 15 mm beyond the far face, where the concrete is 200 mm thick."},
		{TwoHosts, func(s *scene) {
			deep(model.Bolt, 20, 300)(s)
			v := s.host("IfcFooting", "F-01", boxMesh(geom.V(0, 200, 0), geom.V(3000, 600, 2500)))
			v.Solid, v.Body = nil, nil
		}, "100 mm of A lie in F-01, not in W that it is cast into."},
	} {
		if got := text(t, c.rule, Builtin(), c.build); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.rule.ID, got, c.want)
		}
	}
}

func TestMemberThickness(t *testing.T) {
	at := func(thick float64) func(*scene) {
		return func(s *scene) {
			s.bolt(s.host("IfcWall", "W", boxMesh(geom.V(0, 0, 0), geom.V(3000, thick, 2500))), "A", 1000, 1000)
		}
	}
	check(t, MemberThickness, Builtin(), "80 mm", nil, at(80))
	check(t, MemberThickness, Builtin(), "79 mm", []float64{79}, at(79))
	if got := text(t, MemberThickness, Builtin(), at(79)); got != "the concrete is 79 mm thick at A; 80 mm needed." {
		t.Errorf("got %s", got)
	}
}

func TestProjection(t *testing.T) {
	out := func(mm, stated float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.open.Y, c.stated.Projection = -mm, stated
			s.add(s.wall("W"), c)
		}
	}
	check(t, Projection, Builtin(), "2 diameters", nil, out(40, 0))
	check(t, Projection, Builtin(), "1 mm less", []float64{39}, out(39, 0))
	check(t, Projection, Builtin(), "sunk", []float64{-5}, out(-5, 0))
	check(t, Projection, Builtin(), "as stated, rounded", nil, out(99, 100))
	check(t, Projection, Builtin(), "less than stated", []float64{98.9}, out(98.9, 100))
	check(t, Projection, Builtin(), "more than stated", nil, out(120, 100))
	if got := text(t, Projection, Builtin(), out(35, 0)); got != "A stands 35 mm out of the concrete; 40 mm out of it needed (2 diameters of 20 mm)." {
		t.Errorf("got %s", got)
	}
	if got := text(t, Projection, Builtin(), out(-5, 0)); got != "the thread of A ends 5 mm below the face of the concrete; 40 mm out of it needed (2 diameters of 20 mm)." {
		t.Errorf("got %s", got)
	}
}
