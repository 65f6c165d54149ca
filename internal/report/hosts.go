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
		p.line("  none at the stated limits")
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
	for i, h := range hosts {
		if shown[i] == 0 {
			p.rest(hosts[i:]) // the room went out, so none of the later ones is shown
			return
		}
		p.host(h, shown[i])
	}
}

// share says how many findings of each host are shown: every hold before any
// review, every review before any note, as long as there is room.
func share(hosts []*hostFindings) []int {
	shown := make([]int, len(hosts))
	left := maxShown
	for _, priority := range [...]finding.Priority{finding.Hold, finding.Review, finding.Note} {
		for i, h := range hosts {
			for left > 0 && shown[i] < min(maxPerHost, len(h.findings)) && h.findings[shown[i]].Priority == priority {
				shown[i]++
				left--
			}
		}
	}
	return shown
}

// host writes the first n findings of a host and counts the rest.
func (p *printer) host(h *hostFindings, n int) {
	p.line("")
	head := hostName(h.host)
	p.line(p.paint(fit(head, p.columns()-2), bold))
	p.line("  " + some(tally(h.findings)))
	for i := range h.findings[:n] {
		p.finding(&h.findings[i])
	}
	if more := h.findings[n:]; len(more) > 0 {
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

// finding writes priority, rule, set, figure and limit, and below it the
// sentence about the worst place and where the limit comes from.
func (p *printer) finding(f *finding.Finding) {
	const indent = "  "
	head := pad(f.Priority.String(), len("review"), false)
	rest := strings.Repeat(" ", len(indent)+len(head)+gap)
	p.wrappedAfter(indent+p.paint(head, priorityColor(f.Priority))+"  ", rest, headline(f))
	text := finding.Plain(f.Message)
	if s := finding.Plain(f.Source); s != "" {
		text += " [" + s + "]"
	}
	if text != "" {
		p.wrapped(rest, rest, text)
	}
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

func headline(f *finding.Finding) string {
	set := finding.Plain(f.Set)
	if set == "" && len(f.Instances) > 0 {
		set = f.Instances[0].Item.Label()
	}
	s := finding.Plain(f.Rule) + ": " + finding.Short(set, maxNameLength)
	if w := f.Worst(); w != nil {
		if fig := w.Figures(); fig != "" {
			s += ": " + fig
		}
	}
	if n := len(f.Instances); n > 1 {
		s += fmt.Sprintf("; %d places", n)
	}
	if f.Status != "" && f.Status != "open" {
		s += " (" + finding.Plain(f.Status) + ")"
	}
	return s
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
