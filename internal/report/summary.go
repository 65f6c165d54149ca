package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"embedcheck/internal/finding"
)

// File is an output that was written, and what is in it.
type File struct {
	Path string
	What string
}

// Summary is what the summary says beside the run itself.
type Summary struct {
	Files   []File
	LeftOut int // elements that are neither host, item nor bar
	Layout  Layout
}

// How much the summary shows; what it leaves out it counts and says where to
// find it.
const (
	maxShown      = 60 // entries: findings that read the same count once
	maxPerHost    = 8  // entries of one host
	maxReasons    = 12 // reasons for not checking
	maxNames      = 6  // names in a list
	maxNameLength = 40
	whereAll      = "see findings.json"
)

// WriteSummary writes what a coordinator reads after a check: what was read and
// recognised, what was not checked and why, the findings host by host with
// figure and limit, and where the files are. Texts of the models are made
// harmless first.
func WriteSummary(w io.Writer, run *finding.Run, s Summary) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: s.Layout, run: run.Sorted()}
	p.models()
	p.recognised(s.LeftOut)
	p.notChecked()
	p.overview()
	p.hosts()
	p.files(s.Files)
	p.line("")
	p.wrapped("", "", finding.Caution)
	p.closing()
	return b.Flush()
}

type printer struct {
	Layout
	w   *bufio.Writer // keeps the first error
	run *finding.Run
}

func (p *printer) line(s string) {
	p.w.WriteString(s)
	p.w.WriteByte('\n')
}

func (p *printer) heading(s string) { p.line(""); p.line(p.paint(s, bold)) }

// wrapped writes a plain text with a first indent and one for the lines below.
func (p *printer) wrapped(first, rest, s string) {
	n := p.columns() - max(columnsOf(first), columnsOf(rest))
	for i, l := range wrap(s, n) {
		if i == 0 {
			p.line(first + l)
		} else {
			p.line(rest + l)
		}
	}
}

func (p *printer) table(t *table) {
	for _, l := range t.lines(p.Layout, "  ") {
		p.line(l)
	}
}

func (p *printer) models() {
	p.line(p.paint("Read", bold))
	t := table{columns: []column{{title: "model", flex: true}, {title: "schema"}, {title: "length unit"}}}
	for _, m := range p.run.Models {
		t.add(finding.Plain(m.Path), finding.Plain(m.Schema), finding.Plain(m.Unit))
	}
	p.table(&t)
	if r := p.run.Ruleset; r.Name != "" {
		p.wrapped("  rules: ", "         ", finding.Plain(r.Name))
	}
	for _, s := range p.run.Remarks {
		p.wrapped("  mind: ", "        ", finding.Plain(s))
	}
}

// mapPlaces tells where models lie on a map, for those that say.
func (p *printer) mapPlaces() {
	for _, m := range p.run.Models {
		var parts []string
		if g := m.Map; g != nil {
			parts = append(parts, fmt.Sprintf("origin at E %.3f m, N %.3f m, height %.3f m", g.Eastings, g.Northings, g.Height))
			if g.CRS != "" {
				parts[0] += " of " + finding.Plain(g.CRS)
			}
			parts = append(parts, fmt.Sprintf("x axis %.4f degrees anticlockwise from east", g.Turn))
			if g.Scale != 1 {
				parts = append(parts, fmt.Sprintf("scale %g", g.Scale))
			}
		}
		if m.TrueNorth != nil {
			parts = append(parts, fmt.Sprintf("true north %.4f degrees anticlockwise from the y axis", *m.TrueNorth))
		}
		if len(parts) > 0 {
			p.wrapped("  map: ", "       ", finding.Plain(m.Name)+": "+strings.Join(parts, "; "))
		}
	}
}

func (p *printer) recognised(leftOut int) {
	c := &p.run.Counts
	p.heading("Recognised")
	p.wrapped("  ", "  ", strings.Join([]string{
		count(c.Hosts, "host"), count(c.Items, "item"), count(c.Sets, "set"),
		count(c.Anchors, "anchor"), count(c.Bars, "bar"),
	}, ", "))
	if len(c.Kinds) > 0 {
		p.wrapped("  items: ", "         ", strings.Join(kinds(c.Kinds), ", "))
	}
	if leftOut > 0 {
		p.wrapped("  ", "  ", count(leftOut, "element")+" left out as neither host, item nor bar; embedcheck inventory says why")
	}
}

// kinds lists the most frequent first.
func kinds(of map[string]int) []string {
	names := slices.SortedFunc(maps.Keys(of), func(a, b string) int {
		return cmp.Or(cmp.Compare(of[b], of[a]), cmp.Compare(a, b))
	})
	for i, n := range names {
		names[i] = kindCount(of[n], finding.Plain(n))
	}
	return names
}

func kindCount(n int, kind string) string {
	if kind == "other" {
		return fmt.Sprintf("%d other", n)
	}
	return count(n, kind)
}

