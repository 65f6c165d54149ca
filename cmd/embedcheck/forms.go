package main

import (
	"io"
	"path/filepath"
	"slices"
	"strings"

	"embedcheck/internal/asbuilt"
	"embedcheck/internal/atomicfile"
	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
)

// formOutputs are blank forms for measured values: one for the tape and one for
// an instrument, each as CSV and as a workbook.
func formOutputs(dir string, p *asbuilt.Plan, units []*setout.Unit) ([]report.File, []atomicfile.Output) {
	var files []report.File
	var out []atomicfile.Output
	for _, f := range []struct {
		name, what string
		table      *grid.Table
	}{
		{"form-tape", "every dimension with its tolerance, to fill in what the tape shows", p.TapeForm(units)},
		{"form-points", "corners and open ends, to fill in what an instrument gives", p.PointForm(units)},
	} {
		csv, book := filepath.Join(dir, f.name+".csv"), filepath.Join(dir, f.name+".xlsx")
		files = append(files, report.File{Path: csv, What: f.what}, report.File{Path: book, What: "the same as a workbook"})
		out = append(out,
			atomicfile.Output{Path: csv, Write: func(w io.Writer) error { return grid.WriteCSV(w, f.table) }},
			atomicfile.Output{Path: book, Write: func(w io.Writer) error { return grid.WriteXLSX(w, f.table) }},
		)
	}
	return files, out
}

// unitsOf are the units of the hosts that are named by mark, name or GlobalId;
// all where none is.
func unitsOf(p *asbuilt.Plan, hosts []string) ([]*setout.Unit, error) {
	if len(hosts) == 0 {
		return p.Units, nil
	}
	var out []*setout.Unit
	for _, h := range hosts {
		before := len(out)
		for _, u := range p.Units {
			if (strings.EqualFold(h, u.Mark) || strings.EqualFold(h, u.Host.Name) || h == u.Host.GlobalID) && !slices.Contains(out, u) {
				out = append(out, u)
			}
		}
		if len(out) == before {
			return nil, usagef("--host %s: the models have no such host with items; embedcheck inventory lists them", finding.Plain(h))
		}
	}
	return out, nil
}
