package main

import (
	"embedcheck/internal/check"
	"embedcheck/internal/drawing"
	"embedcheck/internal/page"
	"embedcheck/internal/report"
)

// reportPage is the page about a release of models.
func reportPage(v *views, r *report.Release) *page.Report {
	return &page.Report{
		Run: r.Run, Since: r.Since, Verdict: r.Verdict(), FailOn: r.FailOn, Rules: rulePages(),
		Views: page.Views{Drawing: v.inline, Scene: v.scenes.Of, Style: drawing.InlineStyle()},
	}
}

// rulePages are the pages of all rules as plain data: writers know no rules.
func rulePages() []page.Rule {
	var list []page.Rule
	for _, r := range check.RuleList() {
		p := page.Rule{ID: r.ID, Title: r.Title}
		for _, para := range r.Page {
			p.Page = append(p.Page, page.Paragraph(para))
		}
		list = append(list, p)
	}
	return list
}
