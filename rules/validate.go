package rules

import (
	"errors"
	"fmt"
	"regexp"
	"slices"

	"embedcheck/internal/finding"
)

var ruleID = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)

// Validate reports everything that is wrong with a list of rules: doubled or
// odd IDs, missing texts and sources, limits that the rule cannot work out.
func Validate(list []*Rule) error {
	var errs []error
	seen := map[string]bool{}
	for _, r := range list {
		if seen[r.ID] {
			errs = append(errs, fmt.Errorf("rule %s: listed twice", r.ID))
		}
		seen[r.ID] = true
		for _, err := range r.validate() {
			errs = append(errs, fmt.Errorf("rule %s: %w", r.ID, err))
		}
	}
	return errors.Join(errs...)
}

func (r *Rule) validate() []error {
	var errs []error
	want := func(ok bool, format string, args ...any) {
		if !ok {
			errs = append(errs, fmt.Errorf(format, args...))
		}
	}
	want(ruleID.MatchString(r.ID), "the ID is not lower-case words joined by hyphens")
	want(r.Title != "", "no title")
	want(r.Run != nil, "no function")
	want(r.Doc.Wrong != "" && r.Doc.Measured != "" && r.Doc.Do != "" && r.Doc.Blind != "", "the page lacks a paragraph")
	want((r.Relation == finding.None) == (r.Unit == ""), "a unit without a relation, or a relation without a unit")
	want((r.Measured == "") == (r.Unit == ""), "a unit without the name of what is measured, or the other way round")
	want(len(r.Entries) == 0 || r.Relation != finding.None, "a limit without a relation")
	for _, u := range r.Entries {
		want(slices.Contains(Units, u), "unknown limit entry %s", u)
	}
	want((r.Details.Key == "") == (len(r.Details.List) == 0), "details without a key, or a key without details")
	for _, d := range r.Details.List {
		want(d.Name != "" && d.Doc != "", "a detail without a name or a text")
		for _, u := range d.Entries {
			want(slices.Contains(Units, u), "detail %s: unknown entry %s", d.Name, u)
		}
	}
	errs = append(errs, r.validateParams(&r.Default)...)
	for i := range r.ForKinds {
		f := &r.ForKinds[i]
		want(len(f.Kinds) > 0, "parameters for no kind")
		for _, k := range f.Kinds {
			want(slices.Contains(r.Kinds, k), "parameters for %s, which the rule does not look at", k)
		}
		errs = append(errs, r.validateParams(&f.Params)...)
	}
	return errs
}

func (r *Rule) validateParams(p *Params) []error {
	var errs []error
	if (len(p.Limit) == 0) != (len(r.Entries) == 0) {
		errs = append(errs, errors.New("a built-in limit and entries that it may have: one without the other"))
	}
	for i, t := range p.Limit {
		if !slices.Contains(r.Entries, t.Unit) {
			errs = append(errs, fmt.Errorf("the rule cannot work out %s", t))
		}
		if i > 0 && slices.Index(Units, p.Limit[i-1].Unit) >= slices.Index(Units, t.Unit) {
			errs = append(errs, fmt.Errorf("limit %s: entries out of order", p.Limit))
		}
		if p.source(t.Unit) == "" {
			errs = append(errs, fmt.Errorf("no source for %s", t))
		}
	}
	if len(p.Cites) == 0 && r.Unit != "" {
		errs = append(errs, errors.New("no source"))
	}
	for _, c := range p.Cites {
		if c.Text == "" && c.Confidence != Practice {
			errs = append(errs, errors.New("a source without a name that is not common practice"))
		}
		if c.Confidence < Read || c.Confidence > Practice {
			errs = append(errs, fmt.Errorf("source %q: no confidence", c.Text))
		}
	}
	return errs
}
