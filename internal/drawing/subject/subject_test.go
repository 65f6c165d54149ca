package subject_test

import (
	"errors"
	"math"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// checkMeasured holds the two ends of every measured distance to the figure of
// the finding, and gives how many there were.
func checkMeasured(t *testing.T, m *model.Model, all []finding.Finding) int {
	t.Helper()
	x := subject.NewIndex(m)
	n := 0
	for i := range all {
		f := &all[i]
		s, err := x.Of(f)
		if err != nil {
			t.Errorf("%s: %v", f.Title, err)
			continue
		}
		if math.Abs(s.Aim.Dir.Norm()-1) > 1e-9 || math.Abs(s.Aim.Dir.Dot(s.Axis())) > 1e-6 {
			t.Errorf("%s: the section runs along %v, the axis along %v", f.Title, s.Aim.Dir, s.Axis())
		}
		from, to, ok := s.Measured()
		if !ok || s.Instance.Unit != "mm" {
			continue
		}
		n++
		if got, want := from.Dist(to), math.Abs(s.Instance.Measured); math.Abs(got-want) > 0.02*want+0.05 {
			t.Errorf("%s: the ends are %.2f mm apart, measured was %.2f", f.Title, got, want)
		}
	}
	return n
}

func TestEndsAreAsFarApartAsMeasured(t *testing.T) {
	n := 0
	for _, build := range []func(geom.Affine) *handmade.Scene{handmade.Panel, handmade.Lifter, handmade.PlateAtOpening, handmade.Footing} {
		for _, p := range handmade.Placements {
			s := build(p.At)
			s.Model.Origin = geom.V(1e6, 2e6, 3e5)
			all, err := rules.Run(s.Model, rules.Builtin(), 1)
			if err != nil {
				t.Fatal(err)
			}
			n += checkMeasured(t, s.Model, all)
		}
	}
	if n < 12 {
		t.Errorf("only %d distances were compared", n)
	}
}

func TestEndsInModels(t *testing.T) {
	for _, pattern := range []string{
		filepath.Join("..", "..", "..", "testdata", "demo", "*.ifc"),
		filepath.Join("..", "..", "..", "..", "shared", "data", "models", "precast-*.ifc"),
	} {
		t.Run(filepath.Base(filepath.Dir(pattern)), func(t *testing.T) {
			paths, err := filepath.Glob(pattern)
			if err != nil {
				t.Fatal(err)
			}
			if len(paths) == 0 {
				t.Skipf("no models at %s", pattern)
			}
			m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			if n := checkMeasured(t, m, run.Findings); n == 0 {
				t.Error("nothing was compared")
			}
		})
	}
}

// Elements that share an identifier are told apart by their names and places.
func TestSharedIdentifiers(t *testing.T) {
	s := handmade.New(geom.Identity)
	h := s.Host("IfcWall", "W", geom.BoxMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500)))
	bolt := func(name string, x float64) *model.Item {
		return s.Add(h, handmade.Rod{Kind: model.Bolt, Name: name, Open: geom.V(x, -100, 600), Dir: geom.V(0, 1, 0), D: 20, Length: 260})
	}
	a, b, c := bolt("A", 500), bolt("B", 1500), bolt("B", 2500)
	for _, it := range []*model.Item{a, b, c} {
		it.GlobalID = "same"
	}
	x := subject.NewIndex(s.Model)
	for _, want := range []*model.Item{a, b, c} {
		f := &finding.Finding{Rule: "edge-distance", Host: finding.Ref{GlobalID: h.GlobalID, Class: h.Class, Name: h.Name, Model: "hand.ifc"},
			Instances: []finding.Instance{{
				Item: finding.Ref{GlobalID: "same", Class: want.Class, Name: want.Name, Model: "hand.ifc"},
				At:   s.Model.World(want.Anchors[0].Entry.Point),
			}}}
		got, err := x.Of(f)
		if err != nil {
			t.Fatal(err)
		}
		if got.Item != want || got.Host != h {
			t.Errorf("%s at %v is taken for %s at %v", want.Name, want.Box.Min, got.Item.Name, got.Item.Box.Min)
		}
	}
}

func TestNoPlace(t *testing.T) {
	s := handmade.Panel(geom.Identity)
	x := subject.NewIndex(s.Model)
	for _, f := range []finding.Finding{
		{ID: "no instances"},
		{ID: "not there", Instances: []finding.Instance{{Item: finding.Ref{GlobalID: "gone"}}}},
	} {
		var no *subject.NoPlaceError
		if _, err := x.Of(&f); !errors.As(err, &no) || no.Finding != f.ID {
			t.Errorf("%s: got %v", f.ID, err)
		}
	}
}

// The depth at which an edge distance was taken: on a wedge the concrete is
// narrowest at the anchor's end, beside a plain edge at the face.
func TestDepthOfTheEdge(t *testing.T) {
	wedge := geom.Prism([]geom.Vec2{{X: 0, Y: 400}, {X: 1000, Y: 400}, {X: 1000, Y: 0}}, nil,
		geom.FrameZX(geom.Vec{}, geom.V(0, -1, 0), geom.V(1, 0, 0)), geom.V(0, 0, -1), 3000)
	for _, c := range []struct {
		name        string
		x           float64
		dist, depth float64
	}{
		{"towards the slope", 600, 225, 150},
		{"towards the upright side", 900, 100, 0},
	} {
		s := handmade.New(geom.Identity)
		h := s.Host("IfcSlab", "wedge", wedge)
		it := s.Add(h, handmade.Rod{Kind: model.Bolt, Name: "B", Open: geom.V(c.x, 1500, 450), Dir: geom.V(0, 0, -1), D: 20, Length: 200})
		f := &finding.Finding{Rule: "edge-distance", Instances: []finding.Instance{{
			Item: finding.Ref{GlobalID: it.GlobalID, Class: it.Class, Name: it.Name, Model: "hand.ifc"}, Measured: c.dist, Unit: "mm",
			At: s.Model.World(it.Anchors[0].Entry.Point),
		}}}
		got, err := subject.NewIndex(s.Model).Of(f)
		if err != nil {
			t.Fatal(err)
		}
		e := got.Aim.Edge
		if e == nil || math.Abs(e.Dist-c.dist) > 0.1 || math.Abs(e.Depth-c.depth) > 5 {
			t.Errorf("%s: the edge is %+v, want %v mm away and %v mm deep", c.name, e, c.dist, c.depth)
		}
	}
}

// TestPlateOverBolts: a finding that names the base plate of another model is shown
// with it, also where nothing of it is cast in.
func TestPlateOverBolts(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", "demo", "*.ifc"))
	if err != nil {
		t.Fatal(err)
	}
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	x := subject.NewIndex(m)
	n := 0
	for i := range run.Findings {
		f := &run.Findings[i]
		if f.Rule != "set-pattern" {
			continue
		}
		n++
		s, err := x.Of(f)
		if err != nil {
			t.Fatal(err)
		}
		if o := s.Aim.Item; o == nil || o.Name != "Base plate 420x420x25" || o.Host != s.Host || s.Aim.Known {
			t.Errorf("%s: shown with %+v", f.Title, s.Aim.Item)
		}
	}
	if n != 1 {
		t.Errorf("%d findings about a plate over bolts, want 1", n)
	}
	for _, it := range m.Items {
		if it.Name == "Base plate 420x420x25" {
			t.Error("the base plate became an item of the model")
		}
	}
}
