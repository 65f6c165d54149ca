package main

import (
	"bytes"
	"errors"
	"path/filepath"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/bcf"
	"embedcheck/internal/drawing"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/internal/scene"
	"embedcheck/internal/snapshot"
)

// views draws the findings of one model: everything that is written about a run
// shares one index of its bars and items.
type views struct {
	pictures *snapshot.Maker
	drawings *drawing.Maker
	scenes   *scene.Maker
}

func newViews(m *model.Model) *views {
	index := subject.NewIndex(m)
	return &views{snapshot.New(index), drawing.New(index), scene.New(index)}
}

// scene is what the issue list shows of a finding: its picture with the camera,
// and its drawing. A finding that there is no picture of, such as one about a
// file, goes without.
func (v *views) scene(f *finding.Finding) (*bcf.Scene, error) {
	shot, err := v.pictures.Take(f)
	if err != nil {
		return nil, nil
	}
	s := sceneOf(shot)
	d, err := v.drawings.For(f)
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

// inline is the drawing of a finding as a page has it. A finding that there is
// nothing to be seen of goes without.
func (v *views) inline(f *finding.Finding) ([]byte, error) {
	d, err := v.drawings.For(f)
	var nothing *subject.NoPlaceError
	if errors.As(err, &nothing) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = d.Inline(&b)
	return b.Bytes(), err
}

// outputs are a dimensioned drawing of each finding, named by the finding's id.
func (v *views) outputs(dir string, run *finding.Run) (report.File, []atomicfile.Output) {
	dir = filepath.Join(dir, "drawings")
	var out []atomicfile.Output
	for i := range run.Findings {
		f := &run.Findings[i]
		d, err := v.drawings.For(f)
		if err != nil {
			continue // nothing to draw: the finding is about a file or an unread body
		}
		out = append(out, atomicfile.Output{Path: filepath.Join(dir, f.ID+".svg"), Write: d.SVG})
	}
	return report.File{Path: dir, What: "a dimensioned drawing of each finding, SVG"}, out
}
