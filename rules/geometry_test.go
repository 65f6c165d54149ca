package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

func TestPlateEdge(t *testing.T) {
	at := func(x float64) func(*scene) {
		return func(s *scene) { s.plate(s.wall("W"), "CP1", x, 1000, x+200, 1200, 10) }
	}
	check(t, PlateEdge, Builtin(), "inside", nil, at(10))
	check(t, PlateEdge, Builtin(), "to the edge", nil, at(0))
	check(t, PlateEdge, Builtin(), "1 mm beyond", []float64{-1}, at(-1))
	check(t, PlateEdge, Builtin(), "over an opening", []float64{-30}, func(s *scene) {
		s.plate(s.wallWithOpening("W"), "CP1", 830, 1000, 1030, 1200, 10)
	})
	if got := text(t, PlateEdge, Builtin(), at(-20)); got != "CP1 reaches 20 mm beyond the left-hand edge." {
		t.Errorf("got %s", got)
	}
	got := text(t, PlateEdge, Builtin(), func(s *scene) { s.plate(s.wallWithOpening("W"), "CP1", 830, 1000, 1030, 1200, 10) })
	if got != "CP1 reaches 30 mm beyond the edge of opening OP-1 to its right." {
		t.Errorf("got %s", got)
	}
}

func TestFlush(t *testing.T) {
	plate := func(y float64) func(*scene) {
		return func(s *scene) { s.plateAt(s.wall("W"), "CP1", 1000, 1000, 1200, 1200, y, 10) }
	}
	socket := func(y float64) func(*scene) {
		return func(s *scene) {
			c := bolt("F1", 1000, 1000)
			c.kind, c.open.Y, c.length = model.Socket, y, 100
			s.add(s.wall("W"), c)
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"plate flush", plate(0), nil},
		{"plate 6 mm below", plate(6), nil},
		{"plate 7 mm below", plate(7), []float64{7}},
		{"plate 7 mm out", plate(-7), []float64{7}},
		{"socket 6 mm out", socket(-6), nil},
		{"socket 7 mm out", socket(-7), []float64{7}},
		{"socket 7 mm below", socket(7), []float64{7}},
		{"a bolt is not asked", func(s *scene) { s.bolt(s.wall("W"), "A", 1000, 1000) }, nil},
	} {
		check(t, Flush, Builtin(), c.name, c.want, c.build)
	}
	if got := text(t, Flush, Builtin(), plate(8)); got != "CP1 is 8 mm below the face of the concrete; at most 6 mm." {
		t.Errorf("got %s", got)
	}
	if got := text(t, Flush, Builtin(), socket(-8)); got != "F1 is 8 mm out of the face of the concrete; at most 6 mm." {
		t.Errorf("got %s", got)
	}
}

// A socket in a recess of its own is deeper on purpose.
func TestFlushInOwnRecess(t *testing.T) {
	s := newScene(geom.Identity)
	c := bolt("F1", 1000, 1000)
	c.kind, c.open.Y, c.length = model.Socket, 9, 100
	it := s.add(s.wall("W"), c)
	if got := measured(only(t, Flush, s.m)); !same(got, []float64{9}) {
		t.Fatalf("9 mm below the face: measured %v", got)
	}
	it.Anchors[0].Entry.Dist = -25
	if got := measured(only(t, Flush, s.m)); got != nil {
		t.Errorf("25 mm below the face: measured %v", got)
	}
}

func TestSquareToFace(t *testing.T) {
	tilted := func(kind model.Kind, deg float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.kind, c.dir = kind, geom.V(0, math.Cos(deg*math.Pi/180), math.Sin(deg*math.Pi/180))
			s.add(s.wall("W"), c)
		}
	}
	check(t, SquareToFace, Builtin(), "3 degrees", nil, tilted(model.Bolt, 3))
	check(t, SquareToFace, Builtin(), "3.1 degrees", []float64{3.1}, tilted(model.Bolt, 3.1))
	check(t, SquareToFace, Builtin(), "lifter", nil, tilted(model.Lifter, 30))
	if got := text(t, SquareToFace, Builtin(), tilted(model.Bolt, 5)); got != "A stands 5° off a right angle to the face; at most 3°." {
		t.Errorf("got %s", got)
	}
}

// On a round column every facet is off the true surface by up to half a turn.
func TestSquareToFaceOnFacets(t *testing.T) {
	const sides, r = 24, 300.0
	m := &geom.Mesh{}
	for _, z := range [2]float64{0, 3000} {
		for i := range sides {
			w := 2 * math.Pi * float64(i) / sides
			m.Verts = append(m.Verts, geom.V(r*math.Cos(w), r*math.Sin(w), z))
		}
	}
	for i := range int32(sides) {
		j := (i + 1) % sides
		m.Tris = append(m.Tris, [3]int32{i, j, sides + j}, [3]int32{i, sides + j, sides + i})
		if i > 0 && j > 0 {
			m.Tris = append(m.Tris, [3]int32{0, j, i}, [3]int32{sides, sides + i, sides + j})
		}
	}
	for _, c := range []struct {
		off  float64 // degrees from a radius
		want int
	}{{0, 0}, {30, 1}} {
		s := newScene(geom.Identity)
		h := s.host("IfcColumn", "C", m)
		w := 7 * math.Pi / 180 // near the side of a facet
		open := geom.V(math.Cos(w), math.Sin(w), 0).Mul(400).Add(geom.V(0, 0, 1500))
		v := w + c.off*math.Pi/180
		s.add(h, spec{kind: model.Bolt, name: "A", open: open, dir: geom.V(-math.Cos(v), -math.Sin(v), 0), d: 20, length: 250})
		if got := only(t, SquareToFace, s.m); len(got) != c.want {
			t.Errorf("%v degrees off a radius: %d findings, want %d", c.off, len(got), c.want)
		}
	}
}

