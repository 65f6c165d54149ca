package grid

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// Table is a name, columns and rows. Rows may be shorter than the columns.
type Table struct {
	Name    string // of the sheet
	Columns []Column
	Rows    [][]Cell
}

// Add appends a row.
func (t *Table) Add(cells ...Cell) { t.Rows = append(t.Rows, cells) }

// check finds what no format could show.
func (t *Table) check() error {
	keys := map[string]bool{}
	for i, c := range t.Columns {
		if c.Name == "" || keys[c.Key()] {
			return fmt.Errorf("table %q: column %d has no name of its own", t.Name, i+1)
		}
		keys[c.Key()] = true
	}
	for i, r := range t.Rows {
		if len(r) > len(t.Columns) {
			return fmt.Errorf("table %q: row %d has %d cells for %d columns", t.Name, i+1, len(r), len(t.Columns))
		}
	}
	return nil
}

// cell is a cell of a row; empty beyond its end.
func (t *Table) cell(row, col int) Cell {
	if r := t.Rows[row]; col < len(r) {
		return r[col]
	}
	return Cell{}
}

// Type is what a column holds.
type Type int

const (
	Text   Type = iota
	Number      // a cell without a figure may hold a text or nothing
)

var typeNames = [...]string{"text", "number"}

func (t Type) String() string { return typeNames[t] }

// Column is one column.
type Column struct {
	Name     string
	Unit     string // mm, kg, ...; "" for texts and counts
	Type     Type
	Decimals int // that its numbers are rounded to
}

// Heading is the name with the unit: "length (mm)".
func (c Column) Heading() string {
	if c.Unit == "" {
		return finding.Plain(c.Name)
	}
	return finding.Plain(c.Name + " (" + c.Unit + ")")
}

// Key is the name for programs: "length_mm".
func (c Column) Key() string {
	word := func(s string) string {
		return strings.Join(strings.FieldsFunc(strings.ToLower(finding.Plain(s)), func(r rune) bool { return r == ' ' || r == '-' || r == '/' }), "_")
	}
	if c.Unit == "" {
		return word(c.Name)
	}
	return word(c.Name) + "_" + word(c.Unit)
}

// Cell is a text, a number or nothing.
type Cell struct {
	text   string
	number float64
	is     content
	Gap    bool // something is missing here: a spreadsheet shows it in another colour
}

type content uint8

const (
	nothing content = iota
	text
	number
)

// Str is a text; "" is nothing. It becomes plain: one line, no control characters.
func Str(s string) Cell {
	if s = finding.Plain(s); s == "" {
		return Cell{}
	}
	return Cell{text: s, is: text}
}

// Num is a number; what is no number is nothing.
func Num(v float64) Cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Cell{}
	}
	return Cell{number: v, is: number}
}

// Int is a count.
func Int(n int) Cell { return Num(float64(n)) }

// Missing is a text that says what is not there.
func Missing(s string) Cell {
	c := Str(s)
	c.Gap = true
	return c
}

// Empty reports whether a cell holds nothing.
func (c Cell) Empty() bool { return c.is == nothing }

// Text is the text in a cell, "" when there is none.
func (c Cell) Text() string { return c.text }

// Float is the number in a cell, and whether there is one.
func (c Cell) Float() (float64, bool) { return c.number, c.is == number }

// Show is a cell as its column writes it: numbers rounded, with a point and
// without digits that say nothing.
func (c Column) Show(v Cell) string {
	if v.is == number {
		return strconv.FormatFloat(c.round(v.number), 'f', -1, 64)
	}
	return v.text
}

// Fixed is Show with all the decimals of the column, so that numbers stand under
// one another.
func (c Column) Fixed(v Cell) string {
	if v.is == number {
		return strconv.FormatFloat(c.round(v.number), 'f', c.Decimals, 64)
	}
	return v.text
}

func (c Column) round(v float64) float64 { return finding.Round(v, c.Decimals) }
