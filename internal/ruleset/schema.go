package ruleset

import (
	"encoding/json"

	"embedcheck/internal/model"
	"embedcheck/internal/selector"
	"embedcheck/rules"
)

type object = map[string]any

// Schema is the JSON Schema (draft 2020-12) of rule files, for editors that
// complete and check while one types. What it accepts may still be refused for
// its patterns and for limits that do not go with the items.
func Schema() []byte {
	root := closed(object{
		"$schema":    object{"type": "string"},
		"name":       text("What the rule file is called in reports."),
		"fail_on":    object{"$ref": "#/$defs/priority", "description": "The least priority that makes a check end with exit code 1."},
		"rules":      object{"$ref": "#/$defs/rules", "description": "What is different from the built-in rules for all items."},
		"tolerances": object{"$ref": "#/$defs/tolerances", "description": "What measured values may be off by, for all items."},
		"for":        object{"type": "array", "description": "What is different for some items; the last match wins.", "items": object{"$ref": "#/$defs/for"}},
		"recognise":  object{"type": "array", "description": "What elements are, against the judgement of recognition; the last match wins.", "items": object{"$ref": "#/$defs/recognise"}},
	})
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "embedcheck rule file"
	root["$defs"] = object{
		"priority":   object{"enum": priorities()},
		"kind":       object{"enum": model.Kinds()},
		"rules":      ruleSchemas(),
		"items":      selectorSchema(true),
		"elements":   selectorSchema(false),
		"for":        forSchema(),
		"tolerances": toleranceSchemas(),
		"tolerance":  toleranceSchema(),
		"length":     lengthSchema(),
		"recognise":  closed(object{"match": object{"$ref": "#/$defs/elements"}, "as": object{"enum": selector.AsNames()}, "kind": object{"$ref": "#/$defs/kind"}}, "match", "as"),
	}
	out, err := json.MarshalIndent(root, "", " ")
	if err != nil {
		panic(err) // maps of texts always marshal
	}
	return append(out, '\n')
}

// closed is an object with no other keys than those given.
func closed(properties object, required ...string) object {
	o := object{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		o["required"] = required
	}
	return o
}

func text(about string) object { return object{"type": "string", "minLength": 1, "description": about} }

func ruleSchemas() object {
	all := object{}
	for _, r := range rules.All {
		p := object{
			"priority": object{"$ref": "#/$defs/priority"},
			"source":   text("Where the limit comes from."),
			"off":      object{"type": "boolean"},
		}
		if r.Always {
			p["off"] = object{"const": false}
		}
		if len(r.Entries) > 0 {
			p[limitKey(r)] = limitSchema(r)
		}
		if r.Details.Key != "" {
			p[r.Details.Key] = detailSchema(&r.Details)
		}
		s := closed(p)
		s["description"] = r.Title + ". " + r.Doc.Measured
		all[r.ID] = s
	}
	return closed(all)
}

func forSchema() object {
	s := closed(object{
		"items": object{"$ref": "#/$defs/items"}, "rules": object{"$ref": "#/$defs/rules"}, "tolerances": object{"$ref": "#/$defs/tolerances"},
	}, "items")
	s["anyOf"] = []any{object{"required": []string{"rules"}}, object{"required": []string{"tolerances"}}}
	return s
}

func toleranceSchemas() object {
	all := object{}
	for _, k := range rules.ToleranceKinds {
		all[string(k)] = object{"$ref": "#/$defs/tolerance"}
	}
	return closed(all)
}

func toleranceSchema() object {
	length := object{"$ref": "#/$defs/length"}
	s := closed(object{"within": length, "minus": length, "plus": length, "source": text("Where the tolerance comes from.")})
	s["oneOf"] = []any{
		object{"required": []string{"within"}, "not": object{"anyOf": []any{object{"required": []string{"minus"}}, object{"required": []string{"plus"}}}}},
		object{"required": []string{"minus", "plus"}, "not": object{"required": []string{"within"}}},
	}
	s["description"] = "What a measured value may be off by: within, to both sides, or minus and plus."
	return s
}

func lengthSchema() object {
	p := object{}
	for _, u := range []rules.Unit{rules.MM, rules.Inch} {
		p[string(u)] = object{"type": "number", "exclusiveMinimum": 0, "maximum": maxNumber}
	}
	s := closed(p)
	s["minProperties"], s["maxProperties"] = 1, 1
	return s
}

func detailSchema(d *rules.Details) object {
	p := object{}
	for _, one := range d.List {
		s := object{"type": "integer", "minimum": 0, "maximum": rules.MostCount}
		if one.Entries != nil {
			s = termsSchema(one.Entries)
		}
		s["description"] = one.Doc
		p[one.Name] = s
	}
	s := closed(p)
	s["minProperties"] = 1
	s["description"] = d.Doc
	return s
}

// termsSchema is an object of numbers by unit, at least one.
func termsSchema(units []rules.Unit) object {
	p := object{}
	for _, u := range units {
		p[string(u)] = object{"type": "number", "minimum": 0, "maximum": maxNumber}
	}
	s := closed(p)
	s["minProperties"] = 1
	return s
}

func limitSchema(r *rules.Rule) object {
	s := termsSchema(r.Entries)
	s["description"] = "All entries are worked out; the largest governs."
	if limitKey(r) == "max" {
		s["description"] = "All entries are worked out; the smallest governs."
	}
	return s
}

func selectorSchema(items bool) object {
	p := object{
		"property": object{
			"type": "object", "minProperties": 1,
			"propertyNames":        object{"pattern": `^[^.]+\..+$`},
			"additionalProperties": object{"type": "string"},
			"description":          `Patterns for values, by "Pset.Name".`,
		},
	}
	for _, k := range []string{"class", "name", "mark", "type", "material"} {
		p[k] = object{"type": "string", "description": "An RE2 pattern."}
	}
	if items {
		p["host"] = object{"type": "string", "description": "An RE2 pattern for the host's name or mark."}
		kind := object{"$ref": "#/$defs/kind"}
		p["kind"] = object{"anyOf": []any{kind, object{"type": "array", "minItems": 1, "items": kind}}}
	}
	s := closed(p)
	s["minProperties"] = 1
	return s
}
