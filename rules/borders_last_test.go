package rules

import (
	"math"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// A part counts as over its plate when its middle is nearer to the open end than
// the middle of the plate.
func TestPartsOverAndUnderAPlate(t *testing.T) {
	for _, c := range []struct {
		from        float64
		over, under int
	}{{56.9, 1, 0}, {57.1, 0, 1}} { // the template lies from 62 to 70 mm, its middle at 66
		s := newScene(geom.Identity)
		withTemplate(4, carrying([]float64{c.from}))(s)
		p := passOf(PartsComplete, s, Builtin())
		got := p.newBill().count(s.m.Items[0].Anchors[0])
		if got[0] != c.over || got[2] != c.under {
			t.Errorf("a nut from %v to %v mm: %v", c.from, c.from+18, got)
		}
	}
}

// The distance from an anchor to an outline that runs askew: 40 mm to the right
// and 60 mm upwards, by similar triangles.
func TestRaysToASlantedEdge(t *testing.T) {
	p := &pad{outline: [][]geom.Vec2{{{X: -100, Y: -100}, {X: 140, Y: -100}, {X: -60, Y: 200}}}}
	q := geom.Vec2{X: 0, Y: 20}
	// The right side runs from (140, -100) to (-60, 200), the left one from (-60, 200)
	// to (-100, -100).
	for _, c := range []struct {
		dir  geom.Vec2
		want float64
	}{{geom.Vec2{X: 1}, 60}, {geom.Vec2{Y: 1}, 90}, {geom.Vec2{X: -1}, 84}, {geom.Vec2{Y: -1}, 120}} {
		if got := p.ray(q, c.dir); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("along %v: %v, want %v", c.dir, got, c.want)
		}
	}
	if got := p.ray(geom.Vec2{X: 500, Y: 500}, geom.Vec2{X: 1}); !math.IsInf(got, 1) {
		t.Errorf("away from the outline: %v", got)
	}
}

// The reduced depth of a narrow member goes by the farthest of the near edges,
// whichever side it is on: ACI 318-19 17.6.2.1.2.
func TestNarrowDepthOfEachSide(t *testing.T) {
	for i, far := range [4]geom.Vec2{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		reach := func(dir geom.Vec2) float64 {
			if dir == far {
				return 120
			}
			return 60
		}
		x0, x1 := -reach(geom.Vec2{X: -1}), reach(geom.Vec2{X: 1})
		y0, y1 := -reach(geom.Vec2{Y: -1}), reach(geom.Vec2{Y: 1})
		p := (&pad{at: []geom.Vec2{{}}, depth: []float64{100}}).within(x0, y0, x1, y1)
		if d, ok := p.narrowDepth(100); !ok || math.Abs(d-80) > 1e-9 {
			t.Errorf("side %d: %v, %v; want 120 / 1.5", i, d, ok)
		}
		open := (&pad{at: []geom.Vec2{{}}, depth: []float64{100}}).within(x0-200*min(far.X*far.X, 1), y0-200, x1+200*min(far.X*far.X, 1), y1+200)
		if d, ok := open.narrowDepth(100); ok {
			t.Errorf("side %d, two edges near at most: %v", i, d)
		}
	}
}

// Two anchors far from all edges are drawn along their own line; the outline is
// taken halfway down the anchor, or the member where that is less.
func TestPlanOfTwoAnchors(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	a, b := s.bolt(w, "A", 1000, 1000).Anchors[0], s.bolt(w, "B", 1120, 1160).Anchors[0]
	p, ok := newPad([]*model.Anchor{a, b}, func(a *model.Anchor) (measure.Edge, bool) { return measure.EdgeDistance(a) })
	if !ok || math.Abs(p.at[1].Y) > 1e-9 || math.Abs(math.Abs(p.at[1].X)-200) > 1e-9 {
		t.Errorf("got %+v", p)
	}
	if got := half([]*model.Anchor{a, b}); math.Abs(got-73.5) > 1e-9 { // 147 mm deep in 200 mm
		t.Errorf("half of 147 mm: %v", got)
	}
	a.Entry.Thickness = 100
	if got := half([]*model.Anchor{a, b}); math.Abs(got-50) > 1e-9 {
		t.Errorf("half of a member of 100 mm: %v", got)
	}
}

// An item that stands out of the form face is told as that, and not a second time
// as one that is in another face than its set. A host without a body has no face.
func TestWrongFaceIsToldOnce(t *testing.T) {
	build := func(change func(*scene)) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			w.Property = says("FaceUp", "-Y")
			s.set("HD", s.bolt(w, "A", 1000, 1000), s.bolt(w, "B", 1200, 1000), s.add(w, backBolt("C", 1400, 1000)))
			if change != nil {
				change(s)
			}
		}
	}
	check(t, FaceSide, Builtin(), "bolts on both faces", []float64{100}, build(nil))
	s := newScene(geom.Identity)
	build(func(s *scene) { s.m.Hosts[0].Body = nil })(s)
	for _, f := range only(t, FaceSide, s.m) {
		if strings.Contains(f.Message, "out of the form face") {
			t.Errorf("a face of a host without a body: %s", f.Message)
		}
	}
}