// reason is one cause for not checking, and what it befell.
type reason struct {
	why   string
	names []string
	count int
}

func (p *printer) notChecked() {
	reasons, total := p.reasons()
	if total == 0 {
		return
	}
	p.heading(fmt.Sprintf("Not checked: %d", total))
	for i, r := range reasons {
		if i == maxReasons {
			p.wrapped("  ", "  ", fmt.Sprintf("and %s, %s", count(len(reasons)-i, "more reason"), whereAll))
			break
		}
		head := fmt.Sprintf("  %d x ", r.count)
		p.wrapped(head, strings.Repeat(" ", len(head)), r.why+": "+names(r.names, r.count))
	}
}

// reasons groups the places that were not checked by why, most frequent first.
func (p *printer) reasons() (list []*reason, total int) {
	byWhy := map[string]*reason{}
	for i := range p.run.Findings {
		f := &p.run.Findings[i]
		if f.Rule != finding.NotChecked {
			continue
		}
		for j := range f.Instances {
			in := &f.Instances[j]
			why := whyNot(f, in)
			r := byWhy[why]
			if r == nil {
				r = &reason{why: why}
				byWhy[why] = r
				list = append(list, r)
			}
			r.count++
			total++
			if len(r.names) < maxNames {
				r.names = append(r.names, placeName(f, in))
			}
		}
	}
	slices.SortStableFunc(list, func(a, b *reason) int { return cmp.Compare(b.count, a.count) })
	return list, total
}

// whyNot is the reason without the name of the item, which would make a reason
// of its own of every item.
func whyNot(f *finding.Finding, in *finding.Instance) string {
	why := strings.TrimSuffix(finding.Plain(cmp.Or(in.Text, f.Message, f.Title)), ".")
	if rest, ok := strings.CutPrefix(why, in.Item.Label()+" "); ok {
		return "it " + rest
	}
	return why
}

func placeName(f *finding.Finding, in *finding.Instance) string {
	s := name(in.Item)
	if f.Host != (finding.Ref{}) && f.Host != in.Item {
		s += " in " + name(f.Host)
	}
	return s
}

// names lists names; there may be more than are listed.
func names(list []string, of int) string {
	s := strings.Join(list, ", ")
	if more := of - len(list); more > 0 {
		s += fmt.Sprintf(" and %d more, %s", more, whereAll)
	}
	return s
}

func name(r finding.Ref) string { return finding.Short(r.Label(), maxNameLength) }

func (p *printer) files(files []File) {
	if len(files) == 0 {
		return
	}
	p.heading("Files")
	widest := 0
	for _, f := range files {
		widest = max(widest, columnsOf(finding.Plain(f.Path)))
	}
	for _, f := range files {
		path, what := finding.Plain(f.Path), finding.Plain(f.What)
		if widest+columnsOf(what)+4 <= p.columns() {
			p.line("  " + strings.TrimRight(pad(path, widest+2, false)+what, " "))
			continue
		}
		p.line("  " + path) // never cut: it is meant to be pasted
		p.wrapped("    ", "    ", what)
	}
}

// closing is the one line that a log shows last. What people have accepted does
// not hold the pour.
func (p *printer) closing() {
	all := tally(p.run.Findings)
	open := tally(slices.DeleteFunc(slices.Clone(p.run.Findings), func(f finding.Finding) bool { return f.Settled() }))
	s := priorities(all)
	if n := all.Hold + all.Review + all.Note - open.Hold - open.Review - open.Note; n > 0 {
		s += fmt.Sprintf(" (%d of them accepted)", n)
	}
	if all.Unchecked > 0 {
		s += fmt.Sprintf("; %d not checked", all.Unchecked)
	}
	switch {
	case open.Hold > 0:
		s += ". Do not pour until the hold findings are settled."
	case open.Review > 0:
		s += ". An engineer decides on the review findings."
	case all.Unchecked > 0:
		s += ". What was not checked has to be looked at by a person."
	case p.run.Counts.Items == 0:
		s += ". No item was recognised: nothing was checked."
	default:
		s += "."
	}
	p.wrapped("", "", s)
}

func tally(findings []finding.Finding) finding.Counts {
	r := finding.Run{Findings: findings}
	r.Tally()
	return r.Counts
}

func priorities(c finding.Counts) string {
	return fmt.Sprintf("%d hold, %d review, %d note", c.Hold, c.Review, c.Note)
}

// some is priorities without those that there are none of.
func some(c finding.Counts) string {
	var s []string
	for _, x := range [...]struct {
		n    int
		word string
	}{{c.Hold, "hold"}, {c.Review, "review"}, {c.Note, "note"}} {
		if x.n > 0 {
			s = append(s, fmt.Sprintf("%d %s", x.n, x.word))
		}
	}
	return strings.Join(s, ", ")
}

// count says how many there are of what a noun names.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
