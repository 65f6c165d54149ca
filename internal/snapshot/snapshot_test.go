package snapshot

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

var scenes = []struct {
	name  string
	build func(geom.Affine) *handmade.Scene
	rule  string
	named bool // something else is drawn in its own colour
}{
	{"bolt near the edge of a panel", handmade.Panel, "edge-distance", false},
	{"bar through a lifter", handmade.Lifter, "reinforcement-clearance", true},
	{"plate with studs at an opening", handmade.PlateAtOpening, "edge-distance", false},
	{"footing with short bolts", handmade.Footing, "embedment-depth", false},
}

// save writes a picture where somebody wants to look at it: set
// EMBEDCHECK_PICTURES to a folder.
func save(t testing.TB, name string, b []byte) {
	if dir := os.Getenv("EMBEDCHECK_PICTURES"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name+".png"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// hues counts the pixels of a picture that have a paint's hue, however shaded.
func hues(img image.Image, p paint) int {
	rgba, ok := img.(*image.RGBA)
	if !ok {
		return -1
	}
	n := 0
	c := colours[p]
	most := max(c[0], c[1], c[2])
	for y := range height - captionH {
		row := rgba.Pix[y*rgba.Stride : y*rgba.Stride+4*width]
		for ; len(row) > 0; row = row[4:] {
			top := float64(max(row[0], row[1], row[2]))
			off := 0.0
			for i := range c {
				off = max(off, math.Abs(float64(row[i])/top-c[i]/most))
			}
			if top >= 60 && off < 0.03 {
				n++
			}
		}
	}
	return n
}

func pictureOf(m *model.Model, f *finding.Finding) ([]byte, error) {
	shot, err := New(subject.NewIndex(m)).Take(f)
	if err != nil {
		return nil, err
	}
	return shot.PNG, nil
}

func TestTheItemIsSeenInsideTheConcrete(t *testing.T) {
	for _, c := range scenes {
		for i, p := range handmade.Placements {
			s := c.build(p.At)
			f := s.Found(t, c.rule)
			b, err := pictureOf(s.Model, f)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			name := fmt.Sprintf("%s %d", c.name, i)
			save(t, name, b)
			img, err := png.Decode(bytes.NewReader(b))
			if err != nil {
				t.Fatal(err)
			}
			if img.Bounds() != image.Rect(0, 0, width, height) {
				t.Errorf("%s: the picture is %v", name, img.Bounds())
			}
			const least = 1500 // pixels
			for _, p := range []paint{theItem, cutFace, concrete} {
				if n := hues(img, p); n < least {
					t.Errorf("%s: %d pixels of paint %d, want %d", name, n, p, least)
				}
			}
			if n := hues(img, named); c.named && n < 100 {
				t.Errorf("%s: the bar is not seen: %d pixels", name, n)
			}
		}
	}
}

// A solid of the same size in front of everything must be cut away: were it not,
// an item wholly inside would not be seen at all.
func TestTheCutGoesThroughTheItem(t *testing.T) {
	s := handmade.New(geom.Identity)
	h := s.Host("IfcSlab", "S", geom.BoxMesh(geom.V(0, 0, 0), geom.V(2000, 2000, 300)))
	it := s.Add(h, handmade.Rod{Kind: model.Socket, Name: "S-1", Open: geom.V(1000, 1000, 300), Dir: geom.V(0, 0, -1), D: 30, Length: 120})
	f := &finding.Finding{ID: "1", Rule: "embedment-depth", Instances: []finding.Instance{{
		Item: finding.Ref{GlobalID: it.GlobalID, Class: it.Class, Name: it.Name, Model: "hand.ifc"}, Anchor: 0,
		Measured: 120, Required: 150, Unit: "mm", Relation: finding.AtLeast, At: geom.V(1, 1, 0.3),
	}}}
	b, err := pictureOf(s.Model, f)
	if err != nil {
		t.Fatal(err)
	}
	save(t, "socket in a slab", b)
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if n := hues(img, theItem); n < 5000 {
		t.Errorf("%d pixels of the socket are seen", n)
	}
}

func TestSamePictureGivesSameBytes(t *testing.T) {
	var first []byte
	for range 3 {
		s := handmade.Footing(geom.Identity)
		b, err := pictureOf(s.Model, s.Found(t, "embedment-depth"))
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b
		} else if !bytes.Equal(first, b) {
			t.Fatal("the bytes differ")
		}
	}
}

func TestViewIsThatOfThePicture(t *testing.T) {
	for _, c := range scenes {
		for _, p := range handmade.Placements {
			s := c.build(p.At)
			s.Model.Origin = geom.V(1e6, 2e6, 3e5)
			f := s.Found(t, c.rule)
			shot, err := New(subject.NewIndex(s.Model)).Take(f)
			if err != nil {
				t.Fatal(err)
			}
			cam := shot.Camera
			if host := shot.Host; host.Empty() || !host.Grow(1e-3).Has(f.Worst().At) {
				t.Errorf("%s: the place %v is not in the host %v", c.name, f.Worst().At, host)
			}
			if math.Abs(cam.Dir.Norm()-1) > 1e-9 || math.Abs(cam.Up.Norm()-1) > 1e-9 || math.Abs(cam.Dir.Dot(cam.Up)) > 1e-9 {
				t.Errorf("%s: the axes are not square: %v", c.name, cam)
			}
			w := f.Worst().At.Sub(cam.Eye)
			if cos := w.Unit().Dot(cam.Dir); cos < math.Cos(30*math.Pi/180) {
				t.Errorf("%s: the place is %.0f degrees off the middle", c.name, math.Acos(cos)*180/math.Pi)
			}
			if d := w.Norm(); d < 0.2 || d > 10 {
				t.Errorf("%s: the eye is %v m away", c.name, d)
			}
			if cam.Clip == nil || cam.Clip.Dir.Dot(cam.Dir) > -0.5 {
				t.Errorf("%s: the cut is not seen: %v", c.name, cam.Clip)
			}
			if n := f.Worst().Normal; n != (geom.Vec{}) && n.Dot(cam.Dir) > 0 {
				t.Errorf("%s: seen from inside", c.name)
			}
		}
	}
}

func TestHostileNamesInTheCaption(t *testing.T) {
	for _, n := range []string{"\x00\x1b[31m", "\u202eabc", "\xff", strings.Repeat("W", 10000), "基礎", "", "😀\u0301"} {
		s := handmade.Lifter(geom.Identity)
		f := s.Found(t, "reinforcement-clearance")
		f.Rule = n
		s.Model.Items[0].Name, f.Instances[0].Item.Name = n, n
		if _, err := New(subject.NewIndex(s.Model)).Take(f); err != nil {
			t.Errorf("%.20q: %v", n, err)
		}
	}
}

func TestNothingToBeSeen(t *testing.T) {
	s := handmade.Panel(geom.Identity)
	f := s.Found(t, "edge-distance")
	f.Instances[0].Item.GlobalID = "gone"
	var no *subject.NoPlaceError
	if _, err := New(subject.NewIndex(s.Model)).Take(f); !errors.As(err, &no) {
		t.Errorf("got %v", err)
	}
}

func demo(t testing.TB) (*model.Model, []finding.Finding) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "demo", "*.ifc"))
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		t.Skip("no demonstration models")
	}
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m, run.Sorted().Findings
}

func TestDemoIsRendered(t *testing.T) {
	m, all := demo(t)
	mk := New(subject.NewIndex(m))
	for i := range all {
		shot, err := mk.Take(&all[i])
		if err != nil {
			t.Errorf("%s: %v", all[i].Title, err)
			continue
		}
		save(t, fmt.Sprintf("demo %03d %s", i, all[i].Rule), shot.PNG)
		img, err := png.Decode(bytes.NewReader(shot.PNG))
		if err != nil {
			t.Fatal(err)
		}
		if n := hues(img, theItem); n < 300 {
			t.Errorf("%s: %d pixels of the item are seen", all[i].Title, n)
		}
	}
}

func BenchmarkDemo(b *testing.B) {
	m, all := demo(b)
	mk := New(subject.NewIndex(m))
	n := 0
	for b.Loop() {
		if _, err := mk.Take(&all[n%len(all)]); err != nil {
			b.Fatal(err)
		}
		n++
	}
}
