package rules

import (
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

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

// A template whose upper side stands out by no more than 1 mm is cast in.
func TestTemplatesThatAreCastIn(t *testing.T) {
	at := func(gap float64) func(*scene) {
		return func(s *scene) { s.template(s.over("T", 850, 850, 1150, 1150, gap, 8, four(s)...)) }
	}
	check(t, TemplateStandoff, Builtin(), "0.98 mm out", nil, at(-7.02))
	check(t, TemplateStandoff, Builtin(), "1.02 mm out", []float64{-6.98}, at(-6.98))
}
