package check_test

import (
	"math"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/rules"
)

// A panel of 3000 x 200 x 2000 mm, cast lying on its front, which looks to -Y of
// its own placement, with a bolt M20 that stands 80 mm out of its back. Turned
// over, by the statement alone, the bolt stands in the form; and so does a second
// bolt, out of the front.
func TestFaceSideInModels(t *testing.T) {
	for _, v := range []struct {
		schema ifc.Schema
		unit   ifc.Unit
		place  ifc.Frame
	}{
		{ifc.IFC4, ifc.MM, here}, {ifc.IFC2X3, ifc.Metre, turned}, {ifc.IFC4X3, ifc.Inch, standing}, {ifc.IFC4, ifc.Foot, farAway},
	} {
		for _, c := range []struct {
			name  string
			props []ifc.Prop // of the panel
			pair  bool       // a second bolt, from the front
			want  []float64
		}{
			{"the back up", []ifc.Prop{ifc.Label("FormFace", "-Y")}, false, nil},
			{"the front up", []ifc.Prop{ifc.Label("FaceUp", "-Y")}, false, []float64{80}},
			{"not stated, which is a note without a figure", nil, false, []float64{0}},
			{"one of a pair on the form", []ifc.Prop{ifc.Label("FormFace", "-Y")}, true, []float64{80}},
		} {
			b := ifc.New(v.schema, v.unit, ifc.Placed(v.place))
			e := ifc.Element{
				Class: "IfcWall", Name: "P-1", At: here, Material: "Concrete C32/40",
				Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(3000, 200, 2000))},
			}
			if c.props != nil {
				e.Props = []ifc.PSet{{Name: "Casting", Props: c.props}}
			}
			b.Add(e)
			bolt := embed.Bolt{D: 20, Depth: 120, Out: 80, End: embed.Headed}
			bolt.Add(b, ifc.Element{Name: "Bolt M20", Tag: "B-1", At: ifc.At(1000, 200, 1000).TurnX(-90)})
			if c.pair {
				bolt.Add(b, ifc.Element{Name: "Bolt M20", Tag: "B-2", At: ifc.At(2000, 0, 1000).TurnX(90)})
			}
			path := writeModel(t, "panel.ifc", b.Bytes())
			got := placesIn(t, []string{path}, rules.Builtin(), "face-side")
			if len(got) != len(c.want) || len(got) > 0 && math.Abs(got[0].Measured-c.want[0]) > 0.2 {
				t.Errorf("%v %v %v, %s: found %+v, want %v", v.schema, v.unit, v.place.O, c.name, got, c.want)
			}
		}
	}
}

// Neither the demo nor the public models state how anything is cast: one note
// for each model with items standing out, and nothing else.
func TestFaceSideWhereNothingIsStated(t *testing.T) {
	for _, pattern := range []string{
		filepath.Join("..", "..", "testdata", "demo", "*.ifc"),
		filepath.Join("..", "..", "..", "shared", "data", "models", "*.ifc"),
	} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			t.Logf("no models at %s", pattern)
		}
		for _, path := range paths {
			_, run, err := check.Run([]string{path}, check.Options{Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			notes := 0
			for _, f := range run.Findings {
				if f.Rule != "face-side" {
					continue
				}
				if notes++; notes > 1 || f.Priority != finding.Note {
					t.Errorf("%s: %s: %s", path, f.Priority, f.Message)
				}
			}
		}
	}
}
