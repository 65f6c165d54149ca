package ruleset

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/bounded"
	"embedcheck/internal/finding"
	"embedcheck/internal/selector"
	"embedcheck/rules"
)

func TestParseWhole(t *testing.T) {
	const file = `{
 "$schema": "rules.schema.json",
 "name": "Pump station,  release rules",
 "fail_on": "review",
 "rules": {
  "edge-distance": {"priority": "note", "min": {"diameters": 6, "mm": 50}, "source": "drawing S-100"},
  "spacing": {"off": true}
 },
 "for": [
  {"items": {"kind": "lifter"}, "rules": {"edge-distance": {"min": {"mm": 300}}}},
  {"items": {"kind": ["bolt", "stud"], "class": "ifcmechanicalfastener$", "property": {"Pset_Item.Zone": "^wet$"}, "host": "^W"},
   "rules": {"back-cover": {"min": {"in": 2}}}}
 ],
 "recognise": [
  {"match": {"class": "IfcBuildingElementProxy", "name": "^WP-"}, "as": "item", "kind": "plate"},
  {"match": {"mark": "^X"}, "as": "ignore"}
 ]
}`
	set, err := Parse("dir/rules.json", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	if set.Name != "Pump station, release rules" || set.FailOn != finding.Review || len(set.SHA256) != 64 {
		t.Errorf("got name %q, fail_on %v, sha256 %q", set.Name, set.FailOn, set.SHA256)
	}
	edge := set.Rules["edge-distance"]
	if *edge.Priority != finding.Note || edge.Limit.String() != "50 mm, 6 diameters" || *edge.Source != "drawing S-100" || edge.Off != nil {
		t.Errorf("edge-distance: got %+v", edge)
	}
	if off := set.Rules["spacing"].Off; off == nil || !*off {
		t.Error("spacing is not off")
	}
	lifter := selector.Subject{Kind: "lifter"}
	wet := selector.Subject{Kind: "stud", Class: "IfcMechanicalFastener", HostMark: "W-1", Property: func(string) (string, bool) { return "wet", true }}
	if f := &set.For[0]; !f.Items.Match(&lifter) || f.Items.Match(&wet) || f.Rules["edge-distance"].Limit.String() != "300 mm" {
		t.Errorf("for lifters: got %+v", f)
	}
	if f := &set.For[1]; f.Items.Match(&lifter) || !f.Items.Match(&wet) || f.Rules["back-cover"].Limit.String() != "2 in" {
		t.Errorf("for bolts and studs: got %+v", f)
	}
	if r := set.Recognise; len(r) != 2 || r[0].As != selector.Item || r[0].Kind != "plate" || r[0].Line != 15 || r[1].As != selector.Ignore {
		t.Errorf("recognise: got %+v", r)
	}
}

func TestParseNamesTheFileByDefault(t *testing.T) {
	set, err := Parse("dir/site.json", []byte("\ufeff{}"))
	if err != nil {
		t.Fatal(err)
	}
	if set.Name != "site.json" || set.FailOn != finding.Hold {
		t.Errorf("got name %q, fail_on %v", set.Name, set.FailOn)
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct{ name, file, want string }{
		{"empty", ``, `r.json:1: not JSON: unexpected end of JSON input`},
		{"cut off", "{\n \"name\": \"a\",\n", `r.json:3: not JSON: unexpected end of JSON input`},
		{"comma", "{\n \"name\": \"a\",\n}", `r.json:3: not JSON: invalid character '}' looking for beginning of object key string`},
		{"two values", "{}\n{}", `r.json:2: not JSON: invalid character '{' after top-level value`},
		{"no object", `[]`, `r.json:1: want an object, found a list`},
		{"bytes", "{\n\"name\": \"\xff\"}", `r.json:2: not UTF-8 text: save the file as UTF-8`},
		{"unknown key", "{\n\n \"nmae\": \"a\"}", `r.json:3: key "nmae": unknown key; did you mean "name"?`},
		{"far off", `{"x": 1}`, `r.json:1: key "x": unknown key; known are $schema, fail_on, for, name, recognise, rules, tolerances`},
		{"twice", "{\"name\": \"a\",\n\"name\": \"b\"}", `r.json:2: key "name": stated twice in one object`},
		{"name", `{"name": 7}`, `r.json:1: key "name": want a text, found a number`},
		{"no name", `{"name": " "}`, `r.json:1: key "name": want a name, found an empty text`},
		{"fail_on", `{"fail_on": "holt"}`, `r.json:1: key "fail_on": unknown priority "holt"; did you mean "hold"?`},
		{"rules", `{"rules": []}`, `r.json:1: key "rules": want an object, found a list`},
		{"unknown rule", "{\"rules\": {\n\"edge_distance\": {}}}", `r.json:2: key "edge_distance": unknown rule; did you mean "edge-distance"?`},
		{"rule twice", `{"rules": {"spacing": {}, "spacing": {}}}`, `r.json:1: key "spacing": stated twice in one object`},
		{"rule key", `{"rules": {"spacing": {"prio": "hold"}}}`, `r.json:1: key "prio": unknown key; did you mean "priority"?`},
		{"priority", `{"rules": {"spacing": {"priority": null}}}`, `r.json:1: key "priority": want a text, found null`},
		{"off", `{"rules": {"spacing": {"off": "yes"}}}`, `r.json:1: key "off": want true or false, found a text`},
		{"always", `{"rules": {"not-checked": {"off": true}}}`, `r.json:1: key "off": not-checked cannot be switched off: it tells what other rules are silent about`},
		{"source", `{"rules": {"spacing": {"source": ""}}}`, `r.json:1: key "source": want a source, found an empty text`},
		{"max for min", `{"rules": {"spacing": {"max": {"mm": 5}}}}`, `r.json:1: key "max": spacing has a "min"`},
		{"no limit", `{"rules": {"unhosted": {"min": {"mm": 5}}}}`, `r.json:1: key "min": unhosted has no limit`},
		{"bare number", `{"rules": {"spacing": {"min": 5}}}`, `r.json:1: key "min": want an object, found a number`},
		{"no entry", `{"rules": {"spacing": {"min": {}}}}`, `r.json:1: key "min": a limit needs an entry: mm, in, diameters, embedments, thicknesses`},
		{"unknown detail", "{\"rules\": {\"projection\": {\"stack\": {\n\"gruot\": {\"mm\": 30}}}}}", `r.json:2: key "gruot": unknown key; did you mean "grout"?`},
		{"no detail", `{"rules": {"projection": {"stack": {}}}}`, `r.json:1: key "stack": states nothing; it knows grout, plate, washers, washer, nuts, nut, levelling_nuts, spare`},
		{"bare detail", `{"rules": {"projection": {"stack": {"grout": 30}}}}`, `r.json:1: key "grout": want an object, found a number`},
		{"strange unit of a detail", `{"rules": {"projection": {"stack": {"grout": {"pitches": 3}}}}}`, `r.json:1: key "pitches": means nothing for stack.grout; it knows mm, in, diameters`},
		{"half a nut", `{"rules": {"projection": {"stack": {"nuts": 1.5}}}}`, `r.json:1: key "nuts": want a whole number up to 9, found 1.5`},
		{"details of another rule", `{"rules": {"spacing": {"stack": {"nuts": 1}}}}`, `r.json:1: key "stack": unknown key; known are max, min, off, priority, source`},
		{"unknown unit", `{"rules": {"spacing": {"min": {"diameter": 5}}}}`, `r.json:1: key "diameter": unknown key; did you mean "diameters"?`},
		{"strange unit", `{"rules": {"spacing": {"min": {"bar_diameters": 5}}}}`, `r.json:1: key "bar_diameters": means nothing for spacing; it knows mm, in, diameters, embedments, thicknesses`},
		{"text for number", `{"rules": {"spacing": {"min": {"mm": "50"}}}}`, `r.json:1: key "mm": want a number, found a text`},
		{"negative", `{"rules": {"spacing": {"min": {"mm": -50}}}}`, `r.json:1: key "mm": a limit is not negative, found -50`},
		{"huge", `{"rules": {"spacing": {"min": {"mm": 1e999}}}}`, `r.json:1: key "mm": larger than anything that is built, found 1e999`},
		{"entry twice", `{"rules": {"spacing": {"min": {"mm": 5, "mm": 6}}}}`, `r.json:1: key "mm": stated twice in one object`},
		{"for", `{"for": {}}`, `r.json:1: key "for": want a list, found an object`},
		{"for entry", "{\"for\": [\n 7]}", `r.json:2: key "for": want an object, found a number`},
		{"for without rules", "{\"for\": [\n {\"items\": {\"kind\": \"bolt\"}}]}", `r.json:2: key "for": an entry has "items" and "rules", or "items" and "tolerances"`},
		{"for all", `{"for": [{"items": {}, "rules": {}}]}`, `r.json:1: key "items": states nothing; what is for all items stands under "rules" of the file`},
		{"kind", `{"for": [{"items": {"kind": "bold"}, "rules": {}}]}`, `r.json:1: key "kind": unknown kind "bold"; did you mean "bolt"?`},
		{"kinds", `{"for": [{"items": {"kind": []}, "rules": {}}]}`, `r.json:1: key "kind": want a kind, found an empty list`},
		{"pattern", `{"for": [{"items": {"name": "["}, "rules": {}}]}`, "r.json:1: key \"name\": not a pattern: missing closing ]: `[`"},
		{"property", `{"for": [{"items": {"property": {"Zone": "a"}}, "rules": {}}]}`, `r.json:1: key "Zone": want "Pset.Name", the property set and the property`},
		{"property text", `{"for": [{"items": {"property": "a"}, "rules": {}}]}`, `r.json:1: key "property": want an object, found a text`},
		{"no effect", `{"for": [{"items": {"kind": "sleeve"}, "rules": {"spacing": {"off": true}}}]}`, `r.json:1: key "spacing": the rule does not look at items of kind sleeve`},
		{"match", `{"recognise": [{"as": "host"}]}`, `r.json:1: key "recognise": an entry has "match" and "as"`},
		{"match all", `{"recognise": [{"match": {}, "as": "host"}]}`, `r.json:1: key "match": states nothing; it would take every element for the same`},
		{"as", `{"recognise": [{"match": {"name": "a"}, "as": "hosts"}]}`, `r.json:1: key "as": unknown role "hosts"; did you mean "host"?`},
		{"kind of host", `{"recognise": [{"match": {"name": "a"}, "as": "host", "kind": "bolt"}]}`, `r.json:1: key "kind": only what is taken as "item" has a kind`},
		{"match by kind", `{"recognise": [{"match": {"kind": "bolt"}, "as": "host"}]}`, `r.json:1: key "kind": not known yet when elements are recognised`},
		{"escaped key", `{"\u006eame": 7}`, `r.json:1: key "name": want a text, found a number`},
	} {
		set, err := Parse("r.json", []byte(c.file))
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
		if err != nil && set != nil {
			t.Errorf("%s: a set beside an error", c.name)
		}
		var e *Error
		if err != nil && !errors.As(err, &e) {
			t.Errorf("%s: the error is a %T", c.name, err)
		}
	}
}

func TestParseTellsAllMistakes(t *testing.T) {
	_, err := Parse("r.json", []byte("{\"rules\": {\n\"spacing\": {\"off\": 1},\n\"sapcing\": {}}}"))
	want := "r.json:2: key \"off\": want true or false, found a number\nr.json:3: key \"sapcing\": unknown rule; did you mean \"spacing\"?"
	if err == nil || err.Error() != want {
		t.Errorf("got %v", err)
	}
	many := `{"rules": {` + strings.Repeat(`"x": {}, `, 99) + `"x": {}}}`
	_, err = Parse("r.json", []byte(many))
	if n := strings.Count(err.Error(), "\n") + 1; n != maxErrors {
		t.Errorf("%d errors told, want %d", n, maxErrors)
	}
}

func TestReadFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.json")
	if _, err := Read(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("missing file: got %v", err)
	}
	if err := os.WriteFile(path, []byte(`{"name": "a"}`), 0o666); err != nil {
		t.Fatal(err)
	}
	if set, err := Read(path); err != nil || set.Name != "a" {
		t.Errorf("got %+v, %v", set, err)
	}
	if err := os.WriteFile(path, []byte(strings.Repeat(" ", maxSize+1)), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(path); err == nil || !strings.Contains(err.Error(), "larger than 4 MB") {
		t.Errorf("large file: got %v", err)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(`{}`))
	f.Add(Starter())
	f.Add([]byte(`{"rules": {"edge_distance": {"min": {"mm": -1}}}}`))
	f.Add([]byte(`{"for": [{"items": {"kind": ["bolt"], "property": {"P.N": "("}}, "rules": {"spacing": {"off": true}}}]}`))
	f.Add([]byte(`{"tolerances": {"level": {"minus": {"mm": 5}, "plus": {"in": 1}}}, "for": [{"items": {"kind": "bolt"}, "tolerances": {"fit": {"within": {"mm": 0}}}}]}`))
	f.Add([]byte(`{"recognise": [{"match": {"class": "Proxy"}, "as": "item", "kind": "plate"}], "\u0000": [[[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var set *rules.Set
		var err error
		bounded.Work(t, len(data), bounded.Limit{Base: 8 << 20, PerByte: 2000}, func() { set, err = Parse("r.json", data) })
		if (set == nil) == (err == nil) {
			t.Fatalf("got set %v and error %v", set, err)
		}
		if err == nil {
			for id := range set.Rules {
				if rules.Find(id) == nil {
					t.Errorf("rule %q is in the set", id)
				}
			}
			return
		}
		lines := strings.Count(string(data), "\n") + 1
		joined, ok := err.(interface{ Unwrap() []error })
		list := []error{err}
		if ok {
			list = joined.Unwrap()
		}
		for _, one := range list {
			var e *Error
			if !errors.As(one, &e) || e.Line < 1 || e.Line > lines || e.Text == "" {
				t.Errorf("error %v: outside the %d lines of the file", one, lines)
			}
		}
	})
}
