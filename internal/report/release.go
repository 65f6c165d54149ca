package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/tidwall/gjson"

	"embedcheck/internal/finding"
)

// lifeJSON are the members of a finding that came with releases; all of them
// may be absent. Places are in metres in the host's own frame.
type lifeJSON struct {
	State    string        `json:"state,omitempty"`
	Place    *placeJSON    `json:"place,omitempty"`
	Decision *decisionJSON `json:"decision,omitempty"`
	Topic    *topicJSON    `json:"topic,omitempty"`
	Assigned *string       `json:"assigned,omitempty"` // in the decisions
	Comments []commentJSON `json:"comments,omitempty"` // in the decisions
}

type placeJSON struct {
	At   [3]number `json:"at"`
	Item [3]number `json:"item"`
	Host [3]number `json:"host"`
}

type decisionJSON struct {
	Number   int    `json:"n,omitempty"`
	Status   string `json:"status"`
	Reason   string `json:"reason,omitempty"`
	By       string `json:"by,omitempty"`
	Date     string `json:"date,omitempty"`
	Until    string `json:"until,omitempty"`
	Reopened string `json:"reopened,omitempty"`
}

type topicJSON struct {
	GUID       string        `json:"guid"`
	Status     string        `json:"status,omitempty"`
	AssignedTo string        `json:"assigned_to,omitempty"`
	DueDate    string        `json:"due_date,omitempty"`
	Stage      string        `json:"stage,omitempty"`
	Labels     []string      `json:"labels,omitempty"`
	Comments   []commentJSON `json:"comments,omitempty"`
}

type commentJSON struct {
	Date   string `json:"date"`
	Author string `json:"author"`
	Text   string `json:"text"`
}

func lifeOut(l *finding.Life) lifeJSON {
	out := lifeJSON{State: string(l.State), Assigned: l.Assigned, Comments: commentsOut(l.Comments)}
	if p := l.Place; p != nil {
		out.Place = &placeJSON{point(p.At), point(p.Item), point(p.Host)}
	}
	if d := l.Decision; d != nil {
		d := decisionJSON(*d)
		out.Decision = &d
	}
	if t := l.Topic; t != nil {
		out.Topic = &topicJSON{GUID: t.GUID, Status: t.Status, AssignedTo: t.AssignedTo, DueDate: t.DueDate, Stage: t.Stage, Labels: t.Labels, Comments: commentsOut(t.Comments)}
	}
	return out
}

func commentsOut(said []finding.Said) []commentJSON {
	var list []commentJSON
	for _, c := range said {
		list = append(list, commentJSON(c))
	}
	return list
}

// life reads what a later run and a triage need of it: the place, what had been
// decided and the topic's GUID.
func (in *reader) life(v gjson.Result) finding.Life {
	var l finding.Life
	l.State = finding.State(in.optional(v, "state"))
	if p := v.Get("place"); p.Exists() {
		l.Place = &finding.Place{At: in.vec(p, "at"), Item: in.vec(p, "item"), Host: in.vec(p, "host")}
	}
	if d := v.Get("decision"); d.Exists() {
		l.Decision = &finding.Decision{
			Number: in.count(d, "n"), Status: in.text(d, "status"), Reason: in.optional(d, "reason"), By: in.optional(d, "by"),
			Date: in.optional(d, "date"), Until: in.optional(d, "until"), Reopened: in.optional(d, "reopened"),
		}
	}
	if t := v.Get("topic"); t.Exists() {
		l.Topic = &finding.Talk{GUID: in.optional(t, "guid")}
	}
	return l
}

type resolvedJSON struct {
	ID       string   `json:"id"`
	Rule     string   `json:"rule"`
	Priority string   `json:"priority"`
	Host     *refJSON `json:"host"`
	Set      string   `json:"set"`
	Title    string   `json:"title"`
	Reason   string   `json:"reason"`
	Unseen   bool     `json:"unseen,omitempty"` // not looked at in this run
}

