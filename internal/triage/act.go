package triage

import (
	"errors"
	"fmt"
	"unicode/utf8"

	"embedcheck/internal/decision"
	"embedcheck/internal/finding"
)

// Limits of one act.
const (
	maxFindings = 20000
	maxText     = 4000 // characters
	maxName     = 200
)

// act is what somebody does about some findings.
type act struct {
	Act      string `json:"act"` // accept, close, reopen, comment, assign
	Findings []seen `json:"findings"`
	By       string `json:"by"`
	Text     string `json:"text"`  // reason or comment
	Until    string `json:"until"` // of accept: last day that it holds, or ""
	To       string `json:"to"`    // of assign: "" for nobody
}

// seen is a finding and how many entries about it the person saw.
type seen struct {
	ID   string `json:"id"`
	Seen int    `json:"seen"`
}

// conflict is a finding about which there are other entries than the person saw.
type conflict struct {
	ID      string `json:"id"`
	Entries []told `json:"entries"` // that are new, or all when some are gone
}

// refusal says why an act or a download is not taken: the caller's matter.
type refusal struct{ text string }

func (r *refusal) Error() string { return r.text }

func refuse(format string, args ...any) error { return &refusal{fmt.Sprintf(format, args...)} }

// errConflict ends an update that found conflicts, with nothing written.
var errConflict = errors.New("somebody else acted meanwhile")

// do writes an act, for all of its findings or, when there are conflicts or an
// error, for none.
func (d *Desk) do(a *act) ([]conflict, error) {
	entry, err := a.entry()
	if err != nil {
		return nil, err
	}
	if err := d.known(a.Findings); err != nil {
		return nil, err
	}
	entry.Date = decision.Day(d.Now())
	var conflicts []conflict
	err = decision.Update(d.Decisions, func(l *decision.Log) error {
		if conflicts = conflictsOf(l, a.Findings); len(conflicts) > 0 {
			return errConflict
		}
		for _, s := range a.Findings {
			e := decision.About(d.of[s.ID])
			e.Status, e.Reason, e.By, e.Date, e.Until = entry.Status, entry.Reason, entry.By, entry.Date, entry.Until
			e.Comment, e.Assigned = entry.Comment, entry.Assigned
			if _, err := l.Add(e); err != nil {
				return refuse("%v", err)
			}
		}
		return nil
	})
	if errors.Is(err, errConflict) {
		return conflicts, nil
	}
	return nil, err
}

func (d *Desk) known(list []seen) error {
	if len(list) == 0 || len(list) > maxFindings {
		return refuse("1 to %d findings wanted, %d found", maxFindings, len(list))
	}
	twice := map[string]bool{}
	for _, s := range list {
		if d.of[s.ID] == nil {
			return refuse("no finding %q in this folder", finding.Short(finding.Plain(s.ID), 40))
		}
		if twice[s.ID] {
			return refuse("finding %s is named twice", s.ID)
		}
		twice[s.ID] = true
	}
	return nil
}

func conflictsOf(l *decision.Log, list []seen) []conflict {
	var found []conflict
	for _, s := range list {
		h := l.History(s.ID)
		if len(h) == s.Seen {
			continue
		}
		from := s.Seen
		if from < 0 || from > len(h) {
			from = 0
		}
		c := conflict{ID: s.ID, Entries: []told{}}
		for i := range h[from:] {
			c.Entries = append(c.Entries, tell(&h[from+i]))
		}
		found = append(found, c)
	}
	return found
}

// entry is what the act says, without a finding and a date.
func (a *act) entry() (*decision.Entry, error) {
	if utf8.RuneCountInString(a.Text) > maxText || utf8.RuneCountInString(a.By) > maxName || utf8.RuneCountInString(a.To) > maxName {
		return nil, refuse("at most %d characters of text and %d of a name are taken", maxText, maxName)
	}
	text, to := finding.Plain(a.Text), finding.Plain(a.To)
	e := &decision.Entry{By: finding.Plain(a.By)}
	if e.By == "" {
		return nil, refuse("a name wanted: whoever reads the list later has to know who decided")
	}
	if a.Until != "" {
		if a.Act != "accept" {
			return nil, refuse("a last day goes with accepting only")
		}
		if err := decision.CheckDate(a.Until); err != nil {
			return nil, refuse("until: %v", err)
		}
	}
	switch a.Act {
	case "accept":
		e.Status, e.Reason, e.Until = decision.Accepted, text, a.Until
		if text == "" {
			return nil, refuse("accepting needs a reason")
		}
	case "close":
		e.Status, e.Reason = decision.Closed, text
	case "reopen":
		e.Status, e.Reason = decision.Open, text
	case "comment":
		e.Comment = text
		if text == "" {
			return nil, refuse("the comment is empty")
		}
	case "assign":
		e.Assigned, e.Comment = &to, text
	default:
		return nil, refuse("act %q: accept, close, reopen, comment or assign wanted", finding.Short(finding.Plain(a.Act), 40))
	}
	return e, nil
}
