package rules

import (
	"math"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// What is part of the same assembly is not in the way, what is of another one is.
func TestAccessAndAssemblies(t *testing.T) {
	across := func(own, other string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000)).Assembly = own
			s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(900, -50, 1000), dir: geom.V(1, 0, 0), d: 20, length: 300}).Assembly = other
		}
	}
	check(t, Access, Builtin(), "one assembly", nil, across("g", "g"))
	check(t, Access, Builtin(), "two assemblies", []float64{40}, across("g", "h"))
	check(t, Access, Builtin(), "no assembly", []float64{40}, across("", ""))
}

// What is nearest before an open end is told, in any order of reading; of two
// things equally near the one that comes first.
func TestNearestThingBeforeAnOpenEnd(t *testing.T) {
	across := func(name string, y float64) spec {
		return spec{kind: model.Bolt, name: name, open: geom.V(900, y, 1000), dir: geom.V(1, 0, 0), d: 20, length: 300}
	}
	for _, c := range []struct {
		name   string
		first  spec
		second spec
		want   float64
		of     string
	}{
		{"the first is nearer", across("X", -50), across("Y", -75), 40, "X"},
		{"the second is nearer", across("X", -75), across("Y", -50), 40, "Y"},
		{"equally near", across("Y", -50), across("X", -50), 40, "X"},
	} {
		for where, at := range placements {
			s := newScene(at)
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000))
			s.add(w, c.first)
			s.add(w, c.second)
			got := only(t, Access, s.m)
			if len(got) != 1 || !same(measured(got), []float64{c.want}) || got[0].Instances[0].Others[0].Name != c.of {
				t.Errorf("%s, %s: %+v", c.name, where, got)
			}
		}
	}
}

// Only what is screwed into a socket goes through a joint: a bolt that ends 20 mm
// before another element cannot be reached, and neither can a socket before its own.
func TestOnlySocketsOpenIntoJoints(t *testing.T) {
	f := onlyScene(t, Access, Builtin(), facing(bolt("A", 1000, 1000), 120))
	if f.Priority.String() != "review" || f.Instances[0].Measured != 20 && !same([]float64{f.Instances[0].Measured}, []float64{20}) {
		t.Errorf("a bolt: %+v", f)
	}
	f = onlyScene(t, Access, Builtin(), facing(socket("F", 1000, 1000), 20))
	if f.Priority.String() != "note" {
		t.Errorf("a socket: %+v", f)
	}
	f = onlyScene(t, Access, Builtin(), func(s *scene) {
		w := s.wall("W")
		s.add(w, socket("F", 1000, 1000))
		s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(900, -30, 1000), dir: geom.V(1, 0, 0), d: 20, length: 300})
	})
	if f.Priority.String() != "review" {
		t.Errorf("a socket before a bolt: %+v", f)
	}
}

// A bolt that hardly stands out is no socket: what lies against its element is in
// the way of its nut.
func TestBoltsOpenIntoNoJoint(t *testing.T) {
	c := bolt("A", 1000, 1000)
	c.open.Y, c.length = -5, 165
	if f := onlyScene(t, Access, Builtin(), facing(c, 25)); f.Priority.String() != "review" || !same(measured([]finding.Finding{f}), []float64{20}) {
		t.Errorf("got %+v", f)
	}
}

// What lies before the open end or behind the deepest point does not count, and
// neither does what is in the own host.
func TestLengthOutsideOfAHost(t *testing.T) {
	i := func(ft ...float64) (out []geom.Interval) {
		for k := 0; k < len(ft); k += 2 {
			out = append(out, geom.Interval{From: ft[k], To: ft[k+1]})
		}
		return out
	}
	for _, c := range []struct {
		name   string
		in, of []geom.Interval
		want   float64
	}{
		{"before the open end", i(-50, -10), nil, 0}, {"behind the end", i(120, 150), nil, 0}, {"both, and 20 mm between", i(-50, -10, 10, 30, 120, 150), nil, 20},
		{"over both ends", i(-50, 150), nil, 100}, {"half of it in its own", i(10, 50), i(30, 90), 20}, {"between two pieces of its own", i(0, 100), i(0, 40, 70, 100), 30},
	} {
		if got := lengthOutside(c.in, c.of, 100); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// What is there for others, or gone when the concrete has set, is in nobody's way;
// it lies beside the axis here, so that nothing else lets it pass.
func TestWhatYields(t *testing.T) {
	build := func(kind model.Kind, twin bool) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000))
			it := s.plateAt(w, "T", 990, 900, 1300, 1100, -60, 10)
			it.Kind, it.Twin = kind, twin
		}
	}
	check(t, Access, Builtin(), "a plate", []float64{50}, build(model.Plate, false))
	for _, k := range []model.Kind{model.Template, model.Fitting, model.Former} {
		check(t, Access, Builtin(), k.String(), nil, build(k, false))
	}
	check(t, Access, Builtin(), "a twin", nil, build(model.Plate, true))
}
