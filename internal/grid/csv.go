package grid

import (
	"bufio"
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// bom tells spreadsheets that a CSV file is UTF-8; without it some read
// accented letters wrongly.
const bom = "\ufeff"

// WriteCSV writes the table with a heading, as RFC 4180 has it. Texts that a
// spreadsheet would run as a formula are made inert.
func WriteCSV(w io.Writer, t *Table) error {
	if err := t.check(); err != nil {
		return err
	}
	b := bufio.NewWriter(w)
	b.WriteString(bom)
	c := csv.NewWriter(b)
	c.UseCRLF = true
	line := make([]string, len(t.Columns))
	for i, col := range t.Columns {
		line[i] = inert(col.Heading())
	}
	if err := c.Write(line); err != nil {
		return err
	}
	for r := range t.Rows {
		for i, col := range t.Columns {
			cell := t.cell(r, i)
			line[i] = col.Show(cell)
			if cell.is == text {
				line[i] = inert(line[i])
			}
		}
		if err := c.Write(line); err != nil {
			return err
		}
	}
	if c.Flush(); c.Error() != nil {
		return c.Error()
	}
	return b.Flush()
}

// inert puts an apostrophe before a text that a spreadsheet would take for a
// formula. A text that is a number and no more does no harm and stays.
func inert(s string) string {
	if runs(s) {
		return "'" + s
	}
	return s
}

// lively undoes inert.
func lively(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && runs(rest) {
		return rest
	}
	return s
}

// runs reports whether a text, behind any apostrophes, begins as a formula does.
// The wide forms count: some spreadsheets take them for the narrow ones.
func runs(s string) bool {
	s = strings.TrimLeft(s, "'")
	r, _ := utf8.DecodeRuneInString(s)
	switch {
	case s == "":
		return false
	case r < ' ' || r == 0x7f:
		return true
	case strings.ContainsRune("=@＝＋－＠", r):
		return true
	case r == '+' || r == '-':
		return !isNumber(s)
	}
	return false
}

// isNumber reports whether a text is a plain decimal number: no spreadsheet
// works anything out of it.
func isNumber(s string) bool {
	_, err := strconv.ParseFloat(s, 64)
	return err == nil && strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("+-.0123456789", r) }) < 0
}
