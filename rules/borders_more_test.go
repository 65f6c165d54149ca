package rules

import (
	"math"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// passOf is a rule over a scene, before it has run.
func passOf(r *Rule, s *scene, set *Set) *Pass { return newPass(prepare(s.m, set, 1), r) }

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

// A row of lifting points is one when they lie no farther apart across it than a
// tenth of its length; the way up of one lift turns by no more than 20 degrees.
func TestWhatIsOneLift(t *testing.T) {
	lean := func(degrees float64) geom.Vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return geom.V(sin, 0, cos)
	}
	for _, c := range []struct {
		degrees float64
		lifts   int
	}{{0, 1}, {19.5, 1}, {20.5, 2}, {90, 2}} {
		it := &model.Item{}
		lifts := joinLift(nil, nil, it, geom.V(0, 0, 0), geom.V(0, 0, 1))
		lifts = joinLift(lifts, nil, it, geom.V(500, 0, 0), lean(c.degrees))
		if len(lifts) != c.lifts {
			t.Errorf("%v degrees: %d lifts", c.degrees, len(lifts))
		}
	}
	tube := joinLift(nil, nil, &model.Item{Tube: true}, geom.V(0, 0, 0), geom.V(0, 0, 1))
	if tube = joinLift(tube, nil, &model.Item{}, geom.V(500, 0, 0), geom.V(0, 0, 1)); len(tube) != 2 {
		t.Errorf("a hole and an insert: %d lifts", len(tube))
	}
	for _, c := range []struct {
		apart float64
		n     int
	}{{samePlace, 1}, {samePlace + 0.01, 2}} {
		it := &model.Item{}
		lifts := joinLift(joinLift(nil, nil, it, geom.V(0, 0, 0), geom.V(0, 0, 1)), nil, it, geom.V(c.apart, 0, 0), geom.V(0, 0, 1))
		if len(lifts[0].points) != c.n {
			t.Errorf("%v mm apart: %d points", c.apart, len(lifts[0].points))
		}
	}
	row := func(off float64) *lift {
		return &lift{points: []geom.Vec{{X: 0}, {X: 2000}, {X: 1000, Y: off}}, up: geom.V(0, 0, 1)}
	}
	if b := row(199).balance(geom.V(1000, 300, 0)); !b.row || b.outside != 0 {
		t.Errorf("199 mm across 2000: %+v", b)
	}
	if b := row(201).balance(geom.V(1000, 300, 0)); b.row || math.Abs(b.outside-99) > 1e-9 {
		t.Errorf("201 mm across 2000: %+v", b)
	}
	if b := row(900).balance(geom.V(1000, 200, 0)); b.row || b.outside != 0 || math.Abs(b.inside-200) > 1e-9 {
		t.Errorf("inside: %+v", b)
	}
}

func TestLiftingPoints(t *testing.T) {
	leg := func(x float64) *model.Anchor {
		return &model.Anchor{Open: geom.V(x, 0, 400), Dir: geom.V(0, 0, -1)}
	}
	at, up, ok := liftingPoint(&model.Item{Anchors: []*model.Anchor{leg(100), leg(300)}})
	if !ok || at != geom.V(200, 0, 400) || up != geom.V(0, 0, 1) {
		t.Errorf("a loop with two legs: %v, %v, %v", at, up, ok)
	}
	if at, up, ok = liftingPoint(&model.Item{Anchors: []*model.Anchor{leg(100)}}); !ok || at != geom.V(100, 0, 400) || up != geom.V(0, 0, 1) {
		t.Errorf("one leg: %v, %v, %v", at, up, ok)
	}
	if _, _, ok = liftingPoint(&model.Item{}); ok {
		t.Error("without an axis there is no lifting point")
	}
	at, up, ok = liftingPoint(&model.Item{Tube: true, Box: geom.BoxOf(geom.V(0, 0, 0), geom.V(100, 200, 60))})
	if !ok || at != geom.V(50, 100, 30) || up != geom.V(0, 0, 1) {
		t.Errorf("a hole for a pin: %v, %v, %v", at, up, ok)
	}
	if _, _, ok = liftingPoint(&model.Item{Tube: true, Box: geom.EmptyBox}); ok {
		t.Error("a hole without a body has no place")
	}
}

