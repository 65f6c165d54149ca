package rules

import (
	"slices"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// names are the names of the items of all instances, sorted.
func names(found []finding.Finding) []string {
	var out []string
	for _, f := range found {
		for _, in := range f.Instances {
			out = append(out, in.Item.Name)
		}
	}
	slices.Sort(out)
	return out
}

func checkNames(t *testing.T, r *Rule, name string, want []string, build func(s *scene)) {
	t.Helper()
	for where, at := range placements {
		s := newScene(at)
		build(s)
		if got := names(only(t, r, s.m)); !slices.Equal(got, want) {
			t.Errorf("%s, %s: found %v, want %v", name, where, got, want)
		}
	}
}

func TestDuplicate(t *testing.T) {
	apart := func(off, d float64, kind model.Kind) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.bolt(w, "A", 1000, 1000)
			c := bolt("B", 1000, 1000+off)
			c.kind, c.d = kind, d
			s.add(w, c)
		}
	}
	plates := func(off float64) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.plate(w, "A", 1000, 1000, 1200, 1300, 10)
			s.plateAt(w, "B", 1000, 1000, 1200, 1300, off, 10)
		}
	}
	bare := func(off float64) func(*scene) {
		return func(s *scene) {
			apart(off, 20, model.Bolt)(s)
			for _, it := range s.m.Items {
				it.Anchors = nil
			}
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  int
	}{
		{"one place", apart(0, 20, model.Bolt), 1},
		{"1 mm apart", apart(1, 20, model.Bolt), 1},
		{"overlapping by more than half", apart(9.9, 20, model.Bolt), 1},
		{"overlapping by less than half", apart(10.1, 20, model.Bolt), 0},
		{"beside each other", apart(24, 20, model.Bolt), 0},
		{"plates overlapping by more than half their thickness", plates(4.9), 1},
		{"plates overlapping by less", plates(5.1), 0},
		{"bodies without an axis, overlapping by more than half", bare(9.9), 1},
		{"bodies without an axis, overlapping by less", bare(10.1), 0},
		{"other size", apart(0, 24, model.Bolt), 0},
		{"other kind", apart(0, 20, model.Stud), 0},
		{"far apart", apart(200, 20, model.Bolt), 0},
		{"three times", func(s *scene) {
			apart(0, 20, model.Bolt)(s)
			s.bolt(s.m.Hosts[0], "C", 1000, 1000)
		}, 2},
	} {
		for where, at := range placements {
			s := newScene(at)
			c.build(s)
			if got := names(only(t, Duplicate, s.m)); len(got) != c.want {
				t.Errorf("%s, %s: found %v, want %d", c.name, where, got, c.want)
			}
		}
	}
	if got := text(t, Duplicate, Builtin(), apart(0.5, 20, model.Bolt)); got != "B is in the same place as A, of the same kind and size." {
		t.Errorf("got %s", got)
	}
	if got := text(t, Duplicate, Builtin(), apart(6, 20, model.Bolt)); got != "B overlaps A, of the same kind and size, 6 mm from it." {
		t.Errorf("got %s", got)
	}
	got := text(t, Duplicate, Builtin(), func(s *scene) {
		apart(0, 20, model.Bolt)(s)
		s.m.Sources = append(s.m.Sources, model.Source{Name: "b.ifc"})
		s.m.Items[0].Source = 1
	})
	if got != "B is in the same place as A of b.ifc, of the same kind and size." {
		t.Errorf("got %s", got)
	}
}

func TestUnhosted(t *testing.T) {
	loose := func(kind model.Kind, twin bool) func(*scene) {
		return func(s *scene) {
			s.bolt(s.wall("W"), "A", 1000, 1000)
			c := bolt("B", 9000, 1000)
			c.kind = kind
			s.add(nil, c).Twin = twin
		}
	}
	checkNames(t, Unhosted, "bolt", []string{"B"}, loose(model.Bolt, false))
	checkNames(t, Unhosted, "template", nil, loose(model.Template, false))
	checkNames(t, Unhosted, "nut", nil, loose(model.Fitting, true))
	if got := text(t, Unhosted, Builtin(), loose(model.Socket, false)); got != "B lies in no concrete element that was read." {
		t.Errorf("got %s", got)
	}
}

