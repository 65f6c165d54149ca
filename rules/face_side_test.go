package rules

import (
	"fmt"
	"slices"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// says makes a property list of pairs of names and values.
func says(pairs ...string) model.Property {
	return func(name string) (string, bool) {
		i := slices.Index(pairs, name)
		return fmt.Sprint(append(pairs, "")[i+1]), i >= 0 && i%2 == 0
	}
}

// backBolt is the bolt of bolt, in the back face of a wall.
func backBolt(name string, x, z float64) spec {
	c := bolt(name, x, z)
	c.open, c.dir = geom.V(x, 300, z), geom.V(0, -1, 0)
	return c
}

// The front face of the wall, which bolts stand out of by 100 mm, looks to -Y of
// its placement.
func TestFaceSideOutOfTheFormFace(t *testing.T) {
	wall := func(out float64, kind model.Kind, stated ...string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			w.Property = says(stated...)
			c := bolt("A", 1000, 1000)
			c.kind, c.open.Y = kind, -out
			s.add(w, c)
		}
	}
	checkAll(t, FaceSide, []sceneCase{
		{"form face", Builtin(), wall(100, model.Bolt, "FormFace", "-Y"), []float64{100}},
		{"the other one up", Builtin(), wall(100, model.Bolt, "FaceUp", " +y "), []float64{100}},
		{"face up", Builtin(), wall(100, model.Bolt, "FaceUp", "-Y"), nil},
		{"the other one on the form", Builtin(), wall(100, model.Bolt, "FormFace", "Y"), nil},
		{"6 mm", Builtin(), wall(6, model.Stud, "FormFace", "-Y"), nil},
		{"6.5 mm", Builtin(), wall(6.5, model.Stud, "FormFace", "-Y"), []float64{6.5}},
		{"lifter", Builtin(), wall(20, model.Lifter, "FormFace", "-Y"), []float64{20}},
		{"a socket is told by flush", Builtin(), wall(20, model.Socket, "FormFace", "-Y"), nil},
		{"half an inch", limitFor(FaceSide, Term{Inch, 0.5}), wall(12.6, model.Bolt, "FormFace", "-Y"), nil},
		{"over half an inch", limitFor(FaceSide, Term{Inch, 0.5}), wall(12.8, model.Bolt, "FormFace", "-Y"), []float64{12.8}},
	})
	got := text(t, FaceSide, Builtin(), wall(100, model.Bolt, "FaceUp", "+Y"))
	if got != "A stands 100 mm out of the form face of W; at most 6 mm (the model states FaceUp = +Y)." {
		t.Errorf("got %s", got)
	}
	both := wall(100, model.Bolt, "FaceUp", "what", "FormFace", "-Y")
	check(t, FaceSide, Builtin(), "the one that is understood counts", []float64{100}, both)
}

// The same wall stands, so that a statement in the words of the building holds;
// which side is the outside is seen by what stands behind it.
func TestFaceSideInWordsOfTheBuilding(t *testing.T) {
	slab := func(face string) func(*scene) {
		return func(s *scene) {
			h := s.host("IfcSlab", "S", boxMesh(geom.V(0, 0, 0), geom.V(3000, 2500, 200)))
			h.Property = says("FormFace", face)
			s.add(h, spec{kind: model.Bolt, name: "A", open: geom.V(1000, 1000, 300), dir: geom.V(0, 0, -1), d: 20, length: 260, head: 13})
		}
	}
	outside := func(face string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			w.Property = says("FormFace", face)
			s.bolt(w, "A", 1000, 1000)
			s.host("IfcWall", "behind", boxMesh(geom.V(0, 4000, 0), geom.V(3000, 4200, 2500)))
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  int
	}{{"top", slab("top"), 1}, {"soffit", slab("soffit"), 0}, {"outside", outside("outside"), 1}, {"inside", outside("Inside"), 0}} {
		s := newScene(geom.Identity)
		c.build(s)
		if got := only(t, FaceSide, s.m); len(got) != c.want {
			t.Errorf("%s: %d findings, want %d", c.name, len(got), c.want)
		}
	}
}

