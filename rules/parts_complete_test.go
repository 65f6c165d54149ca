package rules

import (
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// carrying are four bolts that stand out 100 mm, with parts at distances from
// their ends; a positive number is a nut, a negative one a washer.
func carrying(parts ...[]float64) func(*scene) {
	return func(s *scene) {
		for i, it := range four(s) {
			if i >= len(parts) {
				continue
			}
			for _, at := range parts[i] {
				p := model.Part{Kind: model.Nut, From: at, To: at + 18, Size: 34.6}
				if at < 0 {
					p = model.Part{Kind: model.Washer, From: -at, To: 3 - at, Size: 37}
				}
				it.Anchors[0].Parts = append(it.Anchors[0].Parts, p)
			}
		}
	}
}

// withTemplate puts a template of 8 mm over the bolts, 30 mm off the concrete: it
// lies from 62 to 70 mm below their ends. Only some of the bolts stand through it.
func withTemplate(n int, build func(*scene)) func(*scene) {
	return func(s *scene) {
		build(s)
		s.template(s.over("T", 850, 850, 1150, 1150, 30, 8, s.m.Items[:n]...))
	}
}

func asking(g Given) *Set {
	return &Set{Name: "test", Rules: map[string]Change{PartsComplete.ID: {Details: g}}}
}

func TestPartsComplete(t *testing.T) {
	pair := []float64{40, 70}
	checkAll(t, PartsComplete, []sceneCase{
		{"no hardware", Builtin(), carrying(), nil},
		{"a nut on each", Builtin(), carrying([]float64{40}, []float64{40}, []float64{40}, []float64{40}), nil},
		{"one of four lacks its nut", Builtin(), carrying([]float64{40}, []float64{40}, []float64{40}), []float64{0}},
		{"half of them", Builtin(), carrying([]float64{40}, []float64{40}), []float64{0, 0}},
		{"one bolt stands for all", Builtin(), carrying([]float64{40}), nil},
		{"one washer is missing", Builtin(), carrying([]float64{40, -58}, []float64{40, -58}, []float64{40, -58}, []float64{40}), []float64{1}},
		{"nuts at the embedded end are none of them", Builtin(), carrying([]float64{247}, []float64{247}, []float64{247}), nil},
		{"template with nuts on both sides", Builtin(), withTemplate(4, carrying(pair, pair, pair, pair)), nil},
		{"both nuts are over the template", Builtin(), withTemplate(4, carrying(pair, pair, pair, []float64{20, 40})), []float64{2}},
		{"one bolt beside the template", Builtin(), withTemplate(3, carrying(pair, pair, pair, pair)), []float64{2}},
		{"a lock nut more on one", Builtin(), carrying([]float64{20, 40}, []float64{40}, []float64{40}, []float64{40}), nil},
		{"another bolt of the set", Builtin(), func(s *scene) {
			carrying([]float64{40}, []float64{40}, []float64{40})(s)
			s.m.Items[3].Anchors[0].Diameter = 16
		}, nil},
		{"asked for, and there", asking(Given{"nuts": count(1)}), carrying([]float64{40}, []float64{40}, []float64{40}, []float64{40}), nil},
		{"two nuts asked for", asking(Given{"nuts": count(2)}), carrying(pair, pair, pair, []float64{40}), []float64{1}},
		{"levelling nuts asked for", asking(Given{"levelling_nuts": count(1), "plates": count(1)}), withTemplate(4, carrying(pair, pair, pair, []float64{40})), []float64{2}},
		{"a plate asked for", asking(Given{"plates": count(1)}), carrying([]float64{40}, []float64{40}, []float64{40}, []float64{40}), []float64{1, 1, 1, 1}},
	})
}

func TestPartsCompleteSays(t *testing.T) {
	pair := []float64{40, 70}
	for _, c := range []struct {
		set          *Set
		build        func(*scene)
		want, source string
	}{
		{Builtin(), withTemplate(4, carrying(pair, pair, pair, []float64{40})),
			"HD-1 bolt 4 carries 2 of 3 parts: it lacks a nut (30 mm across flats) under T, which others of its set have.", "common practice, no published source"},
		{Builtin(), withTemplate(3, carrying(pair, pair, pair, pair)),
			"HD-1 bolt 4 carries 2 of 3 parts: it lacks a plate to stand through, which others of its set have.", "common practice, no published source"},
		{asking(Given{"nuts": count(2), "washers": count(1)}), carrying([]float64{40, -58}, []float64{40, -58}, []float64{40, -58}, []float64{40}),
			"HD-1 bolt 4 carries 1 of 3 parts: it lacks a washer, which others of its set have; it lacks a nut (30 mm across flats), which the rule file asks for. 3 more places.", "rule file test"},
	} {
		f := onlyScene(t, PartsComplete, c.set, c.build)
		if f.Message != c.want || f.Source != c.source {
			t.Errorf("got %s [%s]", f.Message, f.Source)
		}
	}
}

// Where no bolt of the models has any part, a rule file that asks for some gets one
// note, not a finding for each set.
func TestPartsCompleteWithoutHardware(t *testing.T) {
	s := newScene(geom.Identity)
	four(s)
	s.add(s.m.Hosts[0], standing("E", 2000, 1000, 100))
	found := onlyWith(t, PartsComplete, s.m, asking(Given{"nuts": count(2)}))
	if len(found) != 1 || found[0].Priority != finding.Note || len(found[0].Instances) != 5 ||
		found[0].Message != "the rule file asks for parts on bolts; the models show no nut, washer or plate on any of 5." {
		t.Errorf("got %+v", found)
	}
}