func resolvedOut(r *finding.Resolved) resolvedJSON {
	f := &r.Finding
	return resolvedJSON{f.ID, f.Rule, f.Priority.String(), refOut(f.Host), f.Set, f.Title, r.Reason, r.Unseen}
}

func (j *jsonWriter) since(c *finding.Comparison) {
	if c == nil {
		return
	}
	j.text(",\n \"since\": ")
	j.value(c.Since)
	j.text(",\n \"resolved\": ")
	list(j, " ", c.Resolved, func(r *finding.Resolved) { j.value(resolvedOut(r)) })
}

// Release is what a message about a release says: the run, what an earlier one
// adds (nil: nothing was compared), and which priority holds a release.
type Release struct {
	Run    *finding.Run
	Since  *finding.Comparison
	FailOn finding.Priority
}

// Holding are the findings at or above FailOn that nobody has accepted.
func (r *Release) Holding() []*finding.Finding {
	var list []*finding.Finding
	for i := range r.Run.Findings {
		f := &r.Run.Findings[i]
		if f.Priority >= r.FailOn && !f.Settled() {
			list = append(list, f)
		}
	}
	return list
}

// Verdict is the one sentence on the release; it never approves one.
func (r *Release) Verdict() string {
	holds, rest := 0, 0
	for _, f := range r.Holding() {
		if f.Priority == finding.Hold {
			holds++
		} else {
			rest++
		}
	}
	switch {
	case holds > 0:
		return fmt.Sprintf("Hold: do not pour. %s to settle first.", count(holds+rest, "finding"))
	case rest > 0:
		return fmt.Sprintf("Hold this release: %s to settle first.", count(rest, "finding"))
	}
	return fmt.Sprintf("No open finding of priority %s or above. This is no approval: the engineer decides.", r.FailOn)
}

// inState are the findings in a state, in the order of reports.
func inState(run *finding.Run, s finding.State) []*finding.Finding {
	var list []*finding.Finding
	for i := range run.Findings {
		if run.Findings[i].Life.State == s {
			list = append(list, &run.Findings[i])
		}
	}
	return list
}

var stateOrder = [...]finding.State{finding.New, finding.Worse, finding.Better, finding.Persisting}

func stateCounts(run *finding.Run, c *finding.Comparison) string {
	n := run.States()
	parts := make([]string, 0, len(stateOrder)+1)
	for _, s := range stateOrder {
		parts = append(parts, fmt.Sprintf("%d %s", n[s], s))
	}
	unseen := unseenOf(c)
	parts = append(parts, fmt.Sprintf("%d resolved", len(c.Resolved)-unseen))
	if unseen > 0 {
		parts = append(parts, fmt.Sprintf("%d not looked at", unseen))
	}
	return strings.Join(parts, ", ")
}

func unseenOf(c *finding.Comparison) (n int) {
	for i := range c.Resolved {
		if c.Resolved[i].Unseen {
			n++
		}
	}
	return n
}

func lineOf(f *finding.Finding) string {
	s := f.Priority.String() + "  " + finding.Plain(f.Title)
	if w := f.Worst(); w != nil && w.Figures() != "" {
		s += ": " + w.Figures()
	}
	if f.Settled() {
		s += " (accepted)"
	}
	return s
}

// WriteSince writes the section on what changed since an earlier run, new
// findings first, then what people decided and said. It writes nothing when
// there is nothing of the kind; c may be nil.
func WriteSince(w io.Writer, run *finding.Run, c *finding.Comparison, l Layout) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: l, run: run.Sorted()}
	if c != nil {
		p.since(c)
	}
	p.decided()
	p.talk()
	return b.Flush()
}

