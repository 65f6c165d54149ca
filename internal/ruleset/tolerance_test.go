package ruleset

import (
	"strings"
	"testing"

	"embedcheck/internal/model"
	"embedcheck/rules"
)

func TestTolerances(t *testing.T) {
	set, err := Parse("site.json", []byte(`{
 "tolerances": {"position": {"within": {"mm": 6}, "source": "drawing S-101, note 9"}, "level": {"minus": {"mm": 5}, "plus": {"in": 1}}},
 "for": [
  {"items": {"kind": "lifter"}, "tolerances": {"position": {"within": {"mm": 20}}}},
  {"items": {"name": "^LI"}, "rules": {"spacing": {"off": true}}},
  {"items": {"name": "^LI-9"}, "tolerances": {"position": {"within": {"mm": 15}}}}
 ]
}`))
	if err != nil {
		t.Fatal(err)
	}
	item := func(kind model.Kind, name string) *model.Item {
		return &model.Item{Kind: kind, Ref: model.Ref{Name: name}}
	}
	for _, c := range []struct {
		name string
		item *model.Item
		kind rules.ToleranceKind
		want rules.Tolerance
		ok   bool
	}{
		{"bolt", item(model.Bolt, "A"), rules.TolPosition, rules.Tolerance{Minus: 6, Plus: 6, Source: "drawing S-101, note 9"}, true},
		{"form", nil, rules.TolPosition, rules.Tolerance{Minus: 6, Plus: 6, Source: "drawing S-101, note 9"}, true},
		{"lifter", item(model.Lifter, "LI-1"), rules.TolPosition, rules.Tolerance{Minus: 20, Plus: 20, Source: "rule file site.json"}, true},
		{"the last wins", item(model.Lifter, "LI-9"), rules.TolPosition, rules.Tolerance{Minus: 15, Plus: 15, Source: "rule file site.json"}, true},
		{"two sides", item(model.Bolt, "A"), rules.TolLevel, rules.Tolerance{Minus: 5, Plus: 25.4, Source: "rule file site.json"}, true},
		{"silent", item(model.Bolt, "A"), rules.TolCentres, rules.Tolerance{}, false},
	} {
		got, ok := set.Tolerance(c.item, c.kind)
		if got != c.want || ok != c.ok {
			t.Errorf("%s: got %+v, %v, want %+v", c.name, got, ok, c.want)
		}
	}
}

func TestToleranceErrors(t *testing.T) {
	for _, c := range []struct{ file, want string }{
		{"{\"tolerances\":\n {\"positon\": {}}}", `r.json:2: key "positon": unknown key; did you mean "position"?`},
		{"{\"tolerances\":\n {\"position\": {\n\"within\": {\"cm\": 1}}}}", `r.json:3: key "cm": unknown key; did you mean "mm"?`},
		{"{\"tolerances\":\n {\"position\": {\n\"within\": {\"mm\": 0}}}}", `r.json:3: key "mm": no measured value is within a tolerance of 0`},
		{"{\"tolerances\":\n {\"level\": {\"plus\": {\"mm\": 5}}}}", `r.json:2: key "level": a tolerance is either "within", to both sides, or "minus" and "plus"`},
		{"{\"tolerances\":\n {\"level\": {\"within\": {}}}}", `r.json:2: key "within": want one entry, mm or in`},
		{"{\"for\": [\n{\"items\": {\"kind\": \"bolt\"}}]}", `r.json:2: key "for": an entry has "items" and "rules", or "items" and "tolerances"`},
	} {
		_, err := Parse("r.json", []byte(c.file))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s:\n got %v\nwant %s", c.file, err, c.want)
		}
	}
}
