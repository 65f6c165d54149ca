package page

import (
	"bufio"
	"fmt"
	"html/template"
	"io"
	"slices"

	"embedcheck/internal/finding"
)

// Report is what the page is about.
type Report struct {
	Run     *finding.Run
	Since   *finding.Comparison // nil when nothing was compared
	Verdict string              // one sentence on the release
	FailOn  finding.Priority    // that the verdict goes by
	Rules   []Rule
	Views   Views
}

// Rule is the page of a rule.
type Rule struct {
	ID, Title string
	Page      []Paragraph
}

// Paragraph is a part of a rule's page.
type Paragraph struct{ Title, Text string }

// Views gives what is to be seen of findings.
type Views struct {
	// Drawing is the drawing of a finding as SVG elements, made by this program;
	// nil when there is none. It is called from several goroutines. Optional.
	Drawing func(*finding.Finding) ([]byte, error)
	// Scene is the bodies around some findings, as internal/scene packs them. It is
	// called from several goroutines. Optional.
	Scene func([]*finding.Finding) ([]byte, error)
	// Style is the style sheet of the drawings.
	Style string
}

// Write writes the page as one file that needs nothing else.
func Write(w io.Writer, r *Report) error {
	b := bufio.NewWriterSize(w, 64<<10)
	p := newView(r)
	p.assets = newAssets(r.Views.Style)
	if err := templates.ExecuteTemplate(b, "page.html", p); err != nil {
		return err
	}
	if err := p.writePacks(b); err != nil {
		return err
	}
	if err := p.writeScenes(b); err != nil {
		return err
	}
	if _, err := io.WriteString(b, string(p.Script())+"\n</body>\n</html>\n"); err != nil {
		return err
	}
	return b.Flush()
}

// view is what the template of the page sees.
type view struct {
	assets
	*Report
	Hosts   []*hostView
	States  []stateCount
	Perhaps bool // findings were compared with an earlier run
	rows    []*row
}

type stateCount struct {
	Name string
	N    int
}

func newView(r *Report) *view {
	v := &view{Report: r, Perhaps: r.Since != nil}
	run := *r.Run.Sorted()
	v.Run = &run
	v.Hosts = hostsOf(v.Run)
	for _, h := range v.Hosts {
		for _, w := range h.Rows {
			w.Index = len(v.rows)
			v.rows = append(v.rows, w)
		}
	}
	if r.Since != nil {
		n := run.States()
		unseen := 0
		for i := range r.Since.Resolved {
			if r.Since.Resolved[i].Unseen {
				unseen++
			}
		}
		v.States = []stateCount{
			{"new", n[finding.New]}, {"worse", n[finding.Worse]}, {"better", n[finding.Better]},
			{"persisting", n[finding.Persisting]}, {"resolved", len(r.Since.Resolved) - unseen},
		}
		if unseen > 0 {
			v.States = append(v.States, stateCount{"not looked at", unseen})
		}
	}
	return v
}

// Total is the number of findings.
func (v *view) Total() int { return len(v.rows) }

// Caution is what stands in everything that people read.
func (v *view) Caution() string { return finding.Caution }

// RuleRows are the rules that have findings.
func (v *view) RuleRows() []Rule {
	used := map[string]bool{}
	for _, w := range v.rows {
		used[w.F.Rule] = true
	}
	return slices.DeleteFunc(slices.Clone(v.Rules), func(r Rule) bool { return !used[r.ID] })
}

// Facet is a value that rows can be filtered by, and how many have it.
type Facet struct {
	Value string
	N     int
}

// RuleFacet counts the findings of each rule.
func (v *view) RuleFacet() []Facet {
	return v.facet(func(w *row) []string { return []string{w.F.Rule} })
}

// KindFacet counts the findings of each kind of item.
func (v *view) KindFacet() []Facet { return v.facet(func(w *row) []string { return w.Kinds }) }

func (v *view) facet(of func(*row) []string) []Facet {
	n := map[string]int{}
	for _, w := range v.rows {
		for _, k := range of(w) {
			n[k]++
		}
	}
	var list []Facet
	for k, c := range n {
		list = append(list, Facet{k, c})
	}
	slices.SortFunc(list, func(a, b Facet) int { return finding.Natural(a.Value, b.Value) })
	return list
}

// percent is a share for the width of a bar.
func percent(n, of int) string {
	if of == 0 {
		return "0"
	}
	return fmt.Sprintf("%.2f", 100*float64(n)/float64(of))
}

// sheetHTML is the sheet of a row.
func sheetHTML(w io.Writer, r *row, drawing []byte) error {
	return templates.ExecuteTemplate(w, "sheet.html", &sheet{row: r, Drawing: template.HTML(drawing)})
}