func (p *printer) since(c *finding.Comparison) {
	p.heading("Since the last release (" + finding.Plain(c.Since) + ")")
	p.wrapped("  ", "  ", stateCounts(p.run, c))
	for _, s := range stateOrder[:3] {
		list := inState(p.run, s)
		for i, f := range list {
			if i == maxShown {
				p.wrapped("  ", "  ", fmt.Sprintf("and %d more %s, %s", len(list)-i, s, whereAll))
				break
			}
			p.wrapped(fmt.Sprintf("  %-9s ", s), strings.Repeat(" ", 12), lineOf(f))
		}
	}
	for i := range c.Resolved {
		if i == maxShown {
			p.wrapped("  ", "  ", fmt.Sprintf("and %d more resolved, %s", len(c.Resolved)-i, whereAll))
			break
		}
		r := &c.Resolved[i]
		word := "resolved"
		if r.Unseen {
			word = "not seen"
		}
		p.wrapped(fmt.Sprintf("  %-9s ", word), strings.Repeat(" ", 12), finding.Plain(r.Finding.Title)+": "+finding.Plain(r.Reason))
	}
}

func (p *printer) decided() {
	first := true
	for i := range p.run.Findings {
		f := &p.run.Findings[i]
		d := f.Life.Decision
		if d == nil {
			continue
		}
		if first {
			p.heading("Decided")
			first = false
		}
		word := f.Status
		if d.Reopened != "" || d.Status == "open" {
			word = "reopened"
		}
		p.wrapped(fmt.Sprintf("  %-9s ", word), strings.Repeat(" ", 12), lineOf(f)+". "+decisionText(d))
	}
}

func decisionText(d *finding.Decision) string {
	s := "Reason: " + d.Reason
	if d.Reason == "" {
		s = "No reason given"
	}
	if d.By != "" {
		s += "; by " + d.By
	}
	s += "; " + d.Date
	if d.Until != "" {
		s += "; until " + d.Until
	}
	if d.Reopened != "" {
		s += "; open again: " + d.Reopened
	}
	return finding.Plain(s)
}

func (p *printer) talk() {
	first := true
	for i := range p.run.Findings {
		f := &p.run.Findings[i]
		s := talkText(f.Life.Topic)
		if s == "" {
			continue
		}
		if first {
			p.heading("Said in the issue list")
			first = false
		}
		p.wrapped("  ", "    ", finding.Plain(f.Title)+": "+s)
	}
}

func talkText(t *finding.Talk) string {
	if t == nil {
		return ""
	}
	var parts []string
	if t.Status != "" && !slices.Contains([]string{"Open", "Accepted"}, t.Status) {
		parts = append(parts, "status "+t.Status)
	}
	if t.AssignedTo != "" {
		parts = append(parts, "assigned to "+t.AssignedTo)
	}
	if t.DueDate != "" {
		parts = append(parts, "due "+t.DueDate)
	}
	if n := len(t.Comments); n > 0 {
		c := t.Comments[n-1]
		parts = append(parts, fmt.Sprintf("%s, last by %s: %s", count(n, "comment"), c.Author, c.Text))
	}
	return finding.Plain(strings.Join(parts, "; "))
}

