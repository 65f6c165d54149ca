package grid

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// readCSV reads texts separated by ; , or tab. Texts are UTF-8, with or without
// a byte order mark.
func (s *Sheet) readCSV(data []byte) error {
	data = bytes.TrimPrefix(data, []byte(bom))
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return fmt.Errorf("%s: is UTF-16; save it as CSV in UTF-8", s.Name)
	case bytes.IndexByte(data, 0) >= 0:
		return fmt.Errorf("%s: is no text; a CSV or XLSX file is wanted", s.Name)
	}
	if !utf8.Valid(data) {
		line := 1 + bytes.Count(data[:invalidAt(data)], []byte("\n"))
		return fmt.Errorf("%s: line %d holds characters that are not UTF-8; save it as CSV in UTF-8", s.Name, line)
	}
	if bytes.IndexByte(data, '\n') < 0 { // line ends of old
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = separatorOf(data)
	r.FieldsPerRecord = -1
	s.comma = r.Comma != ','
	total := 0
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return s.csvError(err)
		}
		for i := range cells {
			cells[i] = lively(cells[i])
		}
		line, _ := r.FieldPos(0)
		if err := s.add(line, cells, &total); err != nil {
			return err
		}
	}
}

// csvError names row and column; the library's own message counts bytes.
func (s *Sheet) csvError(err error) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return fmt.Errorf("%s: %w", s.Name, err)
	}
	what := "a quote inside a cell that does not begin with one; double it and put the cell in quotes"
	if errors.Is(p.Err, csv.ErrQuote) {
		what = "a cell begins with a quote and is not closed by one before the next separator"
	}
	return fmt.Errorf("%s: row %d, character %d: %s", s.Name, p.StartLine, p.Column, what)
}

// invalidAt is the first byte that is not UTF-8.
func invalidAt(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// separatorOf is the character that separates cells: that of ; tab and , which
// most of the first lines have, in equal number. Of two that do equally well the
// one named first: commas may be decimal.
func separatorOf(data []byte) rune {
	lines := firstLines(data, 20)
	best, most := ',', 0
	for _, sep := range ";\t," {
		score := 0
		counts := map[int]int{}
		for _, l := range lines {
			if n := strings.Count(l, string(sep)); n > 0 {
				counts[n]++
				score = max(score, counts[n])
			}
		}
		if score > most {
			best, most = sep, score
		}
	}
	return best
}

// firstLines are up to n lines that hold anything, without what stands in quotes.
func firstLines(data []byte, n int) []string {
	var out []string
	var line strings.Builder
	inQuotes := false
	end := func() {
		if s := line.String(); strings.TrimSpace(s) != "" {
			out = append(out, s)
		}
		line.Reset()
	}
	for _, c := range data {
		switch {
		case len(out) == n:
			return out
		case c == '"':
			inQuotes = !inQuotes
		case inQuotes:
		case c == '\n':
			end()
		default:
			line.WriteByte(c)
		}
	}
	end()
	return out
}
