package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/finding"
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
	}{{a, 249.9, false}, {a, 250.1, true}, {short, 139.9, false}, {short, 140.1, true}, {shallow, 118.995, false}, {shallow, 119.005, true}} {
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

// builtInLimits are the limits of a rule in words, for the kinds that it looks at.
func builtInLimits(r *Rule) []string {
	words := func(p *Params) string {
		var l []string
		for _, t := range p.Limit {
			l = append(l, fmt.Sprint(t.Value, " ", t.Unit))
		}
		return strings.Join(l, " and ") + ", " + p.Priority.String()
	}
	out := []string{r.ID + ": " + words(&r.Default)}
	for i := range r.ForKinds {
		out = append(out, fmt.Sprintf("%s of %v: %s", r.ID, r.ForKinds[i].Kinds, words(&r.ForKinds[i].Params)))
	}
	return out
}

// The built-in limits are what the rule pages, the sheets and the engineers go by:
// one that changes is a decision, with its source, and changes here as well.
func TestBuiltInLimitsAreThose(t *testing.T) {
	want := []string{
		"edge-distance: 50 mm and 6 diameters, hold", "edge-distance of [stud lifter]: 50 mm, hold", "edge-distance of [plate channel]: 25 mm, review",
		"plate-edge: , review", "spacing: 6 diameters, review", "spacing of [stud lifter plate]: 4 diameters, review",
		"concrete-cone: 0.5 ratio, review", "concrete-cone of [lifter]: 0.5 ratio, note", "supplementary-bars: 0.5 embedments, note",
		"side-face: 2.5 ratio, review", "side-face of [lifter]: 2.5 ratio, note",
		"embedment-depth: 50 mm and 4 diameters, review", "embedment-depth of [bolt]: 12 diameters, review", "back-cover: 20 mm, review",
		"through: , hold", "two-hosts: , review", "member-thickness: 80 mm, note", "hook-direction: 20 mm, review", "access: 100 mm, review",
		"reinforcement-clearance: 20 mm, hold", "reinforcement-clearance of [plate channel fitting]: 0 mm, hold", "reinforcement-clearance of [lifter sleeve former]: 0 mm, review",
		"item-clearance: 0 mm, review", "square-to-face: 3 degrees, review", "flush: 6 mm, review", "face-side: 6 mm, review", "own-recess: 0.3 ratio, review",
		"projection: 2 diameters, review", "thread-length: 1 pitches, review", "set-pattern: 3 mm, review", "template-standoff: 25 mm, review",
		"parts-complete: , review", "level: 5 mm, review", "lifter-balance: 150 mm, review", "lifter-count: 2 count, review",
		"standard-size: , note", "size-mismatch: , review", "size-stated: , note", "finish-stated: , note", "finish-exposure: , review",
		"grade-stated: , note", "torque-stated: , note", "mark-unique: , review", "duplicate: , review", "unhosted: , review",
		"position-measured: , hold", "depth-measured: , hold", "size-measured: , review", "not-checked: , review",
	}
	var got []string
	for _, r := range All {
		got = append(got, builtInLimits(r)...)
	}
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("limit %d of %d, want %d:\n%s\nwant\n%s", i, len(got), len(want), strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
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

// A host of a source that is not in the list has a note of its own.
func TestUnknownCastOfAnUnknownSource(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	s.bolt(w, "A", 1000, 1000)
	w.Source = 7
	if got := only(t, FaceSide, s.m); len(got) != 1 {
		t.Errorf("got %+v", got)
	}
}

// The greatest spacing is that of neighbouring rows, wherever they lie.
func TestWidestSpacing(t *testing.T) {
	p := &pad{at: []geom.Vec2{{X: 200, Y: -40}, {X: 230, Y: -40}, {X: 300, Y: 0}, {X: 300.9, Y: 0}}}
	if got := p.widest(); math.Abs(got-70) > 1e-9 {
		t.Errorf("got %v", got)
	}
}

// Of two plates over a bolt the template counts, whichever is read first.
func TestTemplateBeforeBasePlate(t *testing.T) {
	for _, templateFirst := range []bool{true, false} {
		s := newScene(geom.Identity)
		items := four(s)
		add := func(template bool) *model.Sheet {
			if template {
				return s.template(s.over("T", 850, 850, 1150, 1150, 30, 8, items...))
			}
			return s.over("P", 850, 850, 1150, 1150, 60, 20, items...)
		}
		add(templateFirst)
		add(!templateFirst)
		b := passOf(PartsComplete, s, Builtin()).newBill()
		if got := b.first(items[0].Anchors[0]); got == nil || !got.Template() {
			t.Errorf("template first %v: %+v", templateFirst, got)
		}
	}
}

// Each mark counts its own bars, and only those.
func TestBarsOfASecondMarkAreCounted(t *testing.T) {
	s := newScene(geom.Identity)
	s.bolt(s.wall("W"), "HB1", 1500, 1000)
	upright(s, "N16-1", 16, 25)
	upright(s, "N16-2", 16, -30)
	s.piece(16, geom.V(1469, 100, 0), geom.V(1469, 100, 2500))
	got := only(t, ReinforcementClearance, s.m)
	if len(got) != 1 || len(got[0].Instances) != 2 {
		t.Fatalf("got %+v", got)
	}
	for _, in := range got[0].Instances {
		if twice := strings.HasSuffix(in.Text, "; 2 bars of this mark are too near"); twice != (in.Others[0].Name == "N16-2") {
			t.Errorf("%s: %s", in.Others[0].Name, in.Text)
		}
	}
	if want := "7 mm clear between HB1 and bar N16-1 (16 mm); 20 mm needed. One more place."; got[0].Message != want {
		t.Errorf("got %s\nwant %s", got[0].Message, want)
	}
	upright(s, "N16-3", 16, 36)
	if got = only(t, ReinforcementClearance, s.m); !strings.HasSuffix(got[0].Message, " 2 more places.") {
		t.Errorf("got %s", got[0].Message)
	}
}

func TestLengthsOfALimit(t *testing.T) {
	got := Limit{{Diameters, 6}, {MM, 50}, {Inch, 2}, {Ratio, 0.5}}.lengths()
	if len(got) != 2 || got[0].Unit != MM || got[1].Unit != Inch {
		t.Errorf("got %v", got)
	}
}

func TestLabelsOfLifts(t *testing.T) {
	for _, c := range []struct {
		build func(*scene)
		want  string
	}{
		{inTop([2]float64{1700, 1000}), "the lifting point"}, {inTop([2]float64{500, 1160}, [2]float64{2500, 1160}), "2 lifting points"},
	} {
		if f := onlyScene(t, LifterBalance, Builtin(), c.build); f.Set != c.want {
			t.Errorf("%q, want %q", f.Set, c.want)
		}
	}
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

// One bolt is enough to ask for parts of; what has no axis is none.
func TestPartsAskedOfOneBolt(t *testing.T) {
	set := asking(Given{"nuts": count(1)})
	build := func(s *scene) {
		w := s.wall("W")
		s.add(w, standing("A", 1000, 1000, 100))
		c := standing("B", 1500, 1000, 100)
		c.noAnchor = true
		s.add(w, c)
	}
	f := onlyScene(t, PartsComplete, set, build)
	if !strings.Contains(f.Message, "on any of 1") || len(f.Instances) != 1 {
		t.Errorf("got %+v", f)
	}
}

// A bolt in a recess of its own is sunk from 10 mm on: no plate lies over it.
func TestProjectionOfSunkBolts(t *testing.T) {
	sunk := func(y float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.open.Y, c.length = y, 150
			s.add(s.wall("W"), c)
		}
	}
	check(t, Projection, Builtin(), "9.95 mm", []float64{-9.95}, sunk(9.95))
	check(t, Projection, Builtin(), "10.05 mm", nil, sunk(10.05))
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

// Without a template the base plate that was read first counts.
func TestFirstOfTwoBasePlates(t *testing.T) {
	s := newScene(geom.Identity)
	items := four(s)
	first := s.over("P", 850, 850, 1150, 1150, 30, 20, items...)
	s.over("Q", 850, 850, 1150, 1150, 60, 20, items...)
	if got := passOf(PartsComplete, s, Builtin()).newBill().first(items[0].Anchors[0]); got != first {
		t.Errorf("got %+v", got)
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

// A template whose upper side stands out by no more than 1 mm is cast in.
func TestTemplatesThatAreCastIn(t *testing.T) {
	at := func(gap float64) func(*scene) {
		return func(s *scene) { s.template(s.over("T", 850, 850, 1150, 1150, gap, 8, four(s)...)) }
	}
	check(t, TemplateStandoff, Builtin(), "0.98 mm out", nil, at(-7.02))
	check(t, TemplateStandoff, Builtin(), "1.02 mm out", []float64{-6.98}, at(-6.98))
}

// Of the entries of a limit that are worked out the one that the finding names
// governs, and no other.
func TestEntryThatGoverns(t *testing.T) {
	set := limitFor(EdgeDistance, Term{MM, 50}, Term{Diameters, 6})
	it := &model.Item{Kind: model.Bolt}
	for _, c := range []struct{ governs, want string }{{"mm", "mm"}, {"diameters", "diameters"}, {"stated", "stated"}} {
		var got []string
		for _, w := range set.Work(EdgeDistance, it, Basis{Diameter: 20}, &finding.Instance{Governs: c.governs, Required: 120}) {
			if w.Governs && w.Value == 120 {
				got = append(got, w.Entry)
			}
		}
		if len(got) != 1 || !strings.Contains(got[0], c.want) {
			t.Errorf("%s: %v", c.governs, got)
		}
	}
	if got := set.Work(EdgeDistance, it, Basis{Diameter: 20}, &finding.Instance{}); len(got) != 2 || got[0].Governs || got[1].Governs {
		t.Errorf("of a finding that names none: %+v", got)
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

func TestBoltsThatAreAlike(t *testing.T) {
	lean := func(d, degrees float64) *model.Anchor {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return &model.Anchor{Diameter: d, Dir: geom.V(sin, cos, 0)}
	}
	for _, c := range []struct {
		d, degrees float64
		want       bool
	}{{20, 0, true}, {20.9, 0, true}, {21.1, 0, false}, {20, 2.5, true}, {20, 2.6, false}, {20, 180, false}} {
		if got := alikeBolts(lean(20, 0), lean(c.d, c.degrees)); got != c.want {
			t.Errorf("%v mm, %v degrees: %v", c.d, c.degrees, got)
		}
	}
}

// Anchors that cannot be measured stand for nothing: neither for the edge of a set
// nor for the height of a template.
func TestAnchorsThatCannotBeMeasured(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	a, b := s.bolt(w, "A", 200, 1200).Anchors[0], s.bolt(w, "B", 90, 1000).Anchors[0]
	a.Diameter = math.NaN()
	if got := passOf(ConcreteCone, s, Builtin()).nearestEdge([]*model.Anchor{b, a}); got != b {
		t.Errorf("got the one at %v", got.Open)
	}
	check(t, TemplateStandoff, Builtin(), "a bolt that enters nothing", []float64{20}, func(s *scene) {
		items := four(s)
		items[0].Anchors[0].Entry = nil
		s.template(s.over("T", 850, 850, 1150, 1150, 20, 8, items...))
	})
}

// The order of reading has no part in which face of a set is told.
func TestSplitSetsInAnyOrder(t *testing.T) {
	var first string
	for _, names := range [][2]string{{"A", "B"}, {"B", "A"}} {
		s := newScene(geom.Identity)
		w := s.wall("W")
		w.Property = says("FaceUp", "-Y")
		var items []*model.Item
		for _, n := range names {
			c := bolt(n, 1000, 1000)
			if n == "B" {
				c = backBolt(n, 1400, 1000)
			}
			c.kind = model.Socket
			items = append(items, s.add(w, c))
		}
		s.set("HB", items...)
		got := only(t, FaceSide, s.m)
		if len(got) != 1 {
			t.Fatalf("%v: %+v", names, got)
		}
		if first == "" {
			first = got[0].Message
		}
		if got[0].Message != first {
			t.Errorf("%v: %s, and %s", names, got[0].Message, first)
		}
	}
}