// A lift is passed without working the openings out only where no centre of
// gravity within the slack can miss the limit or lie outside.
func TestLiftsThatNeedNoOpenings(t *testing.T) {
	s := newScene(geom.Identity)
	inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{1500, 1600})(s)
	p := passOf(LifterBalance, s, Builtin())
	l := p.liftsOf(s.m.Hosts[0])[0]
	middle := geom.V(1500, 800, 200)
	for _, c := range []struct {
		name  string
		off   float64
		slack float64
		want  bool
	}{
		{"in the middle", 0, 10, true}, {"near the limit", 139.9, 10, true}, {"within the slack of the limit", 140.1, 10, false},
		{"outside the points", 500, 10, false}, {"near a side", 0, 401, false},
	} {
		if got := p.level(l, middle.Sub(geom.V(0, c.off, 0)), c.slack); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	s.m.Items[1].Twin = true
	if lifts := p.liftsOf(s.m.Hosts[0]); len(lifts) != 1 || len(lifts[0].points) != 2 {
		t.Errorf("a body that stands for another one counts: %d lifts", len(lifts))
	}
	s.m.Items[2].Kind = model.Sleeve
	if lifts := p.liftsOf(s.m.Hosts[0]); len(lifts) != 1 || len(lifts[0].points) != 1 {
		t.Errorf("a sleeve is no lifting point: %d lifts", len(lifts))
	}
}

// Of two things of one mark that are equally many, the same one is usual each time.
func TestMarkOfTwoThingsIsToldAlike(t *testing.T) {
	first := ""
	for range 40 {
		got := text(t, MarkUnique, Builtin(), func(s *scene) {
			w := s.wall("W")
			a, b := bolt("A", 1000, 1000), bolt("B", 1500, 1000)
			a.mark, b.mark, b.d = "M1", "M1", 30
			s.add(w, a)
			s.add(w, b)
		})
		if first == "" {
			first = got
		}
		if got != first {
			t.Fatalf("%s, and %s", first, got)
		}
	}
	if got := thing(&model.Item{Kind: model.Plate, Size: "plate"}); got != "a plate plate" {
		t.Errorf("without anchors: %s", got)
	}
	if got := thing(&model.Item{Kind: model.Other, Anchors: []*model.Anchor{{Deepest: 200}}}); got != "an item of 200 mm" {
		t.Errorf("of another kind: %s", got)
	}
	for _, c := range []struct {
		v, mm float64
		want  int
	}{{10, 1, 10}, {10.62, 1, 10}, {10.64, 1, 11}, {201.2, 2, 100}, {201.3, 2, 101}} {
		if got := step(c.v, c.mm); got != c.want {
			t.Errorf("%v in steps of %v: %d, want %d", c.v, c.mm, got, c.want)
		}
	}
}

// What is told twice of one thing in the same words is told once.
func TestGapsAreToldOnce(t *testing.T) {
	s := newScene(geom.Identity)
	s.bolt(s.wall("W"), "A", 1500, 1000)
	for i := range 2 {
		upright(s, "N16", 16, 500)
		m := boxMesh(geom.V(1514, 90, 0), geom.V(1520, 110, 2500)) // 4 mm off: it does not touch
		s.m.Bars.Meshes = append(s.m.Bars.Meshes, model.BarMesh{Mark: int32(i), Mesh: m, Box: m.Box()})
	}
	found, err := run([]*Rule{ReinforcementClearance, NotChecked}, s.m, limitFor(ReinforcementClearance, Term{BarDiameters, 1}), 2)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 || len(found[0].Instances) != 1 || !strings.Contains(found[0].Message, "no diameter is known of bar N16") {
		t.Errorf("got %+v", found)
	}
}

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

// What the rule file asks for alone is told as that, with the sum of all parts.
func TestPartsThatAreOnlyAskedFor(t *testing.T) {
	set := asking(Given{"nuts": count(2), "washers": count(1)})
	f := onlyScene(t, PartsComplete, set, carrying([]float64{40}, []float64{40}, []float64{40}, []float64{40}))
	if got := f.Instances[0]; got.Required != 3 || strings.Contains(got.Text, "which others") || !strings.Contains(got.Text, "1 of 3 parts") {
		t.Errorf("got %+v", got)
	}
	f = onlyScene(t, PartsComplete, set, carrying())
	if got := f.Instances[0]; got.Required != 3 {
		t.Errorf("no hardware at all: %+v", got)
	}
}

// Who walks over items or anchors may stop at the first.
func TestWalksMayStop(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	s.bolt(w, "A", 1000, 1000)
	s.bolt(w, "B", 1500, 1000)
	p := passOf(Spacing, s, Builtin())
	n := 0
	for range p.Items() {
		n++
		break
	}
	for range p.Anchors() {
		n++
		break
	}
	if n != 2 {
		t.Errorf("%d steps", n)
	}
}

