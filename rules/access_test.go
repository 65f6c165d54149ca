package rules

import (
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// socket is an M16 socket of 100 mm at (x, z), flush with the front of a wall.
func socket(name string, x, z float64) spec {
	return spec{kind: model.Socket, name: name, open: geom.V(x, 0, z), dir: geom.V(0, 1, 0), d: 16, length: 100}
}

// facing is a wall with one item in its front face and another wall whose near
// face is so far before it.
func facing(c spec, dist float64) func(*scene) {
	return func(s *scene) {
		s.add(s.wall("W"), c)
		s.host("IfcWall", "V", boxMesh(geom.V(0, -dist-200, 0), geom.V(3000, -dist, 2500)))
	}
}

func TestAccess(t *testing.T) {
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"nothing near", func(s *scene) { s.add(s.wall("W"), socket("F", 1000, 1000)) }, nil},
		{"socket, 100 mm to a wall", facing(socket("F", 1000, 1000), 100), nil},
		{"socket, 99 mm to a wall", facing(socket("F", 1000, 1000), 99), []float64{99}},
		{"socket with a wall against it", facing(socket("F", 1000, 1000), 0), []float64{0}},
		{"bolt, 100 mm before its end", facing(bolt("A", 1000, 1000), 200), nil},
		{"bolt, 99 mm before its end", facing(bolt("A", 1000, 1000), 199), []float64{99}},
		{"a bolt that stands in the other wall is told by two-hosts", facing(bolt("A", 1000, 1000), 50), nil},
		{"a lifter is not asked", facing(lifter("L", geom.V(1000, 0, 1000), geom.V(0, 1, 0)), 50), nil},
		{"other wall beside the way", func(s *scene) {
			s.add(s.wall("W"), socket("F", 1000, 1000))
			s.host("IfcWall", "V", boxMesh(geom.V(1017, -300, 0), geom.V(3000, -60, 2500)))
		}, nil},
		{"other wall half in the way", func(s *scene) {
			s.add(s.wall("W"), socket("F", 1000, 1000))
			s.host("IfcWall", "V", boxMesh(geom.V(1015, -300, 0), geom.V(3000, -60, 2500)))
		}, []float64{60}},
		{"a bolt of another set across the way", func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000))
			s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(900, -50, 1000), dir: geom.V(1, 0, 0), d: 20, length: 300})
		}, []float64{40}},
		{"a bolt of its own set across the way", func(s *scene) {
			w := s.wall("W")
			s.set("T", s.add(w, socket("F", 1000, 1000)), s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(900, -50, 1000), dir: geom.V(1, 0, 0), d: 20, length: 300}))
		}, nil},
		{"a bolt on its axis", func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000))
			s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(1000, -90, 1000), dir: geom.V(0, 1, 0), d: 16, length: 120})
		}, nil},
		{"a template in front", func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000))
			s.plateAt(w, "T", 900, 900, 1100, 1100, -20, 10).Kind = model.Template
		}, nil},
	} {
		check(t, Access, Builtin(), c.name, c.want, c.build)
	}
	s := newScene(geom.Identity)
	facing(socket("F", 1000, 1000), 60)(s)
	s.m.Hosts[1].Solid, s.m.Hosts[1].Body = nil, nil
	if got := measured(only(t, Access, s.m)); !same(got, []float64{60}) {
		t.Errorf("an element of which nothing but the box is known: measured %v", got)
	}
	check(t, Access, limitFor(Access, Term{Diameters, 4}), "4 diameters of 16 mm", []float64{60}, facing(socket("F", 1000, 1000), 60))
	check(t, Access, limitFor(Access, Term{Diameters, 3}), "3 diameters of 16 mm", nil, facing(socket("F", 1000, 1000), 60))
}

// The nib of a corbel is as much in the way as another element.
func TestAccessInItsOwnElement(t *testing.T) {
	nib := func(dist float64) func(*scene) {
		return func(s *scene) {
			whole := boxMesh(geom.V(0, -500, 0), geom.V(3000, 200, 2500)).Transform(s.at)
			gap := boxMesh(geom.V(-10, -dist, -10), geom.V(3010, 0, 2510)).Transform(s.at)
			h := s.wall("W")
			h.Body, h.Solid, h.Box = whole, geom.NewSolid(whole, gap), whole.Box()
			h.Voids = []*model.Void{{Mesh: gap, Box: gap.Box()}}
			s.add(h, socket("F", 1000, 1000))
		}
	}
	check(t, Access, Builtin(), "100 mm", nil, nib(100))
	check(t, Access, Builtin(), "80 mm", []float64{80}, nib(80))
	if got := text(t, Access, Builtin(), nib(80)); got != "80 mm clear before the open end of F, to the concrete of W itself; 100 mm needed." {
		t.Errorf("got %s", got)
	}
}

// Joints are where sockets connect elements: one note for two elements.
func TestAccessAcrossAJoint(t *testing.T) {
	build := func(dist float64) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000))
			s.add(w, socket("F", 1400, 1000))
			s.host("IfcSlab", "S", boxMesh(geom.V(0, -dist-2000, 900), geom.V(3000, -dist, 1100)))
		}
	}
	for where, at := range placements {
		for _, c := range []struct {
			dist     float64
			findings int
			priority string
		}{{0, 1, "note"}, {30, 1, "note"}, {31, 2, "review"}} {
			s := newScene(at)
			build(c.dist)(s)
			found := only(t, Access, s.m)
			if len(found) != c.findings || found[0].Priority.String() != c.priority || len(measured(found)) != 2 {
				t.Errorf("%s, %v mm: got %+v", where, c.dist, found)
			}
		}
	}
	if got := text(t, Access, Builtin(), build(20)); got != "2 sockets of W open into an element that lies against them: what is screwed in has to be in place before the two meet." {
		t.Errorf("got %s", got)
	}
	if got := text(t, Access, Builtin(), facing(socket("F", 1000, 1000), 10)); got != "a socket of W opens into an element that lies against it: what is screwed into it has to be in place before the two meet." {
		t.Errorf("got %s", got)
	}
	if got := text(t, Access, Builtin(), facing(socket("F", 1000, 1000), 60)); got != "60 mm clear before the open end of F, to V; 100 mm needed." {
		t.Errorf("got %s", got)
	}
}
