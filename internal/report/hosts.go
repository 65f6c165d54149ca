package report

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// overview is one line a rule: how often it is not met, and where it is worst.
func (p *printer) overview() {
	p.heading("Findings: " + priorities(tally(p.run.Findings)))
	if len(p.run.Findings) == 0 {
		p.line("  " + nothingFound(p.run.Counts.Items))
		return
	}
	t := table{columns: []column{
		{title: "rule"}, {title: "hold", right: true}, {title: "review", right: true}, {title: "note", right: true},
		{title: "places", right: true, spare: true}, {title: "worst", right: true}, {title: "limit"}, {title: "item", spare: true},
	}}
	for _, r := range byRule(p.run.Findings) {
		var measured, limit, item string
		if r.worst.Relation != finding.None {
			measured, limit = r.worst.Values()
			limit = string(r.worst.Relation) + " " + limit
			item = name(r.worst.Item)
		}
		t.add(finding.Plain(r.rule), strconv.Itoa(r.count[finding.Hold]), strconv.Itoa(r.count[finding.Review]),
			strconv.Itoa(r.count[finding.Note]), strconv.Itoa(r.places), measured, limit, item)
	}
	p.table(&t)
}

// nothingFound must not read as if something had been looked at that was not.
func nothingFound(items int) string {
	if items == 0 {
		return "no item was recognised, so nothing was compared with a limit"
	}
	return "none at the stated limits"
}

// ruleSum is what was found by one rule.
type ruleSum struct {
	rule   string
	count  [finding.Hold + 1]int
	places int
	worst  *finding.Instance
}

// byRule sums up the findings, the rules with the highest priority first.
func byRule(findings []finding.Finding) []*ruleSum {
	sums := map[string]*ruleSum{}
	var order []*ruleSum
	for i := range findings {
		f := &findings[i]
		r := sums[f.Rule]
		if r == nil {
			r = &ruleSum{rule: f.Rule, worst: &finding.Instance{}}
			sums[f.Rule] = r
			order = append(order, r)
		}
		r.count[f.Priority]++
		r.places += len(f.Instances)
		if w := f.Worst(); w != nil {
			both := finding.Finding{Instances: []finding.Instance{*r.worst, *w}}
			r.worst = both.Worst()
		}
	}
	slices.SortStableFunc(order, func(a, b *ruleSum) int {
		return cmp.Or(
			cmp.Compare(b.count[finding.Hold], a.count[finding.Hold]),
			cmp.Compare(b.count[finding.Review], a.count[finding.Review]),
			cmp.Compare(b.count[finding.Note], a.count[finding.Note]),
			cmp.Compare(a.rule, b.rule),
		)
	})
	return order
}

// hostFindings is one host with its findings, hold before review before note.
type hostFindings struct {
	host     finding.Ref
	findings []finding.Finding
	entries  []entry
}

// entry is what is written about findings that read the same: the sets of a
// row of equal panels are told once and counted.
type entry struct {
	priority finding.Priority
	text     string
	findings []finding.Finding
}

func entriesOf(findings []finding.Finding) []entry {
	type key struct {
		priority finding.Priority
		text     string
	}
	at := map[key]int{}
	var list []entry
	for i := range findings {
		k := key{findings[i].Priority, sentence(&findings[i])}
		n, ok := at[k]
		if !ok {
			n = len(list)
			at[k] = n
			list = append(list, entry{priority: k.priority, text: k.text})
		}
		list[n].findings = append(list[n].findings, findings[i])
	}
	return list
}

// byHost puts first the host with the highest priority, and among equals the
// one with most findings of it.
func byHost(findings []finding.Finding) []*hostFindings {
	index := map[finding.Ref]*hostFindings{}
	var order []*hostFindings
	for _, f := range findings {
		if f.Rule == finding.NotChecked {
			continue // told by reason
		}
		h := index[f.Host]
		if h == nil {
			h = &hostFindings{host: f.Host}
			index[f.Host] = h
			order = append(order, h)
		}
		h.findings = append(h.findings, f)
	}
	for _, h := range order {
		h.entries = entriesOf(h.findings)
	}
	slices.SortStableFunc(order, func(a, b *hostFindings) int {
		x, y := tally(a.findings), tally(b.findings)
		return cmp.Or(cmp.Compare(y.Hold, x.Hold), cmp.Compare(y.Review, x.Review), finding.CompareRef(a.host, b.host))
	})
	return order
}

// hosts writes the findings under their hosts, as many as a person reads.
func (p *printer) hosts() {
	hosts := byHost(p.run.Findings)
	shown := share(hosts)
	names := map[string]int{}
	for _, h := range hosts {
		names[hostName(h.host)]++
	}
	for i, h := range hosts {
		if shown[i] == 0 {
			p.rest(hosts[i:]) // the room went out, so none of the later ones is shown
			return
		}
		head := hostName(h.host)
		if names[head] > 1 && h.host.GlobalID != "" {
			head += " " + finding.Plain(h.host.GlobalID) // nothing else tells them apart
		}
		p.host(head, h, shown[i])
	}
}

