package grid

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// Sheet is a file as it was read: rows of texts, each with its place in the
// file. What the texts mean is for the caller to say: a mark such as 007 is no
// number.
type Sheet struct {
	Name string // of the file, and of the sheet in a workbook
	Rows []Row  // rows that hold nothing are left out

	comma bool      // cells may have a decimal comma: the separator is another character
	signs [2]*place // the first number with a decimal point, and with a comma
}

// Row is one row of a file.
type Row struct {
	Number int // in the file, from 1
	Cells  []string
}

// place is a cell in the file, for messages.
type place struct{ row, col int }

// Cell is a cell without blanks around it; "" beyond the end of its row.
func (s *Sheet) Cell(row, col int) string {
	if cells := s.Rows[row].Cells; col < len(cells) {
		return strings.TrimSpace(cells[col])
	}
	return ""
}

// At names a cell for messages: "points.csv, row 7, column C".
func (s *Sheet) At(row, col int) string {
	return fmt.Sprintf("%s, row %d, column %s", s.Name, s.Rows[row].Number, letters(col))
}

// letters is a column as spreadsheets count them: A to Z, AA and so on.
func letters(col int) string {
	s := ""
	for n := col + 1; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// Float is the number in a cell; ok is false when the cell is empty. The decimal
// sign is a point, or a comma where commas do not separate the cells; one file
// has one of the two. Signs between thousands are an error: 1,234 may be either.
func (s *Sheet) Float(row, col int) (v float64, ok bool, err error) {
	text := s.Cell(row, col)
	if text == "" {
		return 0, false, nil
	}
	point, comma := strings.Contains(text, "."), strings.Contains(text, ",")
	if comma && (point || !s.comma || strings.Count(text, ",") > 1) {
		return 0, false, s.noNumber(row, col, "write it with a decimal point and without signs between thousands")
	}
	v, err = strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(text, "xXpP_") {
		return 0, false, s.noNumber(row, col, "a number is wanted here")
	}
	if point || comma {
		if err := s.oneSign(row, col, comma); err != nil {
			return 0, false, err
		}
	}
	return v, true, nil
}

func (s *Sheet) noNumber(row, col int, do string) error {
	return fmt.Errorf("%s: %q is no number; %s", s.At(row, col), finding.Short(s.Cell(row, col), 40), do)
}

// oneSign refuses a file in which points and commas stand for decimals: one of
// them does not.
func (s *Sheet) oneSign(row, col int, comma bool) error {
	mine, other := 0, 1
	if comma {
		mine, other = 1, 0
	}
	if s.signs[mine] == nil {
		s.signs[mine] = &place{row, col}
	}
	if o := s.signs[other]; o != nil {
		return fmt.Errorf("%s: %q and, in row %d, %q: decimal points and decimal commas in one file; which of them separates thousands cannot be known",
			s.At(row, col), s.Cell(row, col), s.Rows[o.row].Number, s.Cell(o.row, o.col))
	}
	return nil
}

// Heading is a heading taken apart: "Length [mm]" is length in mm.
type Heading struct {
	Name string // lower case, one blank between words
	Unit string // as written; "" without one
}

// Headings reads a row as headings of columns. A unit stands in brackets at the
// end.
func (s *Sheet) Headings(row int) []Heading {
	out := make([]Heading, len(s.Rows[row].Cells))
	for i := range out {
		out[i] = heading(s.Cell(row, i))
	}
	return out
}

func heading(text string) Heading {
	h := Heading{}
	for _, b := range []string{"()", "[]"} {
		open := strings.LastIndexByte(text, b[0])
		if open >= 0 && strings.HasSuffix(text, b[1:]) {
			h.Unit = strings.TrimSpace(text[open+1 : len(text)-1])
			text = text[:open]
			break
		}
	}
	words := strings.FieldsFunc(strings.ToLower(finding.Plain(text)), func(r rune) bool { return r == ' ' || r == '_' })
	h.Name = strings.Join(words, " ")
	return h
}
