package rules

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Limits in diameters mean nothing for a plate; those in lengths hold for it.
func TestFlushOfAPlateGoesByLengths(t *testing.T) {
	set := limitFor(Flush, Term{MM, 8}, Term{Diameters, 0.25})
	plate := func(y float64) func(*scene) {
		return func(s *scene) { s.plateAt(s.wall("W"), "CP1", 1000, 1000, 1200, 1200, y, 10) }
	}
	deep := func(y float64) func(*scene) {
		return func(s *scene) {
			c := socket("F", 1000, 1000) // 16 mm
			c.open.Y = y
			s.add(s.wall("W"), c)
		}
	}
	check(t, Flush, set, "plate, 8 mm", nil, plate(8))
	check(t, Flush, set, "plate, 9 mm", []float64{9}, plate(9))
	check(t, Flush, set, "socket, a quarter of a diameter", nil, deep(-4))
	check(t, Flush, set, "socket, more", []float64{5}, deep(-5))
}

// A host is outdoors, dry or unknown by what it states; one that states nothing at
// all is unknown.
func TestExposureOfHosts(t *testing.T) {
	h := &model.Host{}
	if e, _ := exposureOf(h); e != unknownExposure {
		t.Errorf("without properties: %v", e)
	}
	h.Property = says("IsExternal", "FALSE")
	if e, _ := exposureOf(h); e != dry {
		t.Errorf("inside: %v", e)
	}
	h.Property = says("IsExternal", "true")
	if e, why := exposureOf(h); e != outdoors || why != "external" {
		t.Errorf("outside: %v, %s", e, why)
	}
}

// Which anchors of a set a bolt's height is compared with: both sides of each
// border of what is alike.
func TestHeightsAreOfLikeAnchors(t *testing.T) {
	lean := func(degrees float64) geom.Vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return geom.V(sin, cos, 0)
	}
	for _, c := range []struct {
		name string
		with func(*spec)
		want bool
	}{
		{"alike", func(*spec) {}, true},
		{"another kind", func(c *spec) { c.kind = model.Stud }, false},
		{"1 mm thicker", func(c *spec) { c.d = 21 }, true},
		{"1.1 mm thicker", func(c *spec) { c.d = 21.1 }, false},
		{"another kind and thicker", func(c *spec) { c.kind, c.d = model.Stud, 24 }, false},
		{"2.5 degrees askew", func(c *spec) { c.dir = lean(2.5) }, true},
		{"2.6 degrees askew", func(c *spec) { c.dir = lean(2.6) }, false},
	} {
		s := newScene(geom.Identity)
		w := s.wall("W")
		a := s.bolt(w, "A", 1000, 1000)
		o := bolt("B", 1200, 1000)
		o.open.Y = -110
		c.with(&o)
		b := s.add(w, o)
		set := []*model.Anchor{a.Anchors[0], b.Anchors[0]}
		if off, ok := offLevel(b.Anchors[0], set); ok != c.want || ok && o.dir.X == 0 && math.Abs(off-10) > 1e-6 {
			t.Errorf("%s: %v, %v", c.name, off, ok)
		}
		b.Anchors[0].Entry = nil
		if _, ok := offLevel(a.Anchors[0], set); ok {
			t.Errorf("%s: one that is not sound was compared", c.name)
		}
	}
	uneven := func(off float64) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			c := bolt("C", 1400, 1000)
			c.open.Y -= off
			s.set("HD", s.bolt(w, "A", 1000, 1000), s.bolt(w, "B", 1200, 1000), s.add(w, c))
		}
	}
	check(t, Level, Builtin(), "just 5 mm", nil, uneven(4.98))
	check(t, Level, Builtin(), "just over 5 mm", []float64{5.02}, uneven(5.02))
	check(t, Level, Builtin(), "lower", []float64{5.02}, uneven(-5.02))
}

// A hook ends where its farthest point is, and is round there unless that is the
// end of the rod.
func TestFarthestPointOfAHook(t *testing.T) {
	for where, at := range placements {
		body := boxMesh(geom.V(-300, 0, -300), geom.V(300, 500, 200)).Transform(at)
		a := &model.Anchor{Open: at.Apply(geom.V(0, -100, 0)), Dir: at.Turn(geom.V(0, 1, 0)), Diameter: 20, Entry: &model.Entry{Solid: geom.NewSolid(body)}}
		for _, c := range []struct {
			name string
			hook []geom.Vec
			want float64
		}{
			{"the tip", []geom.Vec{{Y: 200}, {Y: 200, Z: 80}}, 120},
			{"the bend, and back along the axis", []geom.Vec{{Y: 200}, {Y: 200, Z: 80}, {Y: 140, Z: 80}}, 110},
			{"the bend, and back to the axis", []geom.Vec{{Y: 200}, {Y: 200, Z: 80}, {Y: 140, Z: 40}}, 110},
		} {
			a.Hook = nil
			for _, q := range c.hook {
				a.Hook = append(a.Hook, at.Apply(q))
			}
			if got, _, ok := hookCover(a); !ok || math.Abs(got-c.want) > 1e-6 {
				t.Errorf("%s, %s: %v, %v; want %v", c.name, where, got, ok, c.want)
			}
		}
	}
}

// A sunk socket is told up to where it counts as sunk on purpose; a plate without
// anchors lies in a face as well.
func TestBordersOfFlush(t *testing.T) {
	deep := func(y float64) func(*scene) {
		return func(s *scene) {
			c := socket("F", 1000, 1000)
			c.open.Y = y
			s.add(s.wall("W"), c)
		}
	}
	check(t, Flush, Builtin(), "9.95 mm", []float64{9.95}, deep(9.95))
	check(t, Flush, Builtin(), "10.05 mm", nil, deep(10.05))
	s := newScene(geom.Identity)
	it := s.plate(s.wall("W"), "P", 1000, 1000, 1200, 1200, 10)
	if f, ok := faceOf(it); !ok || f.entry != it.PlateIn || f.a != nil {
		t.Errorf("the face of a plate: %+v, %v", f, ok)
	}
	if f, ok := faceOf(s.bolt(s.m.Hosts[0], "A", 300, 300)); !ok || f.a == nil || f.out != 100 {
		t.Errorf("the face of a bolt: %+v, %v", f, ok)
	}
}

// A shank is of a standard size up to half a millimetre off, on both sides.
func TestHowFarOffASizeMayBe(t *testing.T) {
	shank := func(d float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.d = d
			s.add(s.wall("W"), c)
		}
	}
	for _, d := range []float64{72.499, 71.501} {
		check(t, StandardSize, Builtin(), "near", nil, shank(d))
	}
	for _, d := range []float64{72.503, 71.497} {
		check(t, StandardSize, Builtin(), "farther", []float64{d}, shank(d))
	}
}
