package snapshot_test

import (
	"bytes"
	"image/png"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/snapshot"
	"embedcheck/rules"
)

// TestDemoPictures renders every finding of the demo twice: a PNG within the 1500
// pixels that BCF allows, with more than background in it, the same each time.
func TestDemoPictures(t *testing.T) {
	paths, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "demo", "*.ifc"))
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	maker := snapshot.New(m)
	drawn := 0
	for i := range run.Findings {
		f := &run.Findings[i]
		pic, err := maker.Render(f)
		if err != nil {
			t.Errorf("%s %s: %v", f.Rule, f.Set, err)
			continue
		}
		again, _ := maker.Render(f)
		if !bytes.Equal(pic, again) {
			t.Errorf("%s %s: another picture the second time", f.Rule, f.Set)
		}
		img, err := png.Decode(bytes.NewReader(pic))
		if err != nil {
			t.Fatal(err)
		}
		b := img.Bounds()
		if b.Dx() > 1500 || b.Dy() > 1500 {
			t.Errorf("%s: %v is too large for BCF", f.Rule, b)
		}
		shades := map[any]bool{}
		for y := b.Min.Y; y < b.Max.Y; y += 5 {
			for x := b.Min.X; x < b.Max.X; x += 5 {
				shades[img.At(x, y)] = true
			}
		}
		if len(shades) < 4 {
			t.Errorf("%s %s: an empty picture", f.Rule, f.Set)
		}
		drawn++
	}
	if drawn == 0 {
		t.Error("nothing was drawn")
	}
}
