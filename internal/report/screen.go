package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
)

// Screening is all that a run over many files has to say.
type Screening struct {
	Panels  []Panel
	Ruleset string
	FailOn  finding.Priority
	Files   []File
}

// counts are the panels of each word.
func (s *Screening) counts() map[Word]int {
	n := map[Word]int{}
	for i := range s.Panels {
		n[s.Panels[i].Word(s.FailOn)]++
	}
	return n
}

// filesOfRule counts the files in which a rule is not met.
type filesOfRule struct {
	PanelRule
	files int
}

// byRule sums up the panels, the rules with most findings of the highest
// priority first.
func (s *Screening) byRule() []*filesOfRule {
	sums := map[string]*filesOfRule{}
	var order []*filesOfRule
	for i := range s.Panels {
		for _, r := range s.Panels[i].Rules {
			sum := sums[r.Rule]
			if sum == nil {
				sum = &filesOfRule{PanelRule: PanelRule{Rule: r.Rule}}
				sums[r.Rule] = sum
				order = append(order, sum)
			}
			sum.Hold, sum.Review, sum.Note = sum.Hold+r.Hold, sum.Review+r.Review, sum.Note+r.Note
			sum.files++
		}
	}
	slices.SortFunc(order, func(a, b *filesOfRule) int {
		return cmp.Or(cmp.Compare(b.Hold, a.Hold), cmp.Compare(b.Review, a.Review), cmp.Compare(b.Note, a.Note), cmp.Compare(a.Rule, b.Rule))
	})
	return order
}

// WriteScreening writes what follows the lines of the files: how many there are
// of each word and what the words mean, what was found by rule, and where the
// files are.
func WriteScreening(w io.Writer, s *Screening) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: LayoutFor(w), run: &finding.Run{}}
	n := s.counts()
	p.heading("Screened: " + count(len(s.Panels), "file"))
	t := table{columns: []column{{title: "files", right: true}, {title: "word"}, {title: "means", flex: true}}}
	for _, word := range words {
		t.add(strconv.Itoa(n[word]), string(word), word.Meaning(s.FailOn))
	}
	p.table(&t)
	if s.Ruleset != "" {
		p.wrapped("  rules: ", "         ", finding.Plain(s.Ruleset))
	}
	if order := s.byRule(); len(order) > 0 {
		p.heading("Findings by rule")
		t := table{columns: []column{
			{title: "rule"}, {title: "files", right: true}, {title: "hold", right: true}, {title: "review", right: true}, {title: "note", right: true},
		}}
		for _, r := range order {
			t.add(finding.Plain(r.Rule), strconv.Itoa(r.files), strconv.Itoa(r.Hold), strconv.Itoa(r.Review), strconv.Itoa(r.Note))
		}
		p.table(&t)
	}
	p.files(s.Files)
	p.line("")
	p.wrapped("", "", finding.Caution)
	p.wrapped("", "", s.closing(n))
	return b.Flush()
}

// closing is the line that a log shows last.
func (s *Screening) closing(n map[Word]int) string {
	var parts []string
	for _, w := range words {
		parts = append(parts, fmt.Sprintf("%d %s", n[w], w))
	}
	text := strings.Join(parts, ", ")
	if n[Stop] > 0 {
		text += ". Do not pour a panel that says stop until that is settled."
	} else {
		text += "."
	}
	return text
}

// Tables are the screening for a spreadsheet: the files, the rules, and what
// the words mean.
func (s *Screening) Tables() []*grid.Table {
	return []*grid.Table{s.fileTable(), s.ruleTable(), s.about()}
}

// kindColumns are the kinds in the order of a yard's list.
var kindColumns = []string{"bolt", "stud", "socket", "lifter", "plate", "channel", "sleeve", "former", "template", "fitting", "other"}

func (s *Screening) fileTable() *grid.Table {
	t := &grid.Table{Name: "files", Columns: []grid.Column{
		{Name: "word"}, {Name: "file"}, {Name: "mark"},
		{Name: "length", Unit: "mm", Type: grid.Number}, {Name: "width", Unit: "mm", Type: grid.Number}, {Name: "thickness", Unit: "mm", Type: grid.Number},
		{Name: "hosts", Type: grid.Number}, {Name: "items", Type: grid.Number},
	}}
	for _, k := range kindColumns {
		t.Columns = append(t.Columns, grid.Column{Name: k, Type: grid.Number})
	}
	for _, n := range []string{"bars", "hold", "review", "note", "accepted", "not checked"} {
		t.Columns = append(t.Columns, grid.Column{Name: n, Type: grid.Number})
	}
	t.Columns = append(t.Columns, grid.Column{Name: "worst"})
	for i := range s.Panels {
		t.Rows = append(t.Rows, s.row(&s.Panels[i]))
	}
	return t
}

func (s *Screening) row(p *Panel) []grid.Cell {
	word := grid.Str(string(p.Word(s.FailOn)))
	word.Gap = p.Word(s.FailOn) != Go
	row := []grid.Cell{word, grid.Str(p.File), grid.Str(p.Mark)}
	if p.Problem != "" {
		empty := make([]grid.Cell, 5+len(kindColumns)+6)
		return append(append(row, empty...), grid.Str(p.Problem))
	}
	for _, v := range p.Size {
		if v == 0 {
			row = append(row, grid.Cell{})
		} else {
			row = append(row, grid.Num(v))
		}
	}
	row = append(row, grid.Int(p.Hosts), grid.Int(p.Items))
	for _, k := range kindColumns {
		row = append(row, grid.Int(p.Kinds[k]))
	}
	for _, n := range []int{p.Bars, p.Hold, p.Review, p.Note, p.Accepted, p.Unchecked} {
		row = append(row, grid.Int(n))
	}
	return append(row, grid.Str(p.Why(s.FailOn)))
}

func (s *Screening) ruleTable() *grid.Table {
	t := &grid.Table{Name: "rules", Columns: []grid.Column{
		{Name: "rule"}, {Name: "files", Type: grid.Number}, {Name: "hold", Type: grid.Number}, {Name: "review", Type: grid.Number}, {Name: "note", Type: grid.Number},
	}}
	for _, r := range s.byRule() {
		t.Add(grid.Str(r.Rule), grid.Int(r.files), grid.Int(r.Hold), grid.Int(r.Review), grid.Int(r.Note))
	}
	return t
}

func (s *Screening) about() *grid.Table {
	t := &grid.Table{Name: "about", Columns: []grid.Column{{Name: "what"}, {Name: "meaning"}}}
	for _, w := range words {
		t.Add(grid.Str(string(w)), grid.Str(w.Meaning(s.FailOn)))
	}
	t.Add(grid.Str("rules"), grid.Str(s.Ruleset))
	t.Add(grid.Str("caution"), grid.Str(finding.Caution))
	return t
}
