package grid

import (
	"bytes"
	"fmt"

	"github.com/xuri/excelize/v2"
)

// readXLSX reads the first sheet of a workbook: numbers as they are stored,
// formulas as the values that they had when the file was saved.
func (s *Sheet) readXLSX(data []byte) (err error) {
	defer func() {
		// The library is made for files that spreadsheets write; this one may have
		// been made to break it.
		if r := recover(); r != nil {
			err = fmt.Errorf("%s: is no readable workbook: %v", s.Name, r)
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpacked,
	})
	if err != nil {
		return fmt.Errorf("%s: is no readable workbook: %w", s.Name, err)
	}
	defer f.Close()
	sheets := f.GetSheetList()
	if len(sheets) == 0 {
		return fmt.Errorf("%s: holds no sheet", s.Name)
	}
	s.Name += ", sheet " + sheets[0]
	rows, err := f.Rows(sheets[0])
	if err != nil {
		return fmt.Errorf("%s: %w", s.Name, err)
	}
	defer rows.Close()
	total := 0
	for n := 1; rows.Next(); n++ {
		cells, err := rows.Columns()
		if err != nil {
			return fmt.Errorf("%s: row %d: %w", s.Name, n, err)
		}
		if err := s.add(n, cells, &total); err != nil {
			return err
		}
	}
	if err := rows.Error(); err != nil {
		return fmt.Errorf("%s: %w", s.Name, err)
	}
	return nil
}