func TestHookDirection(t *testing.T) {
	// An L-bolt in the top face of the wall, so many mm from the front face, its
	// hook with its tip 80 mm from the axis.
	hooked := func(y float64, dir geom.Vec) func(*scene) {
		return func(s *scene) {
			foot := geom.V(1500, y, 2200)
			s.add(s.wall("W"), spec{
				kind: model.Bolt, name: "HB1", open: geom.V(1500, y, 2600), dir: geom.V(0, 0, -1), d: 20, length: 400,
				hook: []geom.Vec{foot, foot.Add(dir.Mul(80))},
			})
		}
	}
	forward, along := geom.V(0, -1, 0), geom.V(1, 0, 0)
	check(t, HookDirection, Builtin(), "20 mm", nil, hooked(100, forward))
	check(t, HookDirection, Builtin(), "19 mm", []float64{19}, hooked(99, forward))
	check(t, HookDirection, Builtin(), "out", []float64{-5}, hooked(75, forward))
	check(t, HookDirection, Builtin(), "inwards", nil, hooked(75, forward.Neg()))
	check(t, HookDirection, Builtin(), "along", nil, hooked(75, along))
	check(t, HookDirection, Builtin(), "no hook", nil, func(s *scene) { s.bolt(s.wall("W"), "A", 1500, 1000) })
	if got := text(t, HookDirection, Builtin(), hooked(92, forward)); got != "the hook of HB1 has 12 mm of concrete in front of it; 20 mm of concrete needed." {
		t.Errorf("got %s", got)
	}
	if got := text(t, HookDirection, Builtin(), hooked(75, forward)); got != "the hook of HB1 sticks out 5 mm; 20 mm of concrete needed." {
		t.Errorf("got %s", got)
	}
	// A hole that is cut for the bolt itself is no lack of concrete.
	s := newScene(geom.Identity)
	hooked(90, forward)(s)
	a := s.m.Items[0].Anchors[0]
	a.Entry.Solid, a.Entry.Clear = geom.NewSolid(ringMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500), geom.V(1480, 0, 2180), geom.V(1520, 0, 2220))), 20
	found, err := run([]*Rule{HookDirection, NotChecked}, s.m, Builtin(), 1)
	if err != nil || len(found) != 1 || found[0].Rule != "not-checked" {
		t.Errorf("in a hole through and through: got %+v, %v", found, err)
	}
	// A J-bolt turns back up: the back of its bend is round.
	check(t, HookDirection, Builtin(), "J", []float64{10}, func(s *scene) {
		s.add(s.wall("W"), spec{
			kind: model.Bolt, name: "HB1", open: geom.V(1500, 100, 2600), dir: geom.V(0, 0, -1), d: 20, length: 400,
			hook: []geom.Vec{{X: 1500, Y: 100, Z: 2200}, {X: 1500, Y: 60, Z: 2160}, {X: 1500, Y: 20, Z: 2200}, {X: 1500, Y: 25, Z: 2260}},
		})
	})
}

func TestSideFace(t *testing.T) {
	at := func(x, head float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", x, 1000)
			c.head = head
			s.add(s.wall("W"), c)
		}
	}
	check(t, SideFace, Builtin(), "2.5", nil, at(58.8, 13)) // 147 mm deep
	check(t, SideFace, Builtin(), "2.53", []float64{147.0 / 58}, at(58, 13))
	check(t, SideFace, Builtin(), "no head", nil, at(30, 0))
	got := text(t, SideFace, Builtin(), at(49, 13))
	if got != "A is 147 mm deep and 49 mm from the left-hand edge: 3 times as deep as it is far, at most 2.5 without a check of blow-out." {
		t.Errorf("got %s", got)
	}
}

