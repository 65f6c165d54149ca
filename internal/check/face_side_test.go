package check_test

import (
	"math"
	"testing"

	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/rules"
)

// A panel of 3000 x 200 x 2000 mm, cast lying on its front, which looks to -Y of
// its own placement, with a bolt M20 that stands 80 mm out of its back. Turned
// over, by the statement alone, the bolt stands in the form; and two bolts of a
// pair on two faces are 200 mm apart along Y.
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
			{"not stated", nil, false, []float64{80}},
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
