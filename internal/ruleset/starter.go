package ruleset

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"embedcheck/rules"
)

// Starter is a rule file that states all built-in limits with their sources: a
// project deletes what it leaves as it is and changes the rest.
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
	fmt.Fprintf(&b, " %s: {\n%s\n },\n", quote("rules"), strings.Join(lines, ",\n"))
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

func quote(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		panic(err) // texts always marshal
	}
	return strings.TrimSuffix(b.String(), "\n")
}
