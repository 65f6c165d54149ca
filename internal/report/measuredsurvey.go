package report

import (
	"fmt"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// surveys prints the residuals of few surveys; of many only those of the ones
// that there is something to say about, and the others in a line each.
func (p *measuredPrinter) surveys() {
	rest := table{columns: []column{{title: "host", flex: true}, {title: "sheet", flex: true}, {title: "references", right: true}, {title: "mean mm", right: true}, {title: "worst mm", right: true}, {title: "note", flex: true}}}
	full := 0
	for i := range p.m.Surveys {
		s := &p.m.Surveys[i]
		if len(p.m.Surveys) <= maxSurveys || len(s.Notes) > 0 && full < maxSurveys {
			full++
			p.survey(s)
			continue
		}
		rest.add(finding.Plain(s.Host), finding.Plain(s.Sheet), strconv.Itoa(len(s.References)), length(s.RMS), length(s.worst()), finding.Plain(strings.Join(s.Notes, "; ")))
	}
	if len(rest.rows) > 0 {
		p.heading(fmt.Sprintf("Surveys: %d more", len(rest.rows)))
		rest.rows, full = rest.rows[:min(len(rest.rows), maxListed)], len(rest.rows)
		p.table(&rest)
		if n := full - len(rest.rows); n > 0 {
			p.line(fmt.Sprintf("  and %d more", n))
		}
	}
}

func (s *Survey) worst() float64 {
	w := 0.0
	for _, r := range s.References {
		w = max(w, r.Length)
	}
	return w
}

func (p *measuredPrinter) survey(s *Survey) {
	p.heading("Survey of " + finding.Plain(s.Host) + ", " + finding.Plain(s.Sheet))
	if n := len(s.References); n > 0 {
		p.wrapped("  ", "  ", fmt.Sprintf("%s, fitted without scale; root of the mean square of what they miss it by: %s mm", count(n, "reference"), length(s.RMS)))
		t := table{columns: []column{{title: "reference"}, {title: "x mm", right: true}, {title: "y mm", right: true}, {title: "z mm", right: true}, {title: "off mm", right: true}}}
		for k, r := range s.References {
			if k == maxReference {
				break
			}
			t.add(finding.Plain(r.Name), signed(r.X), signed(r.Y), signed(r.Z), length(r.Length))
		}
		p.table(&t)
		if n > maxReference {
			p.line(fmt.Sprintf("  and %d more", n-maxReference))
		}
	}
	for _, n := range s.Notes {
		p.wrapped("  ", "    ", finding.Plain(n))
	}
}
