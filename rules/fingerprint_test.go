package rules

import (
	"fmt"
	"slices"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// pump builds a wall with four bolts, one of them near the left-hand edge, and
// lets change do something to the scene before items are cast in, and after.
func pump(at geom.Affine, before func(*plan), after func(*scene)) *scene {
	p := &plan{name: "WP-03", x: 65, z: 1000, length: 260, wide: 3000}
	if before != nil {
		before(p)
	}
	s := newScene(at)
	w := s.host("IfcWall", p.name, boxMesh(geom.V(0, 0, 0), geom.V(p.wide, 200, 2500)))
	var items []*model.Item
	for _, q := range [][2]float64{{p.x, p.z}, {p.x + 200, p.z}, {p.x, p.z + 200}, {p.x + 200, p.z + 200}} {
		c := bolt("HB1", q[0], q[1])
		c.length, c.kind = p.length, p.kind()
		items = append(items, s.add(w, c))
	}
	if p.extra {
		items = append(items, s.bolt(w, "HB1", p.x+100, p.z+100))
	}
	s.set("HB-1", items...)
	if after != nil {
		after(s)
	}
	return s
}

type plan struct {
	name               string
	x, z, length, wide float64
	stud, extra        bool
}

func (p *plan) kind() model.Kind {
	if p.stud {
		return model.Stud
	}
	return model.Bolt
}

func ids(t *testing.T, r *Rule, s *scene) []string {
	t.Helper()
	var out []string
	for _, f := range onlyWith(t, r, s.m, limitFor(r, Term{MM, 120})) {
		out = append(out, f.ID)
	}
	slices.Sort(out)
	return out
}

func TestFingerprintStaysWhatChanges(t *testing.T) {
	want := ids(t, EdgeDistance, pump(geom.Identity, nil, nil))
	if len(want) != 1 {
		t.Fatalf("%d findings, want 1", len(want))
	}
	keep := map[string]*scene{
		"the bolt is nearer to the edge":   pump(geom.Identity, func(p *plan) { p.x = 60 }, nil),
		"export noise":                     pump(geom.Identity, func(p *plan) { p.x += 0.009 }, nil),
		"all bolts are longer":             pump(geom.Identity, func(p *plan) { p.length = 280 }, nil),
		"a bolt is added inside the set":   pump(geom.Identity, func(p *plan) { p.extra = true }, nil),
		"the wall is longer":               pump(geom.Identity, func(p *plan) { p.wide = 4000 }, nil),
		"GlobalIds and files are new":      pump(geom.Identity, nil, renameAll),
		"the order of reading is reversed": pump(geom.Identity, nil, reverseAll),
		"the set is called something else": pump(geom.Identity, nil, func(s *scene) { s.m.Sets[0].Name = "HB-7" }),
		"an unlike wall is added":          pump(geom.Identity, nil, func(s *scene) { s.wall("WP-04") }),
		"the origin is elsewhere":          pump(geom.Identity, nil, func(s *scene) { s.m.Origin = geom.V(1e6, 2e6, 0) }),
	}
	for where, at := range placements {
		keep["the building is "+where] = pump(at, nil, nil)
	}
	for name, s := range keep {
		if got := ids(t, EdgeDistance, s); !slices.Equal(got, want) {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
	for name, s := range map[string]*scene{
		"the bolts are elsewhere": pump(geom.Identity, func(p *plan) { p.z = 1300 }, nil),
		"the wall is another":     pump(geom.Identity, func(p *plan) { p.name = "WP-04" }, nil),
		"the kind is another":     pump(geom.Identity, func(p *plan) { p.stud = true }, nil),
	} {
		if got := ids(t, EdgeDistance, s); len(got) != 1 || got[0] == want[0] {
			t.Errorf("%s: got %v, which is the old ID or none", name, got)
		}
	}
	if got := ids(t, EmbedmentDepth, pump(geom.Identity, func(p *plan) { p.length = 200 }, nil)); len(got) != 1 || got[0] == want[0] {
		t.Errorf("another rule: got %v", got)
	}
}

func renameAll(s *scene) {
	s.m.Sources[0] = model.Source{Path: "b.ifc", Name: "b.ifc"}
	for i, it := range s.m.Items {
		it.GlobalID, it.Instance = fmt.Sprint("new", 9-i), uint64(9000-i)
	}
	for _, h := range s.m.Hosts {
		h.GlobalID, h.Instance = "new"+h.GlobalID, h.Instance+500
	}
}

func reverseAll(s *scene) {
	slices.Reverse(s.m.Items)
	slices.Reverse(s.m.Hosts)
	for _, set := range s.m.Sets {
		slices.Reverse(set.Items)
		slices.Reverse(set.Anchors)
	}
}

// One drawing cast three times: the findings have IDs of their own, and one
// that is settled does not rename the others.
func TestFingerprintOfTwins(t *testing.T) {
	panels := func(near ...bool) *scene {
		s := newScene(geom.Identity)
		for i, n := range near {
			y := 5000 * float64(i)
			w := s.host("IfcWall", "WP-01", boxMesh(geom.V(0, y, 0), geom.V(3000, y+200, 2500)))
			w.Frame = geom.Identity.Shift(geom.V(0, y, 0))
			c := bolt("HB1", 66, 1000)
			c.open.Y += y
			if !n {
				c.d = 8 // 50 mm are asked for
			}
			s.add(w, c)
		}
		return s
	}
	all := map[string]bool{}
	var order []string
	for _, f := range only(t, EdgeDistance, panels(true, true, true).m) {
		all[f.ID] = true
		order = append(order, f.ID)
	}
	if len(all) != 3 {
		t.Fatalf("%d IDs for three panels: %v", len(all), order)
	}
	reversed := panels(true, true, true)
	reverseAll(reversed)
	for _, f := range only(t, EdgeDistance, reversed.m) {
		if !all[f.ID] {
			t.Errorf("read in another order: new ID %s", f.ID)
		}
	}
	for _, f := range only(t, EdgeDistance, panels(true, false, true).m) {
		if !all[f.ID] {
			t.Errorf("one settled: new ID %s", f.ID)
		}
	}
}

// Hosts that name and mark do not tell apart are told apart by their size.
func TestFingerprintOfNamesakes(t *testing.T) {
	s := newScene(geom.Identity)
	for i, wide := range []float64{3000, 4000} {
		y := 5000 * float64(i)
		w := s.host("IfcWall", "Concrete wall", boxMesh(geom.V(0, y, 0), geom.V(wide, y+200, 2500)))
		w.Frame = geom.Identity.Shift(geom.V(0, y, 0))
		c := bolt("HB1", 66, 1000)
		c.open.Y += y
		s.add(w, c)
	}
	key := func(m *model.Model) []string {
		var out []string
		groups, _ := groupItems(m, hostIDs(m))
		for _, g := range groups {
			if g.twin != 0 {
				t.Errorf("%s is numbered %d", g.key, g.twin)
			}
			out = append(out, g.key)
		}
		return out
	}
	if k := key(s.m); k[0] == k[1] {
		t.Errorf("one key for two walls: %s", k[0])
	}
}

// Of two items in one place the same one is told each time, and its finding has
// the same ID whatever is read first.
func TestFingerprintOfDuplicates(t *testing.T) {
	twice := func() *scene {
		s := newScene(geom.Identity)
		w := s.wall("W")
		s.bolt(w, "HB1", 1000, 1000)
		s.bolt(w, "HB1", 1000, 1000)
		return s
	}
	want := ids(t, Duplicate, twice())
	s := twice()
	reverseAll(s)
	renameAll(s)
	if got := ids(t, Duplicate, s); len(want) != 1 || !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestFingerprintWithoutHost(t *testing.T) {
	loose := func(origin geom.Vec, x float64) []string {
		s := newScene(geom.Identity.Shift(origin.Neg()))
		s.m.Origin = origin
		s.add(nil, bolt("A", x, 1000))
		return ids(t, Unhosted, s)
	}
	want := loose(geom.Vec{}, 1000)
	if got := loose(geom.V(123456, -7891, 50), 1000); !slices.Equal(got, want) {
		t.Errorf("another local origin: got %v, want %v", got, want)
	}
	if got := loose(geom.Vec{}, 1100); slices.Equal(got, want) {
		t.Error("elsewhere: the same ID")
	}
}

func TestFingerprintOfWhatWasNotRead(t *testing.T) {
	of := func(u ...model.Unread) []finding.Finding {
		s := newScene(geom.Identity)
		s.m.Unread = u
		return only(t, NotChecked, s.m)
	}
	u := model.Unread{Ref: model.Ref{Class: "IfcWall", Name: "W", Instance: 5, GlobalID: "a"}, Role: "host", Why: "not closed"}
	v := u
	v.Why, v.Instance, v.GlobalID = "open at an edge", 77, "b"
	if of(u)[0].ID != of(v)[0].ID {
		t.Error("wording, instance and GlobalId change the ID")
	}
	v.Name = "V"
	if of(u)[0].ID == of(v)[0].ID {
		t.Error("two walls have one ID")
	}
}
