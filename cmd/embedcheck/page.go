package main

import (
	"bytes"
	"errors"

	"embedcheck/internal/check"
	"embedcheck/internal/drawing"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/page"
	"embedcheck/internal/report"
)

// reportPage is the page about a release of models.
func reportPage(m *model.Model, r *report.Release) *page.Report {
	return &page.Report{
		Run: r.Run, Since: r.Since, Verdict: r.Verdict(), FailOn: r.FailOn, Rules: rulePages(),
		Views: page.Views{Drawing: inlineDrawings(drawing.New(m)), Style: drawing.InlineStyle()},
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

// inlineDrawings gives the drawings of findings as a page has them. A finding
// that there is nothing to be seen of goes without.
func inlineDrawings(k *drawing.Maker) func(*finding.Finding) ([]byte, error) {
	return func(f *finding.Finding) ([]byte, error) {
		d, err := k.For(f)
		var nothing *subject.NoPlaceError
		if errors.As(err, &nothing) {
			return nil, nil
		}
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		err = d.Inline(&b)
		return b.Bytes(), err
	}
}
