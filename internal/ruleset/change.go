package ruleset

import (
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// changes reads what is stated about rules. kinds are those of the items that it
// is for; nil when it is for all.
func (r *reader) changes(v value, kinds []string) map[string]rules.Change {
	out := map[string]rules.Change{}
	r.entries(v, func(e value) {
		rule := rules.Find(e.key)
		if rule == nil {
			r.fail(e, "unknown rule%s", suggest(e.key, ruleIDs()))
			return
		}
		if kinds != nil && !looksAt(rule, kinds) {
			r.fail(e, "the rule does not look at items of kind %s", strings.Join(kinds, ", "))
			return
		}
		out[rule.ID] = r.change(e, rule)
	})
	return out
}

func ruleIDs() []string {
	var ids []string
	for _, rule := range rules.All {
		ids = append(ids, rule.ID)
	}
	return ids
}

func looksAt(rule *rules.Rule, kinds []string) bool {
	return slices.ContainsFunc(rule.Kinds, func(k model.Kind) bool { return slices.Contains(kinds, k.String()) })
}

func (r *reader) change(v value, rule *rules.Rule) rules.Change {
	var c rules.Change
	known := fields{
		"off": func(v value) {
			if b, ok := r.bool(v); ok {
				if b && rule.Always {
					r.fail(v, "%s cannot be switched off: it tells what other rules are silent about", rule.ID)
				}
				c.Off = &b
			}
		},
		"priority": func(v value) {
			if p, ok := r.priority(v); ok {
				c.Priority = &p
			}
		},
		"source": func(v value) {
			if s, ok := r.string(v); ok {
				if s = finding.Plain(s); s == "" {
					r.fail(v, "want a source, found an empty text")
				}
				c.Source = &s
			}
		},
		"min": func(v value) { r.limit(v, rule, finding.AtLeast, &c) },
		"max": func(v value) { r.limit(v, rule, finding.AtMost, &c) },
	}
	if rule.Details.Key != "" {
		known[rule.Details.Key] = func(v value) { c.Details = r.details(v, rule) }
	}
	r.object(v, known)
	return c
}

// limit reads a "min" or a "max".
func (r *reader) limit(v value, rule *rules.Rule, is finding.Relation, c *rules.Change) {
	switch {
	case len(rule.Entries) == 0:
		r.fail(v, "%s has no limit", rule.ID)
		return
	case rule.Relation != is:
		r.fail(v, "%s has a %q", rule.ID, limitKey(rule))
		return
	}
	c.Limit = r.terms(v, rule.ID, rule.Entries)
}

// terms reads entries in the units that name knows.
func (r *reader) terms(v value, name string, units []rules.Unit) rules.Limit {
	read := fields{}
	var got rules.Limit
	for _, u := range units {
		read[string(u)] = func(v value) {
			if n, ok := r.number(v); ok {
				got = append(got, rules.Term{Unit: u, Value: n})
			}
		}
	}
	for _, u := range rules.Units {
		if read[string(u)] == nil {
			read[string(u)] = func(v value) { r.fail(v, "means nothing for %s; it knows %s", name, unitNames(units)) }
		}
	}
	before := len(r.errs)
	r.object(v, read)
	if len(got) == 0 && len(r.errs) == before {
		r.fail(v, "a limit needs an entry: %s", unitNames(units))
	}
	slices.SortFunc(got, func(a, b rules.Term) int {
		return slices.Index(rules.Units, a.Unit) - slices.Index(rules.Units, b.Unit)
	})
	return got
}

// details reads what is stated of a rule besides its limit.
func (r *reader) details(v value, rule *rules.Rule) rules.Given {
	out := rules.Given{}
	read := fields{}
	for _, d := range rule.Details.List {
		read[d.Name] = func(v value) {
			if d.Entries != nil {
				out[d.Name] = r.terms(v, rule.Details.Key+"."+d.Name, d.Entries)
			} else if n, ok := r.count(v); ok {
				out[d.Name] = rules.Limit{{Unit: rules.Count, Value: n}}
			}
		}
	}
	before := len(r.errs)
	r.object(v, read)
	if len(out) == 0 && len(r.errs) == before {
		r.fail(v, "states nothing; it knows %s", detailNames(rule))
	}
	return out
}

func detailNames(rule *rules.Rule) string {
	names := make([]string, len(rule.Details.List))
	for i, d := range rule.Details.List {
		names[i] = d.Name
	}
	return strings.Join(names, ", ")
}

// count reads a whole number.
func (r *reader) count(v value) (float64, bool) {
	n, ok := r.number(v)
	if ok && (n != float64(int(n)) || n > rules.MostCount) {
		r.fail(v, "want a whole number up to %d, found %s", rules.MostCount, v.Raw)
		return 0, false
	}
	return n, ok
}

// limitKey is the key that the limit of a rule stands under.
func limitKey(rule *rules.Rule) string {
	if rule.Relation == finding.AtMost {
		return "max"
	}
	return "min"
}

func unitNames(units []rules.Unit) string {
	names := make([]string, len(units))
	for i, u := range units {
		names[i] = string(u)
	}
	return strings.Join(names, ", ")
}

// forItems reads one entry of "for".
func (r *reader) forItems(v value) {
	var f rules.For
	var items, changes, tolerances *value
	r.object(v, fields{
		"items":      func(v value) { items = &v },
		"rules":      func(v value) { changes = &v },
		"tolerances": func(v value) { tolerances = &v },
	})
	if items == nil || changes == nil && tolerances == nil {
		if v.IsObject() {
			r.fail(v, `an entry has "items" and "rules", or "items" and "tolerances"`)
		}
		return
	}
	before := len(r.errs)
	f.Items = r.selector(*items, true)
	if !stated(&f.Items) && len(r.errs) == before {
		r.fail(*items, `states nothing; what is for all items stands under "rules" of the file`)
	}
	if changes != nil {
		f.Rules = r.changes(*changes, f.Items.Kinds)
	}
	if tolerances != nil {
		f.Tolerances = r.tolerances(*tolerances)
	}
	r.set.For = append(r.set.For, f)
}
