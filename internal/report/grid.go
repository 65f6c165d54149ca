package report

import (
	"bufio"
	"io"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
)

// WriteGrid prints a table under its name. The columns named give way, and
// their texts wrap, when the table is too wide.
func WriteGrid(w io.Writer, g *grid.Table, flex ...string) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: LayoutFor(w)}
	p.heading(finding.Plain(g.Name))
	var t table
	for _, c := range g.Columns {
		t.columns = append(t.columns, column{title: c.Heading(), right: c.Type == grid.Number, flex: slices.Contains(flex, c.Name)})
	}
	for _, row := range g.Rows {
		cells := make([]string, len(g.Columns))
		for i := range row {
			cells[i] = g.Columns[i].Fixed(row[i])
		}
		t.add(cells...)
	}
	if len(t.rows) == 0 {
		p.line("  none")
	} else {
		p.table(&t)
	}
	return b.Flush()
}

// WriteNotes prints what to know about the tables before, and the caution last.
func WriteNotes(w io.Writer, notes ...string) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: LayoutFor(w)}
	p.line("")
	for _, n := range append(notes, finding.Caution) {
		p.wrapped("", "", finding.Plain(n))
	}
	return b.Flush()
}

// WriteFiles prints where the files of a run are.
func WriteFiles(w io.Writer, files []File) error {
	if len(files) == 0 {
		return nil
	}
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: LayoutFor(w)}
	p.files(files)
	return b.Flush()
}