// WriteMarkdown writes the release summary for a message or a pull request.
func WriteMarkdown(w io.Writer, r *Release) error {
	run := r.Run.Sorted()
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "**%s**\n\n", markdown(r.Verdict()))
	fmt.Fprintf(b, "%s in %s; %d not checked.\n", priorities(tally(run.Findings)), count(len(run.Models), "model"), tally(run.Findings).Unchecked)
	for _, s := range run.Remarks {
		fmt.Fprintf(b, "\nMind: %s.\n", markdown(s))
	}
	section := func(title string, list []*finding.Finding) {
		if len(list) == 0 {
			return
		}
		fmt.Fprintf(b, "\n### %s\n\n| priority | issue | measured, required |\n|---|---|---|\n", title)
		for i, f := range list {
			if i == maxShown {
				fmt.Fprintf(b, "| | and %d more, %s | |\n", len(list)-i, whereAll)
				break
			}
			figures := ""
			if in := f.Worst(); in != nil {
				figures = in.Figures()
			}
			fmt.Fprintf(b, "| %s | %s | %s |\n", f.Priority, markdown(f.Title), markdown(figures))
		}
	}
	if c := r.Since; c != nil {
		fmt.Fprintf(b, "\nSince %s: %s.\n", markdown(c.Since), stateCounts(run, c))
		section("New", inState(run, finding.New))
		section("Worse", inState(run, finding.Worse))
		section("Better, still not met", inState(run, finding.Better))
		if len(c.Resolved) > 0 {
			fmt.Fprint(b, "\n### Resolved, or not looked at\n\n")
			for i := range c.Resolved {
				if i == maxShown {
					fmt.Fprintf(b, "- and %d more, %s\n", len(c.Resolved)-i, whereAll)
					break
				}
				fmt.Fprintf(b, "- %s: %s\n", markdown(c.Resolved[i].Finding.Title), markdown(c.Resolved[i].Reason))
			}
		}
	}
	section("To settle first", (&Release{Run: run, FailOn: r.FailOn}).Holding())
	first := true
	for i := range run.Findings {
		f := &run.Findings[i]
		if f.Life.Decision == nil {
			continue
		}
		if first {
			fmt.Fprint(b, "\n### Decided\n\n")
			first = false
		}
		fmt.Fprintf(b, "- %s (%s): %s\n", markdown(f.Title), f.Status, markdown(decisionText(f.Life.Decision)))
	}
	fmt.Fprintf(b, "\n%s\n", markdown(finding.Caution))
	return b.Flush()
}

// markdown makes a text of a model plain and keeps it from being markup.
func markdown(s string) string {
	var b strings.Builder
	for _, r := range finding.Plain(s) {
		switch {
		case r == '@': // calls nobody
			b.WriteString("&#64;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '&':
			b.WriteString("&amp;")
		case strings.ContainsRune("\\`*_[]#|!~", r):
			b.WriteByte('\\')
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// WriteReleaseJSON writes the release summary for programs.
func WriteReleaseJSON(w io.Writer, r *Release) error {
	run := r.Run.Sorted()
	c := tally(run.Findings)
	out := struct {
		Verdict  string         `json:"verdict"`
		Hold     bool           `json:"hold"`
		Holding  []string       `json:"holding"` // ids
		Counts   map[string]int `json:"counts"`
		Since    string         `json:"since,omitempty"`
		States   map[string]int `json:"states,omitempty"`
		New      []string       `json:"new,omitempty"`
		Worse    []string       `json:"worse,omitempty"`
		Resolved []resolvedJSON `json:"resolved,omitempty"`
		Caution  string         `json:"caution"`
	}{Verdict: r.Verdict(), Holding: []string{}, Caution: finding.Caution}
	out.Counts = map[string]int{"hold": c.Hold, "review": c.Review, "note": c.Note, "unchecked": c.Unchecked}
	sorted := Release{Run: run, FailOn: r.FailOn}
	for _, f := range sorted.Holding() {
		out.Holding = append(out.Holding, f.ID)
	}
	out.Hold = len(out.Holding) > 0
	if r.Since != nil {
		out.Since, out.States = r.Since.Since, map[string]int{"unseen": unseenOf(r.Since)}
		out.States["resolved"] = len(r.Since.Resolved) - out.States["unseen"]
		n := run.States()
		for _, s := range stateOrder {
			out.States[string(s)] = n[s]
		}
		for _, f := range inState(run, finding.New) {
			out.New = append(out.New, f.ID)
		}
		for _, f := range inState(run, finding.Worse) {
			out.Worse = append(out.Worse, f.ID)
		}
		for i := range r.Since.Resolved {
			out.Resolved = append(out.Resolved, resolvedOut(&r.Since.Resolved[i]))
		}
	}
	data, err := json.MarshalIndent(out, "", " ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnsafe(data), '\n'))
	return err
}