func TestFaceSideOfSets(t *testing.T) {
	set := func(change func(*scene, *model.Item), back ...bool) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			w.Property = says("FaceUp", "-Y")
			var items []*model.Item
			for i, b := range back {
				c := bolt(string(rune('A'+i)), 1000+200*float64(i), 1000)
				c.kind = model.Socket
				if b {
					c = backBolt(c.name, c.open.X, c.open.Z)
					c.kind = model.Socket
				}
				items = append(items, s.add(w, c))
			}
			s.set("HB-1", items...)
			if change != nil {
				change(s, items[len(items)-1])
			}
		}
	}
	checkAll(t, FaceSide, []sceneCase{
		{"one face", Builtin(), set(nil, false, false, false, false), nil},
		{"one on the back", Builtin(), set(nil, false, false, false, true), []float64{200}},
		{"one on the front", Builtin(), set(nil, false, true, true), []float64{200}},
		{"halves", Builtin(), set(nil, false, true), []float64{200}},
		{"as thick as the limit", limitFor(FaceSide, Term{MM, 200}), set(nil, false, false, true), nil},
		{"thinner than the limit", limitFor(FaceSide, Term{MM, 199}), set(nil, false, false, true), []float64{200}},
		{"another kind", Builtin(), set(func(_ *scene, it *model.Item) { it.Kind = model.Stud }, false, false, true), []float64{100}}, // out of the form face
		{"another size", Builtin(), set(func(_ *scene, it *model.Item) { it.Size = "M12" }, false, false, true), nil},
		{"all items of an element", Builtin(), set(func(s *scene, _ *model.Item) {
			for _, it := range s.m.Items {
				it.Assembly = "W"
			}
			s.m.Hosts[0].Assembly = "W"
		}, false, false, true), nil},
	})
	got := text(t, FaceSide, Builtin(), set(nil, false, false, true))
	if got != "C is in the face to model +Y of W; 2 of the 3 of its set are in the face to model -Y, 200 mm away." {
		t.Errorf("got %s", got)
	}
}

// Sockets around a column are one set on four faces, and that is right; of four
// on one face and one beside them the one is told.
func TestFaceSideAroundAColumn(t *testing.T) {
	column := func(more int) func(*scene) {
		return func(s *scene) {
			h := s.host("IfcColumn", "C", boxMesh(geom.V(-200, -200, 0), geom.V(200, 200, 3000)))
			h.Property = says("FaceUp", "+Y")
			var items []*model.Item
			for i, d := range []geom.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				items = append(items, s.add(h, spec{kind: model.Socket, name: fmt.Sprint("S", i), open: d.Mul(200).Add(geom.V(0, 0, 1500)), dir: d.Neg(), d: 20, length: 100}))
			}
			for i := range more {
				items = append(items, s.add(h, spec{kind: model.Socket, name: fmt.Sprint("T", i), open: geom.V(200, 0, 500+100*float64(i)), dir: geom.V(-1, 0, 0), d: 20, length: 100}))
			}
			s.set("S-1", items...)
		}
	}
	check(t, FaceSide, Builtin(), "around", nil, column(0))
	check(t, FaceSide, Builtin(), "most on one face", []float64{200, 200, 400}, column(4))
}