// A finding about a form belongs to its host, and the first of its namesakes is
// the first.
func TestFormsOfHosts(t *testing.T) {
	s := newScene(geom.Identity)
	a, b := s.wall("W"), s.wall("V")
	f := &formGroups{of: map[*model.Host]*group{}}
	x, y := f.group(s.m, a), f.group(s.m, b)
	if x.key == y.key || !strings.HasSuffix(x.key, "|form") || x.key == "|form" || x.twin != 0 || y.twin != 0 {
		t.Errorf("%q %d, %q %d", x.key, x.twin, y.key, y.twin)
	}
	if f.group(s.m, a) != x {
		t.Error("a form has two groups")
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

// Bolts that cannot be measured, and what is no bolt, take no part in the fit of
// a plate.
func TestFitIsOfSoundBolts(t *testing.T) {
	off := func(change func(*model.Item)) func(*scene) {
		return func(s *scene) {
			patterned(false, 26, 0, 0)(s)
			it := s.m.Items[3]
			s.m.Sheets[0].Holes = slices.DeleteFunc(s.m.Sheets[0].Holes, func(h model.Hole) bool { return h.At.Dist(it.Anchors[0].Open) < 150 })
			change(it)
		}
	}
	checkAll(t, SetPattern, []sceneCase{
		{"a stud", Builtin(), off(func(it *model.Item) { it.Kind = model.Stud }), nil},
		{"a bolt of no entry", Builtin(), off(func(it *model.Item) { it.Anchors[0].Entry = nil }), nil},
	})
}

// A bolt of an odd thickness whose stack nobody states lacks nothing.
func TestNoStackIsAskedForWithoutAPlate(t *testing.T) {
	s := newScene(geom.Identity)
	c := standing("A", 1000, 1000, 60)
	c.d = 21
	s.add(s.wall("W"), c)
	found, err := run([]*Rule{Projection, NotChecked}, s.m, Builtin(), 1)
	if err != nil || len(found) != 0 {
		t.Errorf("%v, %+v", err, found)
	}
}

// A page needs all of its paragraphs.
func TestPagesHaveAllParagraphs(t *testing.T) {
	for i, lack := range []func(*Doc){func(d *Doc) { d.Wrong = "" }, func(d *Doc) { d.Measured = "" }, func(d *Doc) { d.Do = "" }, func(d *Doc) { d.Blind = "" }} {
		r := *Spacing
		lack(&r.Doc)
		if len(r.validate()) != 1 {
			t.Errorf("paragraph %d: %v", i, r.validate())
		}
	}
}

// Parts count to the embedded end from 1 mm before the bearing side, and from two
// diameters, or half the embedment, below the face.
func TestPartsOfTheEmbeddedEnd(t *testing.T) {
	a := &model.Anchor{Diameter: 20, Bearing: 400, Entry: &model.Entry{Dist: 100}}
	short := &model.Anchor{Diameter: 20, Bearing: 141.5, Entry: &model.Entry{Dist: 100}}
	shallow := &model.Anchor{Diameter: 20, Bearing: 120, Entry: &model.Entry{Dist: 100}}
	for _, c := range []struct {
		a    *model.Anchor
		from float64
		want bool
	}{{a, 249.9, false}, {a, 250.1, true}, {short, 139.9, false}, {short, 140.1, true}, {shallow, 118.9, false}, {shallow, 119.1, true}} {
		if got := bears(c.a, model.Part{From: c.from}); got != c.want {
			t.Errorf("from %v mm: %v", c.from, got)
		}
	}
}

// A tolerance of a kind of items holds for these, and not for what is no item.
func TestToleranceOfItemsAndOfNone(t *testing.T) {
	set := &Set{Name: "s", Tolerances: map[ToleranceKind]Tolerance{TolFit: {Minus: 1, Plus: 1}}, For: []For{
		{Items: named("^B"), Tolerances: map[ToleranceKind]Tolerance{TolFit: {Minus: 2, Plus: 2, Source: "x"}}},
	}}
	for _, c := range []struct {
		it   *model.Item
		want float64
	}{{nil, 1}, {&model.Item{Ref: model.Ref{Name: "A"}}, 1}, {&model.Item{Ref: model.Ref{Name: "B"}}, 2}} {
		if got, ok := set.Tolerance(c.it, TolFit); !ok || got.Plus != c.want {
			t.Errorf("%+v: %v, %v", c.it, got, ok)
		}
	}
}

// What a finding is about is an anchor by its number, or the item itself.
func TestNumberOfTheAnchorOfAHit(t *testing.T) {
	if got := (&hit{}).index(); got != -1 {
		t.Errorf("the item itself: %d", got)
	}
	if got := (&hit{Hit: Hit{Anchor: &model.Anchor{Index: 3}}}).index(); got != 3 {
		t.Errorf("the fourth anchor: %d", got)
	}
}

// The anchor nearest to an edge stands for a set, of equal ones the first by place,
// whatever the order of reading.
func TestAnchorThatIsNearestToAnEdge(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	var all []*model.Anchor
	for _, x := range []float64{140, 90, 400} {
		all = append(all, s.bolt(w, "A", x, 1200).Anchors[0])
	}
	above := s.bolt(w, "B", 90.004, 1000).Anchors[0] // as near as the second, but for noise
	p := passOf(ConcreteCone, s, Builtin())
	if got := p.nearestEdge(all); got != all[1] {
		t.Errorf("got the one at %v", got.Open)
	}
	for _, order := range [][]*model.Anchor{{all[0], all[1], above}, {above, all[1], all[0]}, {all[1], above, all[2]}} {
		got := p.nearestEdge(order)
		if want := all[1]; compareVec(above.Entry.Point, want.Entry.Point) < 0 {
			want = above
			if got != want {
				t.Errorf("got the one at %v, want %v", got.Open, want.Open)
			}
		} else if got != want {
			t.Errorf("got the one at %v, want %v", got.Open, want.Open)
		}
	}
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
