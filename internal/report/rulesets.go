package report

import (
	"bufio"
	"encoding/json"
	"io"
	"strings"

	"embedcheck/internal/finding"
)

// SetPage is a built-in set of limits: what it states, and what it leaves to
// others.
type SetPage struct {
	Name       string         `json:"name"`
	Title      string         `json:"title"`
	Notes      []string       `json:"notes"`
	Rules      []RuleRow      `json:"rules"` // with the limits of the set only
	Tolerances []ToleranceRow `json:"tolerances,omitempty"`
}

// ToleranceRow is a tolerance of measured values for items of some kinds.
type ToleranceRow struct {
	Kind   string   `json:"kind"`
	Items  []string `json:"items"`
	Within string   `json:"within"` // "6 mm"
	Source string   `json:"source"`
}

// WriteSet writes the page of a built-in set.
func WriteSet(w io.Writer, s *SetPage, l Layout) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: l}
	p.line(p.paint(s.Name, bold) + "  " + s.Title)
	for _, n := range s.Notes {
		p.line("")
		p.wrapped("  ", "  ", n)
	}
	for i := range s.Rules {
		p.line("")
		p.line(p.paint(s.Rules[i].ID, bold) + "  " + s.Rules[i].Title)
		p.limits(&s.Rules[i])
	}
	if len(s.Tolerances) > 0 {
		p.line("")
		p.line(p.paint("Tolerances of measured values", bold))
	}
	for _, t := range s.Tolerances {
		p.wrapped("  ", "    ", strings.Join(t.Items, ", ")+": "+t.Kind+" within "+t.Within)
		p.wrapped("    ", "    ", t.Source)
	}
	p.line("")
	p.wrapped("", "", "All other limits are the general ones; embedcheck rules lists them. Apply the set with --rules "+s.Name+"; embedcheck rules --set "+s.Name+" --write FILE starts a rule file from it.")
	p.wrapped("", "", finding.Caution)
	return b.Flush()
}

// WriteSetJSON writes the page for programs.
func WriteSetJSON(w io.Writer, s *SetPage) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(struct {
		Schema int `json:"schema"`
		*SetPage
	}{Schema, s})
}