func TestStandardSizeAndMismatch(t *testing.T) {
	of := func(d, stated float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.d, c.stated = d, model.Stated{Diameter: stated, From: map[string]string{"diameter": "name"}}
			s.add(s.wall("W"), c)
		}
	}
	for _, d := range []float64{20, 20.5, 25.4, 19.05, 28, 31.75} {
		check(t, StandardSize, Builtin(), "usual", nil, of(d, 0))
	}
	for _, d := range []float64{15, 20.6, 17, 200} {
		check(t, StandardSize, Builtin(), "odd", []float64{d}, of(d, 0))
	}
	if got := text(t, StandardSize, Builtin(), of(21, 0)); got != "A is 21 mm thick, which is no diameter that bolts, studs or bars come in; the nearest is 20 mm." {
		t.Errorf("got %s", got)
	}
	check(t, SizeMismatch, Builtin(), "nothing stated", nil, of(20, 0))
	check(t, SizeMismatch, Builtin(), "as stated", nil, of(20, 20))
	check(t, SizeMismatch, Builtin(), "1 mm less", nil, of(19, 20))
	check(t, SizeMismatch, Builtin(), "less", []float64{18.9}, of(18.9, 20))
	check(t, SizeMismatch, Builtin(), "more", []float64{21.1}, of(21.1, 20))
	if got := text(t, SizeMismatch, Builtin(), of(16, 20)); got != "A is modelled 16 mm thick; name states 20 mm." {
		t.Errorf("got %s", got)
	}
}

func TestLevel(t *testing.T) {
	set := func(heights ...float64) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			var items []*model.Item
			for i, h := range heights {
				c := bolt("b", 1000+200*float64(i), 1000)
				c.open.Y, c.length = -h, 250
				items = append(items, s.add(w, c))
			}
			s.set("HB-1", items...)
		}
	}
	check(t, Level, Builtin(), "level", nil, set(100, 100, 100, 100))
	check(t, Level, Builtin(), "5 mm", nil, set(100, 105, 100, 100))
	check(t, Level, Builtin(), "one higher", []float64{6}, set(100, 106, 100, 100))
	check(t, Level, Builtin(), "one lower", []float64{8}, set(100, 100, 92, 100))
	check(t, Level, Builtin(), "two", []float64{20}, set(100, 120))
	check(t, Level, Builtin(), "no set", nil, func(s *scene) { s.bolt(s.wall("W"), "A", 1000, 1000) })
	check(t, Level, Builtin(), "other face", nil, func(s *scene) {
		w := s.wall("W")
		s.set("HB-1", s.bolt(w, "a", 1000, 1000),
			s.add(w, spec{kind: model.Bolt, name: "b", open: geom.V(1000, 250, 1500), dir: geom.V(0, -1, 0), d: 20, length: 200}))
	})
	if got := text(t, Level, Builtin(), set(100, 112, 100)); got != "the end of HB-1 bolt 2 is 12 mm higher than those of its set; at most 5 mm." {
		t.Errorf("got %s", got)
	}
}

func TestItemClearance(t *testing.T) {
	two := func(off float64, join func(*scene, *model.Item, *model.Item)) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			a := s.bolt(w, "A", 1000, 1000)
			c := bolt("B", 1000+off, 1000)
			c.d = 16
			b := s.add(w, c)
			if join != nil {
				join(s, a, b)
			}
		}
	}
	check(t, ItemClearance, Builtin(), "touching", nil, two(18, nil))
	check(t, ItemClearance, Builtin(), "overlapping", []float64{-1}, two(17, nil))
	check(t, ItemClearance, Builtin(), "one set", nil, two(17, func(s *scene, a, b *model.Item) { s.set("S", a, b) }))
	check(t, ItemClearance, Builtin(), "one assembly", nil, two(17, func(_ *scene, a, b *model.Item) { a.Assembly, b.Assembly = "g", "g" }))
	check(t, ItemClearance, Builtin(), "other assembly", []float64{-1}, two(17, func(_ *scene, a, b *model.Item) { a.Assembly, b.Assembly = "g", "h" }))
	check(t, ItemClearance, Builtin(), "nut", nil, two(17, func(_ *scene, _, b *model.Item) { b.Twin = true }))
	check(t, ItemClearance, Builtin(), "former", nil, two(17, func(_ *scene, _, b *model.Item) { b.Kind = model.Former }))
	check(t, ItemClearance, Builtin(), "other host", nil, two(17, func(s *scene, _, b *model.Item) { b.Host = s.wall("V") }))
	check(t, ItemClearance, Builtin(), "one axis", nil, two(0.5, nil))
	check(t, ItemClearance, limitFor(ItemClearance, Term{MM, 25}), "25 mm", nil, two(18+25, nil))
	check(t, ItemClearance, limitFor(ItemClearance, Term{MM, 25}), "24 mm", []float64{24}, two(18+24, nil))
	check(t, ItemClearance, Builtin(), "sleeve around a bolt", nil, func(s *scene) {
		w := s.wall("W")
		s.bolt(w, "A", 1000, 1000)
		c := bolt("B", 1000, 1000)
		c.kind, c.d, c.noAnchor, c.length = model.Sleeve, 60, true, 250
		s.add(w, c)
	})
	if got := text(t, ItemClearance, Builtin(), two(12, nil)); got != "A and B overlap by 6 mm." {
		t.Errorf("got %s", got)
	}
	if got := text(t, ItemClearance, limitFor(ItemClearance, Term{MM, 25}), two(38, nil)); got != "20 mm clear between A and B; 25 mm needed." {
		t.Errorf("got %s", got)
	}
}
