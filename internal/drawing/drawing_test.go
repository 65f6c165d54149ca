package drawing

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
)

func number64(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// scenes are the places that are drawn by hand, with what their drawings have to
// state: figures that follow from how the scene is built.
var scenes = []struct {
	name  string
	build func(geom.Affine) *handmade.Scene
	rule  string
	fails string // name of the failing dimension
	dims  map[string]float64
}{
	{"bolt near the edge of a panel", handmade.Panel, "edge-distance", "edge distance",
		map[string]float64{"edge distance": 65, "embedment depth": 147, "projection": 100, "member thickness": 180, "back cover": 20}},
	{"bar through a lifter", handmade.Lifter, "reinforcement-clearance", "clear distance",
		map[string]float64{"clear distance": -10}},
	{"plate with studs at an opening", handmade.PlateAtOpening, "edge-distance", "edge distance",
		map[string]float64{"edge distance": 15, "spacing": 140}},
	{"footing with short bolts", handmade.Footing, "embedment-depth", "embedment depth",
		map[string]float64{"embedment depth": 186, "projection": 120, "member thickness": 400, "back cover": 190, "spacing": 240}},
	{"cone of a lifter", handmade.Lifter, "concrete-cone", "", map[string]float64{"edge distance": 80, "embedment depth": 228, "cone reach": 342}},
}

func TestDimensionsAreThoseOfTheModel(t *testing.T) {
	for _, c := range scenes {
		for _, p := range handmade.Placements {
			name := c.name + ", " + p.Name
			s := c.build(p.At)
			f := s.Found(t, c.rule)
			d, err := New(subject.NewIndex(s.Model)).For(f)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			save(t, name, d)
			checkSheet(t, name, d)
			dims, _ := svgDims(t, name, d)
			if len(dims) != len(d.Dims) {
				t.Errorf("%s: %d dimensions in the file, %d as data", name, len(dims), len(d.Dims))
			}
			checkDims(t, name, dims, c.dims)
			checkFailing(t, name, dims, c.fails, f.Worst().Measured)
		}
	}
}

func checkDims(t *testing.T, name string, dims []Dim, want map[string]float64) {
	t.Helper()
	for n, v := range want {
		ok := false
		for _, d := range dims {
			ok = ok || d.Name == n && math.Abs(d.ValueMM-v) < 0.05
		}
		if !ok {
			t.Errorf("%s: no %s of %v among %v", name, n, v, dims)
		}
	}
}

// checkFailing holds the failing dimension, of which there is one at most, to
// the finding's figure.
func checkFailing(t *testing.T, name string, dims []Dim, fails string, measured float64) {
	t.Helper()
	n := 0
	for _, d := range dims {
		if !d.Fails {
			continue
		}
		n++
		if d.Name != fails || math.Abs(d.ValueMM-measured) > 0.01 {
			t.Errorf("%s: %v is drawn as failing, want %s %v", name, d, fails, measured)
		}
	}
	if want := min(len(fails), 1); n != want {
		t.Errorf("%s: %d failing dimensions, want %d", name, n, want)
	}
}

// save writes a drawing where somebody wants to look at them: set
// EMBEDCHECK_DRAWINGS to a folder.
func save(t testing.TB, name string, d *Drawing) {
	dir := os.Getenv("EMBEDCHECK_DRAWINGS")
	if dir == "" {
		return
	}
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".svg"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestSameDrawingGivesSameBytes(t *testing.T) {
	var first []byte
	for range 3 {
		s := handmade.Footing(geom.Identity)
		d, err := New(subject.NewIndex(s.Model)).For(s.Found(t, "embedment-depth"))
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := d.SVG(&b); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b.Bytes()
		} else if !bytes.Equal(first, b.Bytes()) {
			t.Fatal("the bytes differ")
		}
	}
}