func TestNotChecked(t *testing.T) {
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []string
	}{
		{"all is measured", func(s *scene) { s.bolt(s.wall("W"), "A", 1000, 1000) }, nil},
		{"no entry face", func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.noEntry = true
			s.add(s.wall("W"), c)
		}, []string{"A"}},
		{"no axis", func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.noAnchor = true
			s.add(s.wall("W"), c)
		}, []string{"A"}},
		{"a tube for a lifting pin needs no axis", func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.kind, c.noAnchor = model.Lifter, true
			s.add(s.wall("W"), c).Tube = true
		}, nil},
		{"a sleeve needs no axis", func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.kind, c.noAnchor = model.Sleeve, true
			s.add(s.wall("W"), c)
		}, nil},
		{"no host is told by unhosted", func(s *scene) { s.add(nil, bolt("A", 1000, 1000)) }, nil},
		{"plate in no face", func(s *scene) { s.plate(s.wall("W"), "P", 100, 100, 200, 200, 10).PlateIn = nil }, []string{"P"}},
		{"told by recognition, once", func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.noAnchor = true
			it := s.add(s.wall("W"), c)
			s.m.Unread = []model.Unread{{Ref: it.Ref, Role: "item", Why: "no axis was found"}}
		}, []string{"A"}},
		{"host and element", func(s *scene) {
			s.m.Unread = []model.Unread{
				{Ref: model.Ref{Class: "IfcWall", Name: "V", Instance: 7}, Role: "host", Why: "not closed"},
				{Ref: model.Ref{Class: "IfcPlate", Name: "E", Instance: 9}, Role: "element", Why: "unknown shape"},
			}
		}, []string{"E", "V"}},
	} {
		checkNames(t, NotChecked, c.name, c.want, c.build)
	}
}

func TestNotCheckedGroups(t *testing.T) {
	s := newScene(geom.Identity)
	for i := range 5 {
		s.m.Unread = append(s.m.Unread, model.Unread{Ref: model.Ref{Class: "IfcReinforcingBar", Instance: uint64(100 + i)}, Role: "bar", Why: "no radius"})
	}
	w := model.Ref{Class: "IfcWall", Name: "V", Instance: 7}
	s.m.Unread = append(s.m.Unread,
		model.Unread{Ref: w, Role: "host", Why: "not closed"},
		model.Unread{Ref: w, Role: "host", Why: "an opening is not closed"},
		model.Unread{Ref: model.Ref{Class: "IfcWall", Name: "V", Instance: 8}, Role: "host", Why: "not closed"},
	)
	found := only(t, NotChecked, s.m)
	if len(found) != 3 {
		t.Fatalf("%d findings, want one for the bars and one for each wall", len(found))
	}
	ids := map[string]bool{}
	for _, f := range found {
		ids[f.ID] = true
	}
	if len(ids) != 3 {
		t.Error("two findings have one ID")
	}
	if f := found[0]; f.Host.Name != "" || len(f.Instances) != 5 || f.Message != "IfcReinforcingBar was not checked: no radius. 4 more places." {
		t.Errorf("bars: got %+v", f)
	}
	f := found[1]
	if len(f.Instances) == 1 {
		f = found[2]
	}
	if f.Host.Name != "V" || len(f.Instances) != 2 || f.Instances[0].Kind != "" || f.Message != "V (IfcWall) was not checked: an opening is not closed. One more place." {
		t.Errorf("wall: got %+v", f)
	}
}

