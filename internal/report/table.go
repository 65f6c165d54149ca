package report

import "strings"

// column is one column of a table.
type column struct {
	title string
	right bool // flush right, for numbers
	flex  bool // gives way, and wraps, when the table is too wide
	spare bool // left out when the table still is too wide
	most  int  // columns that a column which does not give way may take; 0: any
}

// table sets plain texts in columns, without lines between them, so that a
// selection can be pasted into a mail or a sheet.
type table struct {
	columns []column
	rows    [][]string
}

const gap = 2 // blanks between columns

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// lines are the lines of the table; empty columns are left out.
func (t *table) lines(l Layout, indent string) []string {
	widths := t.widths(l.columns() - len(indent))
	out := []string{indent + l.paint(t.line(widths, func(i int) string { return t.columns[i].title }), bold)}
	for _, row := range t.rows {
		out = append(out, t.rowLines(widths, row, indent)...)
	}
	return out
}

// rowLines sets one row; cells of columns that give way run on below.
func (t *table) rowLines(widths []int, row []string, indent string) []string {
	wrapped := make([][]string, len(row))
	height := 1
	for i, cell := range row {
		switch {
		case widths[i] == 0:
		case t.columns[i].flex:
			wrapped[i] = wrap(cell, widths[i])
		default:
			wrapped[i] = []string{fit(cell, widths[i])}
		}
		height = max(height, len(wrapped[i]))
	}
	var out []string
	for n := range height {
		out = append(out, indent+t.line(widths, func(i int) string {
			if n < len(wrapped[i]) {
				return wrapped[i][n]
			}
			return ""
		}))
	}
	return out
}

func (t *table) line(widths []int, cell func(i int) string) string {
	var b strings.Builder
	for i, w := range widths {
		if w == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteString(strings.Repeat(" ", gap))
		}
		b.WriteString(pad(cell(i), w, t.columns[i].right))
	}
	return strings.TrimRight(b.String(), " ")
}

// widths gives every column what its longest cell takes; the columns that give
// way share what is left when that is too much, and
// columns to spare go when that is not enough.
func (t *table) widths(total int) []int {
	widths := make([]int, len(t.columns))
	for _, row := range t.rows {
		for i, cell := range row {
			widths[i] = max(widths[i], columnsOf(cell))
		}
	}
	used, flexible := -gap, 0
	for i, c := range t.columns {
		if widths[i] == 0 {
			continue // nothing in it
		}
		widths[i] = max(widths[i], columnsOf(c.title))
		if c.most > 0 {
			widths[i] = min(widths[i], max(c.most, columnsOf(c.title)))
		}
		used += widths[i] + gap
		if c.flex {
			flexible++
		}
	}
	for used > total && flexible > 0 {
		w := t.widestFlex(widths)
		if widths[w] <= leastFlex {
			break
		}
		widths[w]--
		used--
	}
	for i := len(widths) - 1; i >= 0 && used > total; i-- {
		if t.columns[i].spare && widths[i] > 0 {
			used -= widths[i] + gap
			widths[i] = 0
		}
	}
	return widths
}

// leastFlex is what a column that gives way keeps.
const leastFlex = 14

func (t *table) widestFlex(widths []int) int {
	w := -1
	for i, c := range t.columns {
		if c.flex && (w < 0 || widths[i] > widths[w]) {
			w = i
		}
	}
	return w
}