// Plates that cannot be measured are left out, and what is no plate of two corners.
func TestPlatesThatCannotBeMeasured(t *testing.T) {
	s := newScene(geom.Identity)
	it := s.plate(s.wall("W"), "P", 10, 1000, 210, 1200, 10)
	if !soundPlate(it) {
		t.Fatal("a plate in a wall is sound")
	}
	whole := it.Outline
	it.Outline = whole[:3]
	if !soundPlate(it) {
		t.Error("three corners are an outline")
	}
	it.Outline = whole[:2]
	if soundPlate(it) {
		t.Error("two corners are no outline")
	}
	it.Outline, it.PlateIn = whole, nil
	if soundPlate(it) {
		t.Error("a plate in no face is sound")
	}
	if got := only(t, PlateEdge, s.m); got != nil {
		t.Errorf("a plate in no face was measured: %+v", got)
	}
}

// Anchors of kinds that a rule does not ask are no neighbours for it.
func TestNeighboursAreOfTheRulesKinds(t *testing.T) {
	near := func(kind model.Kind) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.bolt(w, "A", 1000, 1000)
			c := bolt("B", 1060, 1000)
			c.kind = kind
			s.add(w, c)
		}
	}
	check(t, Spacing, Builtin(), "a socket", []float64{60, 60}, near(model.Socket))
	check(t, Spacing, Builtin(), "a sleeve", nil, near(model.Sleeve))
}

// Each item and each piece of reinforcement meet once, in whatever block.
func TestEachNearBarOnce(t *testing.T) {
	s := crowded(4, 3*barBlock)
	p := passOf(ReinforcementClearance, s, Builtin())
	type pair struct {
		it    *model.Item
		piece int
	}
	seen := map[pair]int{}
	p.eachNearBar(s.m.Items, func(*model.Item) float64 { return 100 }, func(int) {}, func(_ int, it *model.Item, i int) { seen[pair{it, i}]++ })
	if len(seen) < 5 {
		t.Fatalf("%d pairs: the test says little", len(seen))
	}
	for k, n := range seen {
		if n != 1 {
			t.Fatalf("%s and piece %d meet %d times", k.it.Name, k.piece, n)
		}
	}
}

// Facets count as one curved face only where they touch.
func TestFacetsThatTouch(t *testing.T) {
	for _, c := range []struct {
		b    [3]int32
		want bool
	}{{[3]int32{1, 8, 9}, true}, {[3]int32{8, 2, 9}, true}, {[3]int32{8, 9, 3}, true}, {[3]int32{7, 8, 9}, false}} {
		if got := touch([3]int32{1, 2, 3}, c.b); got != c.want {
			t.Errorf("%v: %v", c.b, got)
		}
	}
}

