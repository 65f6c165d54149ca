package main

import (
	"io"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/grid"
)

// tableOutputs are tables as a workbook and as JSON, and the first of them as
// CSV, under one name.
func tableOutputs(base string, tables []*grid.Table) []atomicfile.Output {
	return []atomicfile.Output{
		{Path: base + ".xlsx", Write: func(w io.Writer) error { return grid.WriteXLSX(w, tables...) }},
		{Path: base + ".csv", Write: func(w io.Writer) error { return grid.WriteCSV(w, tables[0]) }},
		{Path: base + ".json", Write: func(w io.Writer) error { return grid.WriteJSON(w, tables...) }},
	}
}
