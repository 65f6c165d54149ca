package ruleset

import (
	"regexp"
	"strings"

	"github.com/tidwall/gjson"

	"embedcheck/internal/model"
	"embedcheck/internal/selector"
)

// selector reads what items or elements are meant. Before recognition neither
// kinds nor hosts are known, so that items says whether they may be asked for.
func (r *reader) selector(v value, items bool) selector.Selector {
	var s selector.Selector
	pattern := func(to **regexp.Regexp, flags string) func(value) {
		return func(v value) { *to = r.pattern(v, flags) }
	}
	known := fields{
		"kind":     func(v value) { s.Kinds = r.kinds(v) },
		"class":    pattern(&s.Class, "(?i)"),
		"name":     pattern(&s.Name, ""),
		"mark":     pattern(&s.Mark, ""),
		"type":     pattern(&s.Type, ""),
		"material": pattern(&s.Material, ""),
		"host":     pattern(&s.Host, ""),
		"property": func(v value) { s.Properties = r.properties(v) },
	}
	if !items {
		for _, k := range []string{"kind", "host"} {
			known[k] = func(v value) { r.fail(v, "not known yet when elements are recognised") }
		}
	}
	r.object(v, known)
	return s
}

// stated reports whether a selector states anything.
func stated(s *selector.Selector) bool {
	return len(s.Kinds)+len(s.Properties) > 0 || s.Class != nil || s.Name != nil || s.Mark != nil ||
		s.Type != nil || s.Material != nil || s.Host != nil
}

// pattern reads a text as an RE2 pattern.
func (r *reader) pattern(v value, flags string) *regexp.Regexp {
	s, ok := r.string(v)
	if !ok {
		return nil
	}
	p, err := regexp.Compile(flags + s)
	if err != nil {
		r.fail(v, "not a pattern: %s", strings.TrimPrefix(err.Error(), "error parsing regexp: "))
	}
	return p
}

// kinds reads one kind or a list of them.
func (r *reader) kinds(v value) []string {
	var out []string
	if v.Type == gjson.String {
		if k, ok := r.kind(v); ok {
			out = append(out, k)
		}
		return out
	}
	before := len(r.errs)
	r.list(v, func(v value) {
		if k, ok := r.kind(v); ok {
			out = append(out, k)
		}
	})
	if len(out) == 0 && len(r.errs) == before {
		r.fail(v, "want a kind, found an empty list")
	}
	return out
}

func (r *reader) kind(v value) (string, bool) {
	s, ok := r.string(v)
	if !ok {
		return "", false
	}
	if _, ok = model.ParseKind(s); !ok {
		r.fail(v, "unknown kind %q%s", s, suggest(s, model.Kinds()))
	}
	return s, ok
}

// properties reads an object of property names and patterns.
func (r *reader) properties(v value) []selector.Property {
	var out []selector.Property
	before := len(r.errs)
	r.entries(v, func(v value) {
		set, name, ok := strings.Cut(v.key, ".")
		if !ok || set == "" || name == "" {
			r.fail(v, `want "Pset.Name", the property set and the property`)
			return
		}
		if p := r.pattern(v, ""); p != nil {
			out = append(out, selector.Property{Name: v.key, Value: p})
		}
	})
	if len(out) == 0 && len(r.errs) == before {
		r.fail(v, "want a property, found an empty object")
	}
	return out
}

// override reads one entry of "recognise".
func (r *reader) override(v value) {
	o := selector.Override{Line: 1 + strings.Count(r.text[:v.at], "\n")}
	var match, as, kind *value
	before := len(r.errs)
	r.object(v, fields{
		"match": func(v value) { match = &v },
		"as":    func(v value) { as = &v },
		"kind":  func(v value) { kind = &v },
	})
	if match == nil || as == nil {
		if len(r.errs) == before {
			r.fail(v, `an entry has "match" and "as"`)
		}
		return
	}
	o.Match = r.selector(*match, false)
	if !stated(&o.Match) && len(r.errs) == before {
		r.fail(*match, "states nothing; it would take every element for the same")
	}
	if s, ok := r.string(*as); ok {
		if o.As, ok = selector.ParseAs(s); !ok {
			r.fail(*as, "unknown role %q%s", s, suggest(s, selector.AsNames()))
		}
	}
	if kind != nil {
		if o.As != selector.Item {
			r.fail(*kind, `only what is taken as "item" has a kind`)
		}
		o.Kind, _ = r.kind(*kind)
	}
	r.set.Recognise = append(r.set.Recognise, o)
}
