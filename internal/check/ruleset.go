package check

import (
	"slices"
	"strconv"

	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

// SetRules describes the rules that a set states something about, with what
// then holds for the kinds of items that it names.
func SetRules(set *rules.Set) []report.RuleRow {
	var out []report.RuleRow
	for _, r := range rules.All {
		row := ruleRow(r)
		row.Limits = nil
		for _, k := range r.Kinds {
			if statesRule(set, r, k) {
				row.Limits = addLimit(row.Limits, k, set.ParamsFor(r, &model.Item{Kind: k}))
			}
		}
		if len(row.Limits) > 0 {
			out = append(out, row)
		}
	}
	return out
}

// statesRule reports whether a set states something about a rule for all items
// of a kind.
func statesRule(set *rules.Set, r *rules.Rule, k model.Kind) bool {
	if _, ok := set.Rules[r.ID]; ok {
		return true
	}
	return slices.ContainsFunc(set.For, func(f rules.For) bool {
		_, ok := f.Rules[r.ID]
		return ok && slices.Contains(f.Items.Kinds, k.String())
	})
}

// addLimit adds a kind to the row with its limit.
func addLimit(rows []report.LimitRow, k model.Kind, p rules.Params) []report.LimitRow {
	row := limitRow([]string{k.String()}, &p)
	i := slices.IndexFunc(rows, func(o report.LimitRow) bool {
		return o.Limit == row.Limit && o.Priority == row.Priority && o.Source == row.Source
	})
	if i < 0 {
		return append(rows, row)
	}
	rows[i].Kinds = append(rows[i].Kinds, k.String())
	return rows
}

// SetTolerances are the tolerances to both sides that a set states for items of
// some kinds.
func SetTolerances(set *rules.Set) []report.ToleranceRow {
	var out []report.ToleranceRow
	for i, kind := range model.Kinds() {
		for _, k := range rules.ToleranceKinds {
			if t, ok := set.Tolerance(&model.Item{Kind: model.Kind(i)}, k); ok {
				out = append(out, report.ToleranceRow{
					Kind: string(k), Items: []string{kind}, Within: strconv.FormatFloat(t.Plus, 'f', -1, 64) + " mm", Source: t.Source,
				})
			}
		}
	}
	return out
}
