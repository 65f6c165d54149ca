package rules

import (
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Twins and formers of no host say nothing about how formers are drawn; exactly
// half of them is no habit.
func TestHabitsOfDrawingFormers(t *testing.T) {
	build := func(uncut, cut int, change func(*model.Item)) func(*scene) {
		return func(s *scene) {
			h := s.wall("W")
			for i := range uncut + cut {
				x := 300 + 250*float64(i)
				if i >= uncut {
					s.recess(h, x, 1000, 40)
				}
				it := s.former(h, "RF", x, 1000)
				if i == uncut+cut-1 && change != nil {
					change(it)
				}
			}
		}
	}
	for _, c := range []struct {
		name     string
		build    func(*scene)
		findings int
	}{
		{"two of three: a habit", build(2, 1, nil), 1},
		{"two of four: each by itself", build(2, 2, nil), 2},
		{"two of three, and a twin", build(2, 2, func(it *model.Item) { it.Twin = true }), 1},
		{"two of three, and one in no host", build(2, 2, func(it *model.Item) { it.Host = nil }), 1},
		{"two of three, and a sleeve", build(2, 2, func(it *model.Item) { it.Kind = model.Sleeve }), 1},
		{"one of one", build(1, 0, nil), 1},
	} {
		s := newScene(geom.Identity)
		c.build(s)
		if got := only(t, OwnRecess, s.m); len(got) != c.findings {
			t.Errorf("%s: %d findings, want %d", c.name, len(got), c.findings)
		}
	}
}

// A former belongs to an anchor when it comes within the anchor's radius, or that
// of its head, of the open end.
func TestFormerAtAnOpenEnd(t *testing.T) {
	host := &model.Host{}
	a := &model.Anchor{Item: &model.Item{Host: host}, Diameter: 20, Entry: &model.Entry{}}
	for _, c := range []struct {
		name       string
		x, head    float64
		want, kind bool
	}{
		{"within the radius", 9.95, 0, true, true}, {"beyond the radius", 10.05, 0, false, true},
		{"within the head", 15.95, 32, true, true}, {"beyond the head", 16.05, 32, false, true}, {"no former", 9.95, 0, false, false},
	} {
		o := &model.Item{Kind: model.Sleeve, Box: geom.BoxOf(geom.V(c.x, -1, -1), geom.V(90, 1, 1))}
		if c.kind {
			o.Kind = model.Former
		}
		host.Items, a.HeadSize = []*model.Item{o}, c.head
		if got := hasFormer(a); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// Exactly half of the recesses with a former in them are no habit.
func TestHalfOfTheRecessesHaveAFormer(t *testing.T) {
	with := func(formers, recesses int) func(*scene) {
		return func(s *scene) {
			h := s.wall("W")
			for i := range recesses {
				x := 400 + 500*float64(i)
				s.recess(h, x, 1000, 40)
				s.sunk(h, "L", x, 1000, true)
				if i < formers {
					s.former(h, "RF", x, 1000)
				}
			}
		}
	}
	check(t, OwnRecess, Builtin(), "two of four", nil, with(2, 4))
	check(t, OwnRecess, Builtin(), "three of five", []float64{1, 1}, with(3, 5))
}

// An open end that lies deeper than 200 mm in the concrete is a mistake of another
// sort than a recess that was left out.
func TestHowDeepAnEndIsBuried(t *testing.T) {
	deep := func(y float64) func(*scene) {
		return func(s *scene) {
			h := s.host("IfcFooting", "F", boxMesh(geom.V(0, 0, 0), geom.V(2000, 1000, 1000)))
			c := lifter("L", geom.V(1000, y, 500), geom.V(0, 1, 0))
			c.noEntry = true
			s.add(h, c)
		}
	}
	check(t, OwnRecess, Builtin(), "within 200 mm", []float64{1}, deep(199.9))
	check(t, OwnRecess, Builtin(), "deeper", nil, deep(200.1))
}
