package grid

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"embedcheck/internal/finding"
)

// What a workbook takes (ISO/IEC 29500 sets no limits; these are those of the
// file writer and of common spreadsheets).
const (
	maxSheetName = 31
	maxCell      = 32767 // characters
	maxRows      = 1 << 20
)

// Widths of columns in characters.
const (
	leastWidth = 6
	mostWidth  = 60
)

// WriteXLSX writes a workbook with one sheet a table: heading in bold, first
// row frozen, columns as wide as their texts. Texts are written as texts, never
// as formulas.
func WriteXLSX(w io.Writer, tables ...*Table) (err error) {
	if len(tables) == 0 {
		return errors.New("a workbook needs a table")
	}
	f := excelize.NewFile().SetZipWriter(newSortedZip)
	defer func() { err = errors.Join(err, f.Close()) }()
	b := book{f: f, styles: map[style]int{}, names: map[string]bool{}}
	for i, t := range tables {
		if err := b.add(t, i == 0); err != nil {
			return fmt.Errorf("sheet %q: %w", t.Name, err)
		}
	}
	return f.Write(w)
}

// book is a workbook on its way.
type book struct {
	f      *excelize.File
	styles map[style]int
	names  map[string]bool
}

// style is what cells look like.
type style struct {
	head, gap, wrap bool
	decimals        int // -1: a text
}

func (b *book) add(t *Table, first bool) error {
	if err := t.check(); err != nil {
		return err
	}
	if len(t.Rows) >= maxRows {
		return fmt.Errorf("%d rows do not fit a sheet; CSV has no such limit", len(t.Rows))
	}
	name := b.sheetName(t.Name)
	var err error
	if first {
		err = b.f.SetSheetName("Sheet1", name)
	} else {
		_, err = b.f.NewSheet(name)
	}
	if err != nil {
		return err
	}
	if err := b.page(name); err != nil {
		return err
	}
	s, err := b.f.NewStreamWriter(name)
	if err != nil {
		return err
	}
	// Widths and panes have to come before the first row.
	widths := make([]int, len(t.Columns))
	for i := range t.Columns {
		widths[i] = t.width(i)
		if err := s.SetColWidth(i+1, i+1, float64(widths[i])); err != nil {
			return err
		}
	}
	if err := s.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	if err := b.rows(s, t, widths); err != nil {
		return err
	}
	return s.Flush()
}

// page makes the sheet print lying, all columns on one page, the heading on each.
func (b *book) page(name string) error {
	fit, lying, wide, high := true, "landscape", 1, 0
	return errors.Join(
		b.f.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}),
		b.f.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &lying, FitToWidth: &wide, FitToHeight: &high}),
		b.f.SetDefinedName(&excelize.DefinedName{
			Name: "_xlnm.Print_Titles", Scope: name, RefersTo: "'" + name + "'!$1:$1",
		}),
	)
}

func (b *book) rows(s *excelize.StreamWriter, t *Table, widths []int) error {
	line := make([]any, len(t.Columns))
	head, err := b.style(style{head: true, wrap: true, decimals: -1})
	if err != nil {
		return err
	}
	texts := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		texts[i] = c.Heading()
		line[i] = excelize.Cell{StyleID: head, Value: texts[i]}
	}
	if err := s.SetRow("A1", line, height(texts, widths)); err != nil {
		return err
	}
	for r := range t.Rows {
		for i := range t.Columns {
			cell := t.cell(r, i)
			texts[i] = cell.text
			if line[i], err = b.cell(&t.Columns[i], cell); err != nil {
				return err
			}
		}
		if err := s.SetRow(fmt.Sprintf("A%d", r+2), line, height(texts, widths)); err != nil {
			return err
		}
	}
	return nil
}

// height is that of a row in which texts wrap: not every spreadsheet works it
// out when it opens a file.
func height(texts []string, widths []int) excelize.RowOpts {
	const line, most = 15, 20 // points; lines
	lines := 1
	for i, s := range texts {
		n, used := 1, 0
		for _, word := range strings.Fields(s) {
			w := utf8.RuneCountInString(word) + 1
			if used > 0 && used+w > widths[i] {
				n, used = n+1, 0
			}
			used += w
		}
		lines = max(lines, n)
	}
	return excelize.RowOpts{Height: float64(line * min(lines, most))}
}

func (b *book) cell(c *Column, v Cell) (any, error) {
	st := style{gap: v.Gap, decimals: -1}
	var value any
	switch v.is {
	case number:
		st.decimals = c.Decimals
		value = c.round(v.number)
	case text:
		value = finding.Short(v.text, maxCell)
		st.wrap = utf8.RuneCountInString(v.text)+3 > mostWidth
	}
	id, err := b.style(st)
	return excelize.Cell{StyleID: id, Value: value}, err
}

// style gives the number of a style, made when it is first asked for.
func (b *book) style(s style) (int, error) {
	if id, ok := b.styles[s]; ok {
		return id, nil
	}
	x := &excelize.Style{Alignment: &excelize.Alignment{Vertical: "top", WrapText: s.wrap}}
	if s.decimals < 0 {
		x.Alignment.Horizontal, x.Alignment.Indent = "left", 1 // keeps off the number beside it
	}
	if s.head {
		x.Font = &excelize.Font{Bold: true}
		x.Border = []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}}
	}
	if s.gap {
		x.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFE08A"}}
	}
	if s.decimals >= 0 {
		format := "0"
		if s.decimals > 0 {
			format += "." + strings.Repeat("0", s.decimals)
		}
		x.CustomNumFmt = &format
	}
	id, err := b.f.NewStyle(x)
	b.styles[s] = id
	return id, err
}

// width is what the longest text of a column takes, in characters.
func (t *Table) width(col int) int {
	c := t.Columns[col]
	// The heading may break at its blanks.
	w := leastWidth
	for _, word := range strings.Fields(c.Heading()) {
		w = max(w, utf8.RuneCountInString(word)+3)
	}
	for r := range t.Rows {
		w = max(w, utf8.RuneCountInString(c.Show(t.cell(r, col)))+3)
	}
	return min(w, mostWidth)
}

// sheetName makes a name that a workbook takes, and that no other sheet has.
func (b *book) sheetName(s string) string {
	s = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) {
			return ' '
		}
		return r
	}, finding.Plain(s))
	s = finding.Plain(s)
	if s == "" {
		s = "table"
	}
	for n := 1; ; n++ {
		tail := ""
		if n > 1 {
			tail = fmt.Sprintf(" %d", n)
		}
		name := finding.Short(s, maxSheetName-len(tail)) + tail
		if k := strings.ToLower(name); !b.names[k] {
			b.names[k] = true
			return name
		}
	}
}
