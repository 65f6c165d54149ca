package report

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// Panel is what screening says of one file that is a model of its own. It is
// kept between runs, so its fields have names for JSON.
type Panel struct {
	File    string         `json:"file"`
	Problem string         `json:"problem,omitempty"` // why the file could not be read; all else is zero then
	Mark    string         `json:"mark"`              // of the largest host
	Hosts   int            `json:"hosts"`
	Size    [3]float64     `json:"size_mm"` // length, width, thickness of the largest host; zero when not measured
	Items   int            `json:"items"`
	Kinds   map[string]int `json:"kinds"`
	Bars    int            `json:"bars"`

	Hold      int `json:"hold"` // findings that no one has accepted, by priority
	Review    int `json:"review"`
	Note      int `json:"note"`
	Accepted  int `json:"accepted"`
	Unchecked int `json:"unchecked"` // places

	Worst string      `json:"worst"` // the first of the findings with the highest priority, in words
	Rules []PanelRule `json:"rules"`
}

// PanelRule counts the findings of one rule in one file.
type PanelRule struct {
	Rule   string `json:"rule"`
	Hold   int    `json:"hold"`
	Review int    `json:"review"`
	Note   int    `json:"note"`
}

// Word says in one word what to do with a panel.
type Word string

const (
	Go   Word = "go"
	Look Word = "look"
	Stop Word = "stop"
)

// Words, in the order of the tables.
var words = [...]Word{Stop, Look, Go}

// Meaning says what the word stands for when failOn is the least priority that
// stops. No word says that a panel is right.
func (w Word) Meaning(failOn finding.Priority) string {
	switch w {
	case Stop:
		return fmt.Sprintf("something found at or above %s, or the file could not be read", failOn)
	case Look:
		if failOn > finding.Review {
			return "something found at or above review, something not checked, or no host or item recognised"
		}
		return "something not checked, or no host or item recognised"
	}
	return fmt.Sprintf("nothing found at or above %s; that says nothing about what the rules do not see", min(failOn, finding.Review))
}

// Word is the word for the panel.
func (p *Panel) Word(failOn finding.Priority) Word {
	above := [...]int{finding.Note: p.Hold + p.Review + p.Note, finding.Review: p.Hold + p.Review, finding.Hold: p.Hold}
	switch {
	case p.Problem != "" || above[failOn] > 0:
		return Stop
	case above[finding.Review] > 0 || p.Unchecked > 0 || p.Items == 0 || p.Hosts == 0:
		return Look
	}
	return Go
}

// Why is the worst that is known of a panel, in words.
func (p *Panel) Why(failOn finding.Priority) string {
	switch {
	case p.Problem != "":
		return finding.Plain(p.Problem)
	case p.Hosts == 0:
		return "no host was recognised: nothing was checked"
	case p.Items == 0:
		return "no item was recognised: nothing was checked"
	case p.Worst != "":
		return finding.Plain(p.Worst)
	}
	return "nothing found at or above note"
}

// PanelOf fills in what the findings of a run say; the caller knows the rest.
func PanelOf(run *finding.Run) Panel {
	run = run.Sorted()
	p := Panel{Items: run.Counts.Items, Hosts: run.Counts.Hosts, Bars: run.Counts.Bars, Kinds: maps.Clone(run.Counts.Kinds)}
	open := slices.DeleteFunc(slices.Clone(run.Findings), func(f finding.Finding) bool { return f.Settled() })
	p.Accepted = len(run.Findings) - len(open)
	c := tally(open)
	p.Hold, p.Review, p.Note, p.Unchecked = c.Hold, c.Review, c.Note, c.Unchecked
	for _, r := range byRule(open) {
		p.Rules = append(p.Rules, PanelRule{r.rule, r.count[finding.Hold], r.count[finding.Review], r.count[finding.Note]})
	}
	if len(open) > 0 {
		p.Worst = inShort(&open[0])
	}
	return p
}

// inShort is a finding in a few words: rule, mark of the worst item and figures.
func inShort(f *finding.Finding) string {
	s := finding.Plain(f.Rule)
	w := f.Worst()
	what := setName(f)
	if w != nil && finding.Plain(w.Item.Mark) != "" {
		what = finding.Plain(w.Item.Mark)
	}
	if what != "" {
		s += ", " + finding.Short(what, maxNameLength)
	}
	if w != nil && w.Relation != finding.None {
		return s + ": " + w.Figures()
	}
	return s + ": " + finding.Plain(cmp.Or(f.Message, f.Title))
}

// SizeText is the size of a panel as people say it.
func (p *Panel) SizeText() string {
	if p.Size == [3]float64{} {
		return ""
	}
	mm := func(v float64) string { return strconv.FormatFloat(finding.Round(v, 0), 'f', -1, 64) }
	return mm(p.Size[0]) + " x " + mm(p.Size[1]) + " x " + mm(p.Size[2])
}

// PanelLines writes a line for each file of a screening, as soon as it is known.
type PanelLines struct {
	w      io.Writer
	layout Layout
	file   int // columns for the names of files
	failOn finding.Priority
	cut    bool // lines are cut to the width of the terminal
}

// NewPanelLines prepares for files of the given names. On a terminal lines are
// cut to its width; elsewhere they are whole.
func NewPanelLines(w io.Writer, names []string, failOn finding.Priority) *PanelLines {
	l := &PanelLines{w: w, layout: LayoutFor(w), failOn: failOn, cut: OnTerminal(w)}
	for _, n := range names {
		l.file = max(l.file, columnsOf(finding.Plain(n)))
	}
	l.file = min(l.file, maxNameLength)
	return l
}

// Columns that the parts of a line are filled up to; longer ones run over.
const (
	markColumns  = 12
	sizeColumns  = 17
	itemsColumns = 30
	wideEnough   = 130 // on a narrower terminal mark and items give way to what was found
)

// Write writes the line of a file.
func (l *PanelLines) Write(p *Panel) error {
	word := p.Word(l.failOn)
	file := pad(fit(finding.Plain(p.File), l.file), l.file, false)
	rest := "  "
	switch {
	case p.Problem != "":
	case l.cut && l.layout.Width < wideEnough:
		rest += pad(p.SizeText(), sizeColumns, false) + "  "
	default:
		rest += pad(finding.Short(finding.Plain(p.Mark), maxNameLength), markColumns, false) + "  " +
			pad(p.SizeText(), sizeColumns, false) + "  " + pad(strings.Join(kinds(p.Kinds), ", "), itemsColumns, false) + "  "
	}
	rest += p.Why(l.failOn)
	if l.cut {
		rest = fit(rest, max(l.layout.Width-l.file-6, 0))
	}
	_, err := fmt.Fprintln(l.w, l.layout.paint(pad(string(word), 4, false), wordColor(word))+"  "+file+strings.TrimRight(rest, " "))
	return err
}

func wordColor(w Word) string {
	switch w {
	case Stop:
		return red
	case Look:
		return yellow
	}
	return cyan
}