// share says how many entries of each host are shown: every hold before any
// review, every review before any note, as long as there is room.
func share(hosts []*hostFindings) []int {
	shown := make([]int, len(hosts))
	left := maxShown
	for _, priority := range [...]finding.Priority{finding.Hold, finding.Review, finding.Note} {
		for i, h := range hosts {
			for left > 0 && shown[i] < min(maxPerHost, len(h.entries)) && h.entries[shown[i]].priority == priority {
				shown[i]++
				left--
			}
		}
	}
	return shown
}

// host writes the first n entries of a host and counts the rest.
func (p *printer) host(head string, h *hostFindings, n int) {
	p.line("")
	p.line(p.paint(fit(head, p.columns()-2), bold))
	p.line("  " + some(tally(h.findings)))
	for i := range h.entries[:n] {
		p.entry(&h.entries[i])
	}
	var more []finding.Finding
	for _, e := range h.entries[n:] {
		more = append(more, e.findings...)
	}
	if len(more) > 0 {
		p.wrapped("  ", "  ", fmt.Sprintf("and %d more (%s), %s", len(more), some(tally(more)), whereAll))
	}
}

func hostName(r finding.Ref) string {
	if r == (finding.Ref{}) {
		return "Without host"
	}
	s := name(r)
	var more []string
	if mark := finding.Plain(r.Mark); mark != "" && mark != s {
		more = append(more, "mark "+finding.Short(mark, maxNameLength))
	}
	for _, m := range [...]string{r.Class, r.Model} {
		if m = finding.Plain(m); m != "" && m != s {
			more = append(more, m)
		}
	}
	if len(more) == 0 {
		return s
	}
	return s + " (" + strings.Join(more, ", ") + ")"
}

// entry writes priority, rule and set, then the sentence about the worst place
// with figure and limit, and where the limit comes from.
func (p *printer) entry(e *entry) {
	const indent = "  "
	head := pad(e.priority.String(), len("review"), false)
	rest := strings.Repeat(" ", len(indent)+len(head)+gap)
	text := e.text
	if n := len(e.findings); n > 1 {
		text += fmt.Sprintf(" (%d such findings)", n)
	}
	p.wrappedAfter(indent+p.paint(head, priorityColor(e.priority))+"  ", rest, text)
}

// wrappedAfter is wrapped with a first indent that may hold escapes; it takes
// as many columns as the rest.
func (p *printer) wrappedAfter(first, rest, s string) {
	for i, l := range wrap(s, p.columns()-columnsOf(rest)) {
		if i == 0 {
			p.line(first + l)
		} else {
			p.line(rest + l)
		}
	}
}

// sentence is a finding in words. The message of a rule has figure and limit in
// it as a rule; where it has not they are put before it.
func sentence(f *finding.Finding) string {
	s := finding.Plain(f.Rule) + ", " + finding.Short(setName(f), maxNameLength)
	if n := len(f.Instances); n > 1 {
		s += fmt.Sprintf(" (%d places)", n)
	}
	if f.Status != "" && f.Status != "open" {
		s += " (" + finding.Plain(f.Status) + ")"
	}
	s += ":"
	message := finding.Plain(f.Message)
	if w := f.Worst(); w != nil && w.Relation != finding.None {
		measured, required := w.Values()
		if !tells(message, measured) || !tells(message, required) {
			s += " " + w.Figures() + "."
		}
	}
	if message != "" {
		s += " " + message
	}
	if source := finding.Plain(f.Source); source != "" {
		s += " [" + source + "]"
	}
	return s
}

// setName names the set that a finding is about, or the item.
func setName(f *finding.Finding) string {
	if set := finding.Plain(f.Set); set != "" || len(f.Instances) == 0 {
		return set
	}
	return f.Instances[0].Item.Label()
}

// tells reports whether a figure stands in a text, and not as the end of a
// longer one.
func tells(text, figure string) bool {
	for rest := text; ; {
		i := strings.Index(rest, figure)
		if i < 0 {
			return false
		}
		if i == 0 || !strings.ContainsRune("0123456789.-", rune(rest[i-1])) {
			return true
		}
		rest = rest[i+len(figure):]
	}
}

func priorityColor(p finding.Priority) string {
	switch p {
	case finding.Hold:
		return red
	case finding.Review:
		return yellow
	}
	return cyan
}

// rest counts the hosts that are not shown.
func (p *printer) rest(hosts []*hostFindings) {
	var all []finding.Finding
	var list []string
	for _, h := range hosts {
		all = append(all, h.findings...)
		if len(list) < maxNames {
			list = append(list, name(h.host))
		}
	}
	p.line("")
	p.wrapped("", "  ", fmt.Sprintf("Not shown: %s with %s: %s", count(len(hosts), "more host"),
		some(tally(all)), names(list, len(hosts))))
}