func TestStatedRules(t *testing.T) {
	saying := func(kind model.Kind, st model.Stated, material string) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.kind, c.stated = kind, st
			s.add(s.wall("W"), c).Material = material
		}
	}
	for _, c := range []struct {
		rule  *Rule
		name  string
		build func(*scene)
		want  []string
	}{
		{SizeStated, "silent", saying(model.Bolt, model.Stated{}, ""), []string{"A"}},
		{SizeStated, "stated", saying(model.Bolt, model.Stated{Diameter: 20}, ""), nil},
		{SizeStated, "plate", saying(model.Plate, model.Stated{}, ""), nil},
		{FinishStated, "silent", saying(model.Socket, model.Stated{}, ""), []string{"A"}},
		{FinishStated, "stated", saying(model.Socket, model.Stated{Finish: "galvanised"}, ""), nil},
		{FinishStated, "stud", saying(model.Stud, model.Stated{}, ""), nil},
		{GradeStated, "silent", saying(model.Bolt, model.Stated{}, "steel"), []string{"A"}},
		{GradeStated, "stated", saying(model.Bolt, model.Stated{Grade: "8.8"}, ""), nil},
		{GradeStated, "material", saying(model.Bolt, model.Stated{}, "S355"), nil},
		{GradeStated, "socket", saying(model.Socket, model.Stated{}, ""), nil},
	} {
		checkNames(t, c.rule, c.rule.ID+", "+c.name, c.want, c.build)
	}
	both := func(stated string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			for i, f := range []string{"", "", stated} {
				c := bolt("A", 300*float64(i+1), 1000)
				c.stated.Finish = f
				s.add(w, c)
			}
			c := bolt("F", 2000, 1000)
			c.kind = model.Socket
			s.add(w, c)
		}
	}
	for _, c := range []struct {
		stated string
		want   []string // messages
	}{
		{"galvanised", []string{
			"the model does not state the finish of A (M20).",
			"the model does not state the finish of A (M20).",
			"the model does not state the finish of F (M20).",
		}},
		{"", []string{
			"the model does not state the finish of F (M20).",
			"the models state the finish of none of their 3 bolts.",
		}},
	} {
		s := newScene(geom.Identity)
		both(c.stated)(s)
		var got []string
		for _, f := range only(t, FinishStated, s.m) {
			got = append(got, f.Message)
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("one of three bolts %q: got %q", c.stated, got)
		}
	}
	if got := text(t, FinishStated, Builtin(), saying(model.Bolt, model.Stated{}, "")); got != "the model does not state the finish of A (M20)." {
		t.Errorf("got %s", got)
	}
}

func TestMarkUnique(t *testing.T) {
	marked := func(d, length float64, marks ...string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			for i, m := range marks {
				c := bolt(string(rune('A'+i)), 300*float64(i+1), 1000)
				c.mark = m
				if i == len(marks)-1 {
					c.d, c.length = d, length
				}
				s.add(w, c)
			}
		}
	}
	checkNames(t, MarkUnique, "one thing", nil, marked(20, 260, "P1", "P1", "P1"))
	checkNames(t, MarkUnique, "export noise", nil, marked(20+1e-4, 260-1e-4, "P1", "P1", "P1"))
	checkNames(t, MarkUnique, "other length", []string{"C"}, marked(20, 240, "P1", "P1", "P1"))
	checkNames(t, MarkUnique, "other diameter", []string{"C"}, marked(24, 260, "P1", "P1", "P1"))
	checkNames(t, MarkUnique, "other mark", nil, marked(24, 260, "P1", "P1", "P2"))
	checkNames(t, MarkUnique, "no mark", nil, marked(24, 260, "", "", ""))
	if got := text(t, MarkUnique, Builtin(), marked(24, 240, "P1", "P1", "P1")); got != "mark P1 stands here for a bolt M24 of 240 mm, elsewhere for a bolt M20 of 260 mm." {
		t.Errorf("got %s", got)
	}
}
