package ruleset

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"embedcheck/internal/model"
	"embedcheck/internal/setout"
	"embedcheck/rules"
)

// Starter is a rule file that states all built-in limits and tolerances with
// their sources: a project deletes what it leaves as it is and changes the rest.
func Starter() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n %s: %s,\n %s: %s,\n", quote("name"), quote("Project rules"), quote("fail_on"), quote(rules.Builtin().FailOn.String()))
	var lines, special []string
	for _, r := range rules.All {
		lines = append(lines, "  "+quote(r.ID)+": "+paramsText(r, &r.Default))
		for i := range r.ForKinds {
			special = append(special, forText(r, &r.ForKinds[i]))
		}
	}
	general, perKind := toleranceTexts(setout.DefaultTolerances())
	special = append(special, perKind...)
	fmt.Fprintf(&b, " %s: {\n%s\n },\n", quote("rules"), strings.Join(lines, ",\n"))
	fmt.Fprintf(&b, " %s: {\n%s\n },\n", quote("tolerances"), strings.Join(general, ",\n"))
	fmt.Fprintf(&b, " %s: [\n%s\n ],\n %s: []\n}\n", quote("for"), strings.Join(special, ",\n"), quote("recognise"))
	return b.Bytes()
}

func forText(r *rules.Rule, f *rules.KindParams) string {
	kinds := make([]string, len(f.Kinds))
	for i, k := range f.Kinds {
		kinds[i] = quote(k.String())
	}
	list := kinds[0]
	if len(kinds) > 1 {
		list = "[" + strings.Join(kinds, ", ") + "]"
	}
	return fmt.Sprintf("  {%s: {%s: %s}, %s: {%s: %s}}",
		quote("items"), quote("kind"), list, quote("rules"), quote(r.ID), paramsText(r, &f.Params))
}

func paramsText(r *rules.Rule, p *rules.Params) string {
	parts := []string{quote("priority") + ": " + quote(p.Priority.String())}
	if p.Off {
		parts = append(parts, quote("off")+": true")
	}
	if len(p.Limit) > 0 {
		var entries []string
		for _, t := range p.Limit {
			entries = append(entries, quote(string(t.Unit))+": "+strconv.FormatFloat(t.Value, 'f', -1, 64))
		}
		parts = append(parts, quote(limitKey(r))+": {"+strings.Join(entries, ", ")+"}")
	}
	if s := p.Sources(); s != "" {
		parts = append(parts, quote("source")+": "+quote(s))
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// toleranceTexts are the tolerances for all items, and the entries of "for" of
// those for items of a kind.
func toleranceTexts(t setout.Tolerances) (general, perKind []string) {
	for _, k := range rules.ToleranceKinds {
		if v, ok := t.Any[setout.ToleranceKind(k)]; ok {
			general = append(general, "  "+toleranceText(k, v))
		}
	}
	for i, kind := range model.Kinds() {
		var own []string
		for _, k := range rules.ToleranceKinds {
			if v, ok := t.Item[setout.ToleranceFor{Kind: setout.ToleranceKind(k), Item: model.Kind(i)}]; ok {
				own = append(own, toleranceText(k, v))
			}
		}
		if len(own) > 0 {
			perKind = append(perKind, fmt.Sprintf("  {%s: {%s: %s}, %s: {%s}}",
				quote("items"), quote("kind"), quote(kind), quote("tolerances"), strings.Join(own, ", ")))
		}
	}
	return general, perKind
}

func toleranceText(k rules.ToleranceKind, t setout.Tolerance) string {
	mm := func(v float64) string {
		return fmt.Sprintf("{%s: %s}", quote(string(rules.MM)), strconv.FormatFloat(v, 'f', -1, 64))
	}
	sides := quote("within") + ": " + mm(t.Plus)
	if t.Minus != t.Plus {
		sides = quote("minus") + ": " + mm(t.Minus) + ", " + quote("plus") + ": " + mm(t.Plus)
	}
	return fmt.Sprintf("%s: {%s, %s: %s}", quote(string(k)), sides, quote("source"), quote(t.Source))
}

func quote(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		panic(err) // texts always marshal
	}
	return strings.TrimSuffix(b.String(), "\n")
}
