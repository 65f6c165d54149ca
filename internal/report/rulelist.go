package report

import (
	"bufio"
	"encoding/json"
	"io"
	"strings"

	"embedcheck/internal/finding"
)

// RuleRow is one rule for the list of rules.
type RuleRow struct {
	ID       string      `json:"id"`
	Title    string      `json:"title"`
	Measured string      `json:"measured,omitempty"`
	Unit     string      `json:"unit,omitempty"`
	Relation string      `json:"relation,omitempty"`
	Limits   []LimitRow  `json:"limits"`
	Page     []Paragraph `json:"page"`
}

// LimitRow is the built-in limit of a rule for items of some kinds.
type LimitRow struct {
	Kinds    []string `json:"kinds,omitempty"` // none: the rule looks at no items
	Priority string   `json:"priority"`
	Limit    string   `json:"limit,omitempty"` // "50 mm and 6 diameters"; "" when nothing is compared
	Source   string   `json:"source,omitempty"`
}

// Paragraph is a part of a rule's page.
type Paragraph struct {
	Title string `json:"title"`
	Text  string `json:"text"`
}

var relationWords = map[string]string{">=": "at least ", "<=": "at most ", "=": "exactly "}

// WriteRules writes the list of rules: what each measures, its built-in limit and
// where that comes from.
func WriteRules(w io.Writer, list []RuleRow, l Layout) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: l}
	for i, r := range list {
		if i > 0 {
			p.line("")
		}
		p.line(p.paint(r.ID, bold) + "  " + r.Title)
		p.limits(&r)
	}
	p.line("")
	p.wrapped("", "", "embedcheck rules ID prints the page of a rule, embedcheck rules --set NAME a built-in set of limits. The largest entry of a least value governs, the smallest of a greatest one.")
	p.wrapped("", "", finding.Caution)
	return b.Flush()
}

// WriteRule writes the page of one rule.
func WriteRule(w io.Writer, r *RuleRow, l Layout) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: l}
	p.line(p.paint(r.ID, bold) + "  " + r.Title)
	for _, para := range r.Page {
		p.line("")
		p.line(p.paint(para.Title, bold))
		p.wrapped("  ", "  ", para.Text)
	}
	p.line("")
	p.line(p.paint("Built-in limits", bold))
	p.limits(r)
	p.line("")
	p.wrapped("", "", finding.Caution)
	return b.Flush()
}

func (p *printer) limits(r *RuleRow) {
	for _, l := range r.Limits {
		var s []string
		if len(l.Kinds) > 0 {
			s = append(s, strings.Join(l.Kinds, ", "))
		}
		if l.Limit != "" {
			s = append(s, relationWords[r.Relation]+l.Limit)
		}
		p.wrapped("  ", "    ", strings.Join(append(s, l.Priority), ": "))
		if l.Source != "" {
			p.wrapped("    ", "    ", l.Source)
		}
	}
}

// WriteRulesJSON writes the list for programs.
func WriteRulesJSON(w io.Writer, list []RuleRow) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(struct {
		Schema int       `json:"schema"`
		Rules  []RuleRow `json:"rules"`
	}{Schema, list})
}
