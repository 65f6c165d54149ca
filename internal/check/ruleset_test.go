package check_test

import (
	"fmt"
	"slices"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/report"
	"embedcheck/internal/selector"
	"embedcheck/rules"
)

// The page of a set shows what it states, by kind, with what then holds, and no
// rule that it is silent about.
func TestSetRules(t *testing.T) {
	own, note := "drawing S-101", finding.Note
	mm := func(v float64) rules.Limit { return rules.Limit{{Unit: rules.MM, Value: v}} }
	set := &rules.Set{Name: "test", For: []rules.For{
		{Items: selector.Selector{Kinds: []string{"bolt", "stud"}}, Rules: map[string]rules.Change{"spacing": {Limit: mm(90), Source: &own}}},
		{Items: selector.Selector{Kinds: []string{"stud"}}, Rules: map[string]rules.Change{"spacing": {Priority: &note}}},
		{Items: selector.Selector{Kinds: []string{"lifter"}}, Tolerances: map[rules.ToleranceKind]rules.Tolerance{
			rules.TolPosition: {Minus: 7.5, Plus: 7.5, Source: own},
		}},
	}}
	got := check.SetRules(set)
	want := []report.LimitRow{
		{Kinds: []string{"bolt"}, Priority: "review", Limit: "90 mm", Source: own},
		{Kinds: []string{"stud"}, Priority: "note", Limit: "90 mm", Source: own},
	}
	if len(got) != 1 || got[0].ID != "spacing" || !slices.EqualFunc(got[0].Limits, want, func(a, b report.LimitRow) bool { return fmt.Sprint(a) == fmt.Sprint(b) }) {
		t.Errorf("rules: got %+v", got)
	}
	rows := check.SetTolerances(set)
	if fmt.Sprint(rows) != "[{position [lifter] 7.5 mm drawing S-101}]" {
		t.Errorf("tolerances: got %v", rows)
	}
	if got := check.SetRules(rules.Builtin()); got != nil {
		t.Errorf("a set that states nothing: got %+v", got)
	}
}
