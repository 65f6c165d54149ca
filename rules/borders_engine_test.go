package rules

import (
	"math"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Figures get as many decimals as it takes to tell them apart, up to four.
func TestFiguresTellValuesApart(t *testing.T) {
	for _, c := range []struct {
		f         func(float64, float64) (string, string)
		got, want float64
		g, w      string
	}{
		{figures, 119.94, 120, "119.9", "120"}, {figures, 119.96, 120, "119.96", "120"}, {figures, 119.996, 120, "119.996", "120"},
		{figures, 119.9996, 120, "119.9996", "120"}, {figures, 119.99996, 120, "120", "120"}, {figures, 120, 120, "120", "120"},
		{figures, 119.99962, 120, "119.9996", "120"}, {figures2, 0.49963, 0.5, "0.4996", "0.5"}, {figures, 119.9962, 120, "119.996", "120"},
		{figures2, 0.49, 0.5, "0.49", "0.5"}, {figures2, 0.496, 0.5, "0.496", "0.5"}, {figures2, 0.4996, 0.5, "0.4996", "0.5"},
		{figures2, 0.49996, 0.5, "0.49996", "0.5"}, {figures2, 0.499996, 0.5, "0.5", "0.5"}, {figures2, 0.512, 0.512, "0.51", "0.51"},
	} {
		if g, w := c.f(c.got, c.want); g != c.g || w != c.w {
			t.Errorf("%v and %v: %q and %q, want %q and %q", c.got, c.want, g, w, c.g, c.w)
		}
	}
	if got := figure(-0.04); got != "0" {
		t.Errorf("a little less than nothing is %q", got)
	}
}

// passOf is a rule over a scene, before it has run.
func passOf(r *Rule, s *scene, set *Set) *Pass { return newPass(prepare(s.m, set, 1), r) }

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

// What a finding is about is an anchor by its number, or the item itself.
func TestNumberOfTheAnchorOfAHit(t *testing.T) {
	if got := (&hit{}).index(); got != -1 {
		t.Errorf("the item itself: %d", got)
	}
	if got := (&hit{Hit: Hit{Anchor: &model.Anchor{Index: 3}}}).index(); got != 3 {
		t.Errorf("the fourth anchor: %d", got)
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