func TestFaceSideOfWhatItemsState(t *testing.T) {
	item := func(face string, host ...string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			w.Property = says(host...)
			c := bolt("A", 1000, 1000)
			c.kind, c.open.Y = model.Socket, 0
			s.add(w, c).Property = says("CastFace", face)
		}
	}
	checkAll(t, FaceSide, []sceneCase{
		{"up", Builtin(), item("up", "FaceUp", "-Y"), nil},
		{"up, and is on the form", Builtin(), item("Up", "FormFace", "-Y"), []float64{200}},
		{"form", Builtin(), item("form", "FormFace", "-Y"), nil},
		{"form, and is up", Builtin(), item("form", "FaceUp", "-Y"), []float64{200}},
		{"side, and is up", Builtin(), item("side", "FaceUp", "-Y"), []float64{1000}},
		{"the face by its axis", Builtin(), item("-Y"), nil},
		{"another face by its axis", Builtin(), item("+Y"), []float64{200}},
		{"an end by its axis", Builtin(), item("+X"), []float64{2000}},
		{"as far as the limit", limitFor(FaceSide, Term{MM, 200}), item("+Y"), nil},
	})
	if got := text(t, FaceSide, Builtin(), item("+Y")); got != "A is in the face to model -Y of W; the model states CastFace = +Y, 200 mm away." {
		t.Errorf("got %s", got)
	}
}

// What is stated and not understood is told, and is no finding of this rule.
func TestFaceSideNotUnderstood(t *testing.T) {
	for _, c := range []struct{ host, item, want string }{
		{"", "up", `A: face-side: CastFace = "up": the model does not state which face of the host is up in the form.`},
		{"-Y", "underneath", `A: face-side: CastFace = "underneath": want up, form, side or a side of the host that is known.`},
		{"-Y", "outside", `A: face-side: CastFace = "outside": want up, form, side or a side of the host that is known.`},
		{"front\x1b[31m", "", `A: face-side: FaceUp = "front\x1b[31m" of the model is not understood; state a side of W as its rule page says.`},
	} {
		s := newScene(geom.Identity)
		w := s.wall("W")
		sock := bolt("A", 1000, 1000)
		sock.kind, sock.open.Y = model.Socket, 0
		it := s.add(w, sock)
		if c.host != "" {
			w.Property = says("FaceUp", c.host)
		}
		if c.item != "" {
			it.Property = says("CastFace", c.item)
		}
		found, err := run([]*Rule{FaceSide, NotChecked}, s.m, Builtin(), 1)
		if err != nil || len(found) != 1 || found[0].Rule != finding.NotChecked || found[0].Message != c.want {
			t.Errorf("%q, %q: got %+v, %v", c.host, c.item, found, err)
		}
	}
}

// Where no cast face is stated, that is told once for each model.
func TestFaceSideUnknownCastFace(t *testing.T) {
	build := func(s *scene) {
		a, b := s.wall("V"), s.wall("W")
		s.bolt(a, "A", 1000, 1000)
		s.bolt(a, "B", 1500, 1000)
		s.add(b, backBolt("C", 1000, 1000))
	}
	check(t, FaceSide, Builtin(), "one note, which compares nothing", []float64{0, 0, 0}, build)
	f := onlyScene(t, FaceSide, Builtin(), build)
	if f.Priority != finding.Note || f.Instances[0].Unit != "" || f.Source != "" || f.Message != "a.ifc states neither FaceUp nor FormFace for 2 hosts with items standing out (3 items): whether they are in the form face is not known." {
		t.Errorf("got %v: %s", f.Priority, f.Message)
	}
	if got := f.Instances[0].Text; got != "A stands 100 mm out of the face to model -Y of V; whether that face is on the form is not stated" {
		t.Errorf("got %s", got)
	}
	two := func(s *scene) {
		build(s)
		s.m.Sources = append(s.m.Sources, model.Source{Path: "b.ifc", Name: "b.ifc"})
		s.m.Hosts[1].Source, s.m.Items[2].Source = 1, 1
	}
	s := newScene(geom.Identity)
	two(s)
	found := only(t, FaceSide, s.m)
	if len(found) != 2 || found[0].ID == found[1].ID {
		t.Errorf("two models: got %+v", found)
	}
	check(t, FaceSide, Builtin(), "nothing stands out", nil, func(s *scene) {
		c := bolt("A", 1000, 1000)
		c.open.Y = 0
		s.add(s.wall("W"), c)
	})
	off := true
	check(t, FaceSide, &Set{Rules: map[string]Change{FaceSide.ID: {Off: &off}}}, "off", nil, build)
}
