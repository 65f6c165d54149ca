package grid

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// Limits of what is read; a larger file is an error that says so. They keep a
// file that is not what it seems from taking all memory.
const (
	maxBytes     = 64 << 20
	maxUnpacked  = 512 << 20 // of a workbook
	maxReadRows  = maxRows
	maxReadCells = 4 << 20
	maxColumns   = 1000
)

// Read reads a table from a CSV or XLSX file; of a workbook its first sheet.
// The content decides which of the two it is, not the name.
func Read(path string) (*Sheet, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s: is a folder; name a CSV or XLSX file", path)
	}
	data, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return Parse(filepath.Base(path), data)
}

// Parse is Read for a file that is in memory; name stands in messages.
func Parse(name string, data []byte) (*Sheet, error) {
	if len(data) > maxBytes {
		return nil, fmt.Errorf("%s: larger than %d MB; a table of this size is not read", name, maxBytes>>20)
	}
	s := &Sheet{Name: name}
	var err error
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		err = s.readXLSX(data)
	} else {
		err = s.readCSV(data)
	}
	if err != nil {
		return nil, err
	}
	if len(s.Rows) == 0 {
		return nil, fmt.Errorf("%s: holds no rows", s.Name)
	}
	return s, nil
}

// add appends a row if it holds anything.
func (s *Sheet) add(number int, cells []string, total *int) error {
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) == 0 {
		return nil
	}
	*total += len(cells)
	switch {
	case len(cells) > maxColumns:
		return fmt.Errorf("%s: row %d has more than %d columns", s.Name, number, maxColumns)
	case len(s.Rows) >= maxReadRows || *total > maxReadCells:
		return fmt.Errorf("%s: row %d: more rows and cells than are read (%d and %d)", s.Name, number, maxReadRows, maxReadCells)
	}
	for i, c := range cells {
		if len(c) > 4*maxCell {
			return fmt.Errorf("%s, row %d, column %s: a text of %d bytes; is the file cut or a quote missing?", s.Name, number, letters(i), len(c))
		}
	}
	s.Rows = append(s.Rows, Row{number, cells})
	return nil
}
