package triage

import (
	"embedcheck/internal/decision"
	"embedcheck/internal/finding"
)

// state is what the page shows of the decisions. Findings that nobody has
// decided or said anything about are left out.
type state struct {
	Verdict  string              `json:"verdict"`
	Stale    string              `json:"stale,omitempty"`
	Findings map[string]standing `json:"findings"`
}

// standing is how a finding stands.
type standing struct {
	Seen     int    `json:"seen"` // number of entries in the decisions
	Status   string `json:"status"`
	Assigned string `json:"assigned,omitempty"`
	Reopened string `json:"reopened,omitempty"`
	History  []told `json:"history,omitempty"`
}

// told is one thing that somebody decided or said.
type told struct {
	Date string `json:"date"`
	By   string `json:"by,omitempty"`
	What string `json:"what"`
	Text string `json:"text,omitempty"`
}

func (d *Desk) state(l *decision.Log) *state {
	run := d.decided(l)
	s := &state{Verdict: d.verdict(run), Stale: d.stale(), Findings: map[string]standing{}}
	for i := range run.Findings {
		f := &run.Findings[i]
		entries := l.History(f.ID)
		st := standing{
			Seen: len(entries), Status: f.Status, Assigned: finding.Plain(f.Life.To()), History: history(f, entries),
		}
		if d := f.Life.Decision; d != nil {
			st.Reopened = finding.Plain(d.Reopened)
		}
		if len(st.History) > 0 || st.Assigned != "" {
			s.Findings[f.ID] = st
		}
	}
	return s
}

// history is what others said in the issue list, and then the entries.
func history(f *finding.Finding, entries []decision.Entry) []told {
	var list []told
	if t := f.Life.Topic; t != nil {
		own := map[finding.Said]bool{}
		for _, s := range f.Life.Comments {
			own[finding.Said{Date: s.Day(), Author: finding.Plain(s.Author), Text: finding.Plain(s.Text)}] = true
		}
		for _, s := range t.Comments {
			x := told{Date: s.Day(), By: finding.Plain(s.Author), What: "in the issue list", Text: finding.Plain(s.Text)}
			if !own[finding.Said{Date: x.Date, Author: x.By, Text: x.Text}] {
				list = append(list, x)
			}
		}
	}
	for i := range entries {
		list = append(list, tell(&entries[i]))
	}
	return list
}

var words = map[string]string{decision.Accepted: "accepted", decision.Closed: "closed", decision.Open: "opened again"}

// tell is an entry in words.
func tell(e *decision.Entry) told {
	t := told{Date: e.Date, By: finding.Plain(e.By), What: words[e.Status], Text: finding.Plain(e.Reason)}
	if e.Until != "" {
		t.What += " until " + finding.Plain(e.Until)
	}
	if e.Assigned != nil {
		to := finding.Plain(*e.Assigned)
		if to == "" {
			to = "nobody"
		}
		t.What = joined(t.What, "assigned to "+to)
	}
	if e.Comment != "" {
		t.What = joined(t.What, "commented")
		t.Text = joined(t.Text, finding.Plain(e.Comment))
	}
	return t
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}
