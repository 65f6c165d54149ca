package rules

import (
	"regexp"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/selector"
)

func TestParamsFor(t *testing.T) {
	set := &Set{
		Name: "site",
		Rules: map[string]Change{
			"edge-distance": {Limit: Limit{{MM, 70}}},
			"spacing":       {Priority: ptr(finding.Note)},
			"back-cover":    {Limit: Limit{{MM, 30}}, Source: ptr("drawing S-100")},
		},
		For: []For{
			{Items: selector.Selector{Kinds: []string{"bolt"}}, Rules: map[string]Change{"edge-distance": {Limit: Limit{{MM, 80}}, Priority: ptr(finding.Review)}}},
			{Items: named("^HB"), Rules: map[string]Change{"edge-distance": {Limit: Limit{{MM, 90}}}, "spacing": {Off: ptr(true)}}},
			{Items: selector.Selector{Host: regexp.MustCompile("^W1$")}, Rules: map[string]Change{"edge-distance": {Off: ptr(true)}}},
			{Items: named("^HB9$"), Rules: map[string]Change{"edge-distance": {Off: ptr(false)}}},
		},
	}
	w1 := &model.Host{Ref: model.Ref{Name: "W1"}}
	item := func(k model.Kind, name string, h *model.Host) *model.Item {
		return &model.Item{Kind: k, Ref: model.Ref{Name: name}, Host: h}
	}
	for _, c := range []struct {
		rule     *Rule
		it       *model.Item
		off      bool
		priority finding.Priority
		limit    string
		sources  string
	}{
		{EdgeDistance, item(model.Socket, "A", nil), false, finding.Hold, "70 mm", "rule file site"},
		{EdgeDistance, item(model.Plate, "A", nil), false, finding.Review, "70 mm", "rule file site"},
		{EdgeDistance, item(model.Bolt, "A", nil), false, finding.Review, "80 mm", "rule file site"},
		{EdgeDistance, item(model.Bolt, "HB1", nil), false, finding.Review, "90 mm", "rule file site"},
		{EdgeDistance, item(model.Bolt, "HB1", w1), true, finding.Review, "90 mm", "rule file site"},
		{EdgeDistance, item(model.Bolt, "HB9", w1), false, finding.Review, "90 mm", "rule file site"},
		{Spacing, item(model.Bolt, "A", nil), false, finding.Note, "6 diameters", Spacing.Default.Sources()},
		{Spacing, item(model.Stud, "A", nil), false, finding.Note, "4 diameters", Spacing.ForKinds[0].Sources()},
		{Spacing, item(model.Stud, "HB1", nil), true, finding.Note, "4 diameters", Spacing.ForKinds[0].Sources()},
		{BackCover, item(model.Stud, "A", nil), false, finding.Review, "30 mm", "drawing S-100"},
	} {
		p := set.ParamsFor(c.rule, c.it)
		if p.Off != c.off || p.Priority != c.priority || p.Limit.String() != c.limit || p.Sources() != c.sources {
			t.Errorf("%s for %s %s: got off %v, %v, %s, %s", c.rule.ID, c.it.Kind, c.it.Name, p.Off, p.Priority, p.Limit, p.Sources())
		}
	}
}

// The parameters of a pass, which are worked out for classes of items, are those
// that are worked out for one item.
func TestPassParamsAreThoseOfTheItem(t *testing.T) {
	set := &Set{For: []For{
		{Items: named("1$"), Rules: map[string]Change{"spacing": {Limit: Limit{{MM, 10}}}}},
		{Items: named("2"), Rules: map[string]Change{"spacing": {Limit: Limit{{MM, 20}}}}},
	}}
	m := &model.Model{}
	for _, name := range []string{"A", "A1", "A2", "A21", "B1", "B"} {
		for _, k := range []model.Kind{model.Bolt, model.Stud} {
			m.Items = append(m.Items, &model.Item{Kind: k, Ref: model.Ref{Name: name}})
		}
	}
	p := newPass(prepare(m, set, 1), Spacing)
	if len(p.classes) != 8 {
		t.Errorf("%d classes, want 8", len(p.classes))
	}
	for _, it := range m.Items {
		if got, want := p.Params(it).Limit.String(), set.ParamsFor(Spacing, it).Limit.String(); got != want {
			t.Errorf("%s %s: got %s, want %s", it.Kind, it.Name, got, want)
		}
	}
}

func TestSourceOfWhatGoverns(t *testing.T) {
	p := EdgeDistance.Default
	if got := p.source(Diameters); !strings.HasPrefix(got, "ACI 318-19") || !strings.Contains(got, "from memory") {
		t.Errorf("diameters: got %q", got)
	}
	if got := p.source(MM); got != "common practice, no published source" {
		t.Errorf("mm: got %q", got)
	}
	want := "50 mm: common practice, no published source; 6 diameters: ACI 318-19 Table 17.9.2(a), cast-in anchors that are torqued (from memory, clause not re-read)"
	if got := p.Sources(); got != want {
		t.Errorf("got %s", got)
	}
}
