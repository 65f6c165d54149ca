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
)

// How much of a comparison is printed; the rest is in the table that is written.
const (
	maxWithin    = 25
	maxListed    = 40
	maxReference = 12
	maxSurveys   = 6
	whereRest    = "see measured.csv"
)

// WriteMeasured writes what a surveyor reads after a comparison: which sheets
// were read, what looks wrong in them, how surveys fit, and then every value
// beside that of the model, the worst first. Texts of sheets and models are made
// harmless first.
func WriteMeasured(w io.Writer, m *Measured) error {
	b := bufio.NewWriter(w)
	p := measuredPrinter{printer: printer{w: b, Layout: m.Layout, run: m.Run.Sorted()}, m: m}
	p.models()
	p.sheets()
	p.hints()
	p.surveys()
	p.values(Outside, "Outside the stated tolerance", maxListed)
	p.reasons(NotCompared, "Not compared")
	p.reasons(UnknownKey, "Not in the models")
	p.values(Within, "Within the stated tolerance", maxWithin)
	p.values(NoTolerance, "Without a stated tolerance", maxWithin)
	p.blanks()
	p.cited()
	p.files(m.Files)
	p.line("")
	p.wrapped("", "", finding.Caution+" The model's figures are taken as they are.")
	p.verdict()
	return b.Flush()
}

type measuredPrinter struct {
	printer
	m       *Measured
	sources []string // in the order in which the tables name them
}

func (p *measuredPrinter) sheets() {
	p.heading("Sheets")
	t := table{columns: []column{{title: "sheet", flex: true}, {title: "read in"}, {title: "filled", right: true}, {title: "blank", right: true}}}
	for _, s := range p.m.Sheets {
		t.add(finding.Plain(s.Name), s.Unit, strconv.Itoa(s.Values), strconv.Itoa(s.Blank))
	}
	p.table(&t)
}

func (p *measuredPrinter) hints() {
	if len(p.m.Hints) == 0 {
		return
	}
	p.heading("Look at the sheets first")
	for _, h := range p.m.Hints {
		p.wrapped("  ", "    ", finding.Plain(h))
	}
	p.wrapped("  ", "  ", "Nothing was changed: all values are compared as they stand.")
}

// values is the table of all rows in a state.
func (p *measuredPrinter) values(state MeasuredState, title string, most int) {
	n := p.m.Count(state)
	if n == 0 {
		return
	}
	p.heading(fmt.Sprintf("%s: %d (lengths in mm)", title, n))
	t := table{columns: []column{
		{title: "dimension", flex: true}, {title: "model", right: true}, {title: "measured", right: true},
		{title: "deviation", right: true}, {title: "tolerance", right: true}, {title: "source", right: true}, {title: "by", spare: true},
	}}
	shown := 0
	var notes []string
	for i := range p.m.Rows {
		r := &p.m.Rows[i]
		if r.State != state || shown == most {
			continue
		}
		shown++
		key := finding.Plain(r.Key)
		t.add(key, length(r.Model), length(r.Measured), deviation(r), tolerance(r), p.source(r.Source), by(r))
		if r.Note != "" {
			notes = append(notes, finding.Short(key, 80)+": "+finding.Plain(r.Note))
		}
	}
	p.table(&t)
	for _, n := range notes {
		p.wrapped("  ", "    ", n)
	}
	if n > shown {
		p.line(fmt.Sprintf("  and %d more, %s", n-shown, whereRest))
	}
}

// source is the number that a source has in the list below the tables.
func (p *measuredPrinter) source(text string) string {
	if text == "" {
		return ""
	}
	i := slices.Index(p.sources, text)
	if i < 0 {
		i = len(p.sources)
		p.sources = append(p.sources, text)
	}
	return "[" + strconv.Itoa(i+1) + "]"
}

// cited lists the sources that the tables name by their numbers.
func (p *measuredPrinter) cited() {
	if len(p.sources) == 0 {
		return
	}
	p.heading("Sources of the tolerances")
	for i, s := range p.sources {
		head := fmt.Sprintf("  [%d] ", i+1)
		p.wrapped(head, strings.Repeat(" ", len(head)), finding.Plain(s))
	}
}

func by(r *MeasuredRow) string {
	if r.Surveyed {
		return "instrument"
	}
	return "tape"
}

// reasons lists rows that were not compared, with why.
func (p *measuredPrinter) reasons(state MeasuredState, title string) {
	n := p.m.Count(state)
	if n == 0 {
		return
	}
	p.heading(fmt.Sprintf("%s: %d", title, n))
	shown := 0
	for i := range p.m.Rows {
		r := &p.m.Rows[i]
		if r.State != state || shown == maxListed {
			continue
		}
		shown++
		key := cmp.Or(finding.Plain(r.Key), "no key")
		p.wrapped("  ", "    ", fmt.Sprintf("%s (%s): %s", finding.Short(key, 80), finding.Plain(r.Where), finding.Plain(r.Note)))
	}
	if n > shown {
		p.line(fmt.Sprintf("  and %d more, %s", n-shown, whereRest))
	}
}

// blanks counts what was not measured, host by host.
func (p *measuredPrinter) blanks() {
	total := p.m.Count(NotMeasured)
	if total == 0 {
		return
	}
	p.heading(fmt.Sprintf("Not measured: %d", total))
	blank, absent := map[string]int{}, map[string]int{}
	var hosts []string
	for i := range p.m.Rows {
		r := &p.m.Rows[i]
		if r.State != NotMeasured {
			continue
		}
		if blank[r.Host]+absent[r.Host] == 0 {
			hosts = append(hosts, r.Host)
		}
		if r.Note == "" {
			blank[r.Host]++
		} else {
			absent[r.Host]++
		}
	}
	for i, h := range hosts {
		if i == maxListed {
			p.line(fmt.Sprintf("  and %s more, %s", count(len(hosts)-i, "host"), whereRest))
			break
		}
		var parts []string
		if n := blank[h]; n > 0 {
			parts = append(parts, count(n, "blank row"))
		}
		if n := absent[h]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d on no sheet", n))
		}
		p.wrapped("  ", "    ", finding.Plain(h)+": "+strings.Join(parts, ", "))
	}
}

// verdict is the one line that a log shows last.
func (p *measuredPrinter) verdict() {
	m := p.m
	parts := []string{
		fmt.Sprintf("%d outside the stated tolerance", m.Count(Outside)),
		fmt.Sprintf("%d within it", m.Count(Within)),
	}
	for _, c := range []struct {
		n    int
		what string
	}{
		{m.Count(NoTolerance), "without one"},
		{m.Count(NotCompared) + m.Count(UnknownKey), "not compared"},
		{m.Count(NotMeasured), "not measured"},
	} {
		if c.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", c.n, c.what))
		}
	}
	s := strings.Join(parts, ", ") + "."
	if m.Count(Outside)+m.Count(Within) == 0 {
		s = "Nothing was compared: " + s
	}
	p.wrapped("", "", s)
}
