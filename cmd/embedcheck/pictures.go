package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/bcf"
	"embedcheck/internal/drawing"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/internal/snapshot"
)

// scenes gives what the issue list shows of a finding: its picture with the
// camera, and its drawing. A finding that there is no picture of, such as one
// about a file, goes without.
func scenes(m *model.Model) func(*finding.Finding) (*bcf.Scene, error) {
	index := subject.NewIndex(m)
	pictures, drawings := snapshot.With(index), drawing.With(index)
	return func(f *finding.Finding) (*bcf.Scene, error) {
		shot, err := pictures.Take(f)
		if err != nil {
			return nil, nil
		}
		s := sceneOf(shot)
		d, err := drawings.For(f)
		if err != nil {
			return s, nil
		}
		var svg bytes.Buffer
		if err := d.SVG(&svg); err != nil {
			return nil, err
		}
		s.Drawing = &bcf.Drawing{Name: "drawing.svg", Data: svg.Bytes()}
		return s, nil
	}
}

func sceneOf(shot *snapshot.Shot) *bcf.Scene {
	c := shot.Camera
	s := &bcf.Scene{
		Picture: shot.PNG,
		Camera:  &bcf.Camera{Eye: c.Eye, Direction: c.Dir, Up: c.Up, Field: c.FOV, Aspect: c.Aspect},
	}
	if c.Clip != nil {
		s.Cut = &bcf.Plane{At: c.Clip.At, Direction: c.Clip.Dir}
	}
	if !shot.Host.Empty() {
		s.Host = &bcf.Ball{Centre: shot.Host.Center(), Radius: shot.Host.Size().Norm() / 2}
	}
	return s
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