// Without a table for its thread, what the rule file leaves out is named.
func TestStackOfAnUnknownThread(t *testing.T) {
	s := newScene(geom.Identity)
	c := standing("A", 1000, 1000, 60)
	c.d = 21
	s.add(s.wall("W"), c)
	found, err := run([]*Rule{Projection, NotChecked}, s.m, stating(Given{"plate": mm(20), "nut": mm(18)}), 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 || !strings.Contains(found[0].Message, "no table has hardware for 21 mm; state spare, washer in the stack") {
		t.Errorf("got %+v", found)
	}
	check(t, Projection, Builtin(), "a nut under the plate is none on it", nil, func(s *scene) {
		underPlate(20, 91.6)(s) // 30 + 20 + 3 + 36 + 2.5 = 91.5
		s.m.Items[0].Anchors[0].Parts = []model.Part{{Kind: model.Nut, From: 2, To: 20, Size: 34.6}, {Kind: model.Nut, From: 20, To: 38, Size: 34.6}, {Kind: model.Nut, From: 61, To: 79, Size: 34.6}}
	})
	sunk := func(gap float64) func(*scene) {
		return func(s *scene) {
			s.over("P", 900, 900, 1100, 1100, gap, 20, s.add(s.wall("W"), standing("A", 1000, 1000, 42)))
		}
	}
	check(t, Projection, Builtin(), "a plate 9.95 mm in the concrete is over the bolt", []float64{42}, sunk(-9.95))
	check(t, Projection, Builtin(), "a plate 10.05 mm in the concrete is set into it", nil, sunk(-10.05))
}

// The words for sides of a face begin at a cosine of 0.8; a face stands up to 0.7.
func TestWordsForSides(t *testing.T) {
	front := geom.V(0, -1, 0)
	at := func(x float64) geom.Vec { return geom.V(x, 0, math.Sqrt(1-x*x)) }
	up := func(z float64) geom.Vec { return geom.V(math.Sqrt(1-z*z), 0, z) }
	for _, c := range []struct {
		d    geom.Vec
		want string
	}{
		{at(0.801), "right-hand"}, {at(0.799), ""}, {at(-0.801), "left-hand"}, {at(-0.799), ""}, {up(0.801), "upper"}, {up(0.799), ""},
		{up(-0.801), "lower"}, {up(-0.799), ""},
	} {
		if got := sideWord(front, c.d); got != c.want {
			t.Errorf("%v: %q, want %q", c.d, got, c.want)
		}
	}
	for _, c := range []struct {
		z    float64
		want bool
	}{{0.699, true}, {0.701, false}, {-0.699, true}, {-0.701, false}} {
		if got := isUpright(geom.V(math.Sqrt(1-c.z*c.z), 0, c.z)); got != c.want {
			t.Errorf("z of %v: %v", c.z, got)
		}
	}
	one := &model.Item{Ref: model.Ref{Name: "P"}, Kind: model.Plate, Set: &model.Set{Name: "S"}}
	one.Anchors = []*model.Anchor{{Item: one}}
	one.Set.Anchors = one.Anchors
	if got := anchorName(one.Anchors[0]); got != "P" {
		t.Errorf("the only anchor of a set and of its item: %q", got)
	}
	if got := kindNoun(model.Other); got != "item" {
		t.Errorf("another kind: %q", got)
	}
	p := &model.Sheet{Item: &model.Item{Kind: model.Template}}
	if got := sheetName(p); got != "the template" {
		t.Errorf("a template without a name: %q", got)
	}
	if got := sheetName(&model.Sheet{}); got != "the base plate" {
		t.Errorf("a plate without a name: %q", got)
	}
}

// The place of a set is that of its bolts: nuts, templates and twins do not move
// it, and a set of nothing else is placed by them.
func TestPlaceOfASet(t *testing.T) {
	bolt := &model.Item{Kind: model.Bolt}
	nut, twin, template := &model.Item{Kind: model.Fitting}, &model.Item{Kind: model.Bolt, Twin: true}, &model.Item{Kind: model.Template}
	g := &group{items: []*model.Item{nut, bolt, twin, template}}
	if got := g.main(); len(got) != 1 || got[0] != bolt {
		t.Errorf("got %d items", len(got))
	}
	g.items = []*model.Item{nut, template}
	if got := g.main(); len(got) != 2 {
		t.Errorf("of nuts and a template only: %d items", len(got))
	}
	at := func(x float64) string {
		it := &model.Item{Kind: model.Other, Box: geom.BoxOf(geom.V(x, 0, 0), geom.V(x+10, 10, 10))}
		return (&group{items: []*model.Item{it}}).place(hostID{frame: geom.Identity})
	}
	if at(0) == at(500) {
		t.Errorf("two places of an item without an axis are one: %s", at(0))
	}
	empty := &group{items: []*model.Item{{Kind: model.Other, Box: geom.EmptyBox}}}
	if got := empty.place(hostID{frame: geom.Identity}); !strings.HasSuffix(got, "|-1,-1,-1") {
		t.Errorf("an item without a body: %s", got)
	}
	a := &model.Anchor{Open: geom.V(1, 2, 3), Entry: &model.Entry{Point: geom.V(4, 5, 6)}}
	if got := entryPoint(a); got != geom.V(4, 5, 6) {
		t.Errorf("entry at %v", got)
	}
	if a.Entry = nil; entryPoint(a) != a.Open {
		t.Errorf("without an entry it is the open end, not %v", entryPoint(a))
	}
}

// The class names what was not read where no name does.
func TestUnreadBars(t *testing.T) {
	p := passOf(NotChecked, newScene(geom.Identity), Builtin())
	for _, c := range []struct{ class, want string }{{"IfcReinforcingBar", "IfcReinforcingBar"}, {"", "bar"}} {
		g := p.unreadGroup(&model.Unread{Ref: model.Ref{Class: c.class}, Role: "bar"}, map[string]*group{}, map[string]int{})
		if g.label != c.want {
			t.Errorf("%q: label %q", c.class, g.label)
		}
	}
	r, _ := Limit{{MM, 50}, {Diameters, 2.5}}.Resolve(finding.AtLeast, Basis{Diameter: 20})
	if r.Governs != MM {
		t.Errorf("of two entries that are equal %s governs", r.Governs)
	}
	if r = r.raise(50, "x", "y"); r.Governs != MM {
		t.Errorf("a sum that is no more than the limit governs: %s", r.Governs)
	}
}
