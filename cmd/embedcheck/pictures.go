package main

import (
	"io"
	"os"
	"path/filepath"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/internal/snapshot"
)

// snapshots gives the pictures of the issue list. A finding that there is no
// picture of, such as one about a file, goes without.
func snapshots(m *model.Model) func(*finding.Finding) ([]byte, error) {
	maker := snapshot.New(m)
	return func(f *finding.Finding) ([]byte, error) {
		png, err := maker.Render(f)
		if err != nil {
			return nil, nil
		}
		return png, nil
	}
}

// writeDrawings writes a dimensioned drawing of each finding, all or none, named
// by the finding's id.
func writeDrawings(dir string, m *model.Model, run *finding.Run) (report.File, error) {
	dir = filepath.Join(dir, "drawings")
	file := report.File{Path: dir, What: "a dimensioned drawing of each finding, SVG"}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return file, err
	}
	maker := drawing.New(m)
	var out []atomicfile.Output
	for i := range run.Findings {
		f := &run.Findings[i]
		d, err := maker.For(f)
		if err != nil {
			continue // nothing to draw: the finding is about a file or an unread body
		}
		out = append(out, atomicfile.Output{
			Path:  filepath.Join(dir, f.ID+".svg"),
			Write: func(w io.Writer) error { return d.SVG(w) },
		})
	}
	return file, atomicfile.WriteAll(out...)
}
