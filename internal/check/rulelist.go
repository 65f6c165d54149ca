package check

import (
	"strings"

	"embedcheck/internal/report"
	"embedcheck/rules"
)

// RuleList describes every rule with its built-in limits, for people and
// programs.
func RuleList() []report.RuleRow {
	var out []report.RuleRow
	for _, r := range rules.All {
		out = append(out, ruleRow(r))
	}
	return out
}

func ruleRow(r *rules.Rule) report.RuleRow {
	row := report.RuleRow{
		ID: r.ID, Title: r.Title, Unit: r.Unit, Relation: string(r.Relation), Measured: r.Measured,
		Page: []report.Paragraph{
			{Title: "What goes wrong", Text: r.Doc.Wrong},
			{Title: "How it is measured", Text: r.Doc.Measured},
			{Title: "What to do", Text: r.Doc.Do},
			{Title: "What it does not see", Text: r.Doc.Blind},
		},
	}
	if r.Details.Key != "" {
		row.Page = append(row.Page, report.Paragraph{Title: "In the rule file, under " + r.Details.Key, Text: r.Details.String()})
	}
	named := map[string]bool{}
	for _, f := range r.ForKinds {
		var kinds []string
		for _, k := range f.Kinds {
			kinds = append(kinds, k.String())
			named[k.String()] = true
		}
		row.Limits = append(row.Limits, limitRow(kinds, &f.Params))
	}
	var rest []string
	for _, k := range r.Kinds {
		if !named[k.String()] {
			rest = append(rest, k.String())
		}
	}
	if len(rest) > 0 || len(r.Kinds) == 0 {
		row.Limits = append([]report.LimitRow{limitRow(rest, &r.Default)}, row.Limits...)
	}
	return row
}

func limitRow(kinds []string, p *rules.Params) report.LimitRow {
	l := report.LimitRow{Kinds: kinds, Priority: p.Priority.String(), Limit: strings.ReplaceAll(p.Limit.String(), ", ", " and "), Source: p.Sources()}
	if p.Off {
		l.Priority = "off"
	}
	return l
}
