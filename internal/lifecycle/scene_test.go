package lifecycle_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/lifecycle"
	"embedcheck/rules"
)

// seenFrom writes views from x metres and a drawing that holds a text.
func seenFrom(v bcf.Version, x float64, drawing string) *bcf.Writer {
	return &bcf.Writer{Version: v, Author: "embedcheck", Scene: func(*finding.Finding) (*bcf.Scene, error) {
		return &bcf.Scene{
			Camera:  &bcf.Camera{Eye: geom.V(x, -3, 2), Direction: geom.V(0, 1, 0), Up: geom.V(0, 0, 1), Field: 45, Aspect: 4.0 / 3},
			Host:    &bcf.Ball{Centre: geom.V(2, 2, 1), Radius: 4},
			Drawing: &bcf.Drawing{Name: "drawing.svg", Data: []byte(drawing)},
		}, nil
	}}
}

// Views may not be changed, so a moved one comes as another; the drawing is that
// of the last release, in whichever version the list goes on.
func TestScenesThroughReleases(t *testing.T) {
	was, _ := run(t, first(), rules.Builtin(), nil)
	guid := bcf.TopicGUID(edges(was)[0].ID)
	var e *lifecycle.Earlier
	for i, c := range []struct {
		w       *bcf.Writer
		drawing string
		views   int
	}{
		{seenFrom(bcf.V21, 1, "first"), "first", 2},
		{seenFrom(bcf.V21, 1, "first"), "first", 2},
		{seenFrom(bcf.V30, 1, "second"), "second", 2},
		{seenFrom(bcf.V30, 1.5, "third"), "third", 3},
		{seenFrom(bcf.V21, 1.5, "fourth"), "fourth", 3},
	} {
		is, compared := run(t, first(), rules.Builtin(), e)
		path := filepath.Join(t.TempDir(), "issues.bcf")
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := lifecycle.WriteIssues(f, c.w, is, e, compared); err != nil {
			t.Fatal(err)
		}
		f.Close()
		if e, err = lifecycle.Load(path); err != nil {
			t.Fatal(err)
		}
		defer e.Close()
		for _, top := range e.Issues.Topics {
			if top.GUID != guid {
				continue
			}
			if len(top.Viewpoints) != c.views || len(top.Documents) != 1 {
				t.Errorf("release %d: %d views and %d documents", i, len(top.Viewpoints), len(top.Documents))
			}
			if got := drawingOf(t, e.Issues, top); got != c.drawing {
				t.Errorf("release %d: the drawing is %q, want %q", i, got, c.drawing)
			}
		}
	}
}

// drawingOf is the content of the first document of a topic.
func drawingOf(t *testing.T, a *bcf.Archive, top *bcf.Topic) string {
	t.Helper()
	name, files := top.Documents[0].Path, top.Files
	if id := top.Documents[0].Document; id != "" {
		name, files = "Documents/"+id, a.Files
	}
	for i := range files {
		if strings.EqualFold(files[i].Name, name) {
			data, err := files[i].Data()
			if err != nil {
				t.Fatal(err)
			}
			return string(data)
		}
	}
	t.Fatalf("no file %s", name)
	return ""
}
