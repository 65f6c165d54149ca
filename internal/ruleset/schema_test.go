package ruleset

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"embedcheck/internal/model"
	"embedcheck/rules"
)

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("rules.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("rules.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What Parse takes the schema takes too, and the schema refuses what can be
// refused without knowing patterns and kinds.
func TestSchemaAgreesWithParse(t *testing.T) {
	s := compiled(t)
	for _, c := range []struct {
		file string
		ok   bool
	}{
		{`{}`, true},
		{string(Starter()), true},
		{`{"$schema": "x", "name": "a", "fail_on": "note", "rules": {"spacing": {"min": {"mm": 5, "in": 0.5}, "source": "b", "off": false}}}`, true},
		{`{"for": [{"items": {"kind": "bolt", "host": "^W"}, "rules": {}}]}`, true},
		{`{"for": [{"items": {"property": {"P.Q.R": "a"}}, "rules": {}}], "recognise": [{"match": {"name": "a"}, "as": "item", "kind": "plate"}]}`, true},
		{`{"rules": {"projection": {"stack": {"grout": {"mm": 30}, "plate": {"in": 0.75}, "nuts": 2, "spare": {"pitches": 1}}}}}`, true},
		{`{"rules": {"projection": {"stack": {}}}}`, false},
		{`{"rules": {"projection": {"stack": {"gruot": {"mm": 30}}}}}`, false},
		{`{"rules": {"projection": {"stack": {"grout": 30}}}}`, false},
		{`{"rules": {"projection": {"stack": {"grout": {"pitches": 3}}}}}`, false},
		{`{"rules": {"projection": {"stack": {"nuts": 1.5}}}}`, false},
		{`{"rules": {"projection": {"stack": {"nuts": 10}}}}`, false},
		{`{"rules": {"spacing": {"stack": {"nuts": 1}}}}`, false},
		{`{"tolerances": {"position": {"within": {"mm": 6}}, "level": {"minus": {"mm": 5}, "plus": {"in": 1}, "source": "a"}}}`, true},
		{`{"tolerances": {}, "for": [{"items": {"kind": "bolt"}, "tolerances": {"centres": {"within": {"mm": 2}}}}]}`, true},
		{`{"for": [{"items": {"kind": "bolt"}, "rules": {}, "tolerances": {}}]}`, true},
		{`[]`, false},
		{`{"tolerances": {"place": {"within": {"mm": 6}}}}`, false},
		{`{"tolerances": {"position": 6}}`, false},
		{`{"tolerances": {"position": {}}}`, false},
		{`{"tolerances": {"position": {"within": 6}}}`, false},
		{`{"tolerances": {"position": {"within": {}}}}`, false},
		{`{"tolerances": {"position": {"within": {"mm": 6, "in": 1}}}}`, false},
		{`{"tolerances": {"position": {"within": {"diameters": 6}}}}`, false},
		{`{"tolerances": {"position": {"within": {"mm": 0}}}}`, false},
		{`{"tolerances": {"position": {"within": {"mm": -1}}}}`, false},
		{`{"tolerances": {"position": {"minus": {"mm": 5}}}}`, false},
		{`{"tolerances": {"position": {"within": {"mm": 5}, "plus": {"mm": 5}}}}`, false},
		{`{"tolerances": {"position": {"within": {"mm": 5}, "source": ""}}}`, false},
		{`{"for": [{"items": {}, "tolerances": {}}]}`, false},
		{`{"nmae": "a"}`, false},
		{`{"name": ""}`, false},
		{`{"fail_on": "never"}`, false},
		{`{"rules": {"edge_distance": {}}}`, false},
		{`{"rules": {"not-checked": {"off": true}}}`, false},
		{`{"rules": {"spacing": {"min": 5}}}`, false},
		{`{"rules": {"spacing": {"min": {}}}}`, false},
		{`{"rules": {"spacing": {"max": {"mm": 5}}}}`, false},
		{`{"rules": {"spacing": {"min": {"bar_diameters": 5}}}}`, false},
		{`{"rules": {"spacing": {"min": {"mm": -5}}}}`, false},
		{`{"rules": {"spacing": {"min": {"mm": 1e7}}}}`, false},
		{`{"rules": {"unhosted": {"min": {"mm": 5}}}}`, false},
		{`{"for": [{"items": {"kind": "bolt"}}]}`, false},
		{`{"for": [{"items": {}, "rules": {}}]}`, false},
		{`{"for": [{"items": {"kind": []}, "rules": {}}]}`, false},
		{`{"for": [{"items": {"property": {"Zone": "a"}}, "rules": {}}]}`, false},
		{`{"recognise": [{"match": {"host": "a"}, "as": "host"}]}`, false},
		{`{"recognise": [{"match": {"name": "a"}, "as": "hosts"}]}`, false},
	} {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(c.file)))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(doc); (err == nil) != c.ok {
			t.Errorf("schema, %s: %v", c.file, err)
		}
		if _, err := Parse("r.json", []byte(c.file)); (err == nil) != c.ok {
			t.Errorf("Parse, %s: %v", c.file, err)
		}
	}
}

func TestSchemaIsStable(t *testing.T) {
	a, b := Schema(), Schema()
	if !bytes.Equal(a, b) || !json.Valid(a) {
		t.Error("two calls give different bytes, or no JSON")
	}
}

// The starter file states the built-in limits: with it nothing changes.
func TestStarterStatesTheBuiltInRules(t *testing.T) {
	set, err := Parse("starter.json", Starter())
	if err != nil {
		t.Fatal(err)
	}
	builtin := rules.Builtin()
	if set.FailOn != builtin.FailOn {
		t.Errorf("fail_on: got %v", set.FailOn)
	}
	for _, r := range rules.All {
		for _, k := range r.Kinds {
			it := &model.Item{Kind: k}
			got, want := set.ParamsFor(r, it), builtin.ParamsFor(r, it)
			if got.Off != want.Off || got.Priority != want.Priority || got.Limit.String() != want.Limit.String() || got.Source != want.Sources() {
				t.Errorf("%s for %s:\n got %+v\nwant %+v", r.ID, k, got, want)
			}
		}
		if g := set.General(r); g.Priority != r.Default.Priority || (g.Source == "") != (len(r.Default.Cites) == 0) {
			t.Errorf("%s: got %+v", r.ID, g)
		}
	}
	if len(set.Recognise) != 0 {
		t.Error("the starter file overrides recognition")
	}
}
