package check_test

import (
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/rules"
)

// A brace runs askew past a bolt: its box holds the place before the bolt, its
// concrete does not, though nothing is cast into it. The same brace turned the
// other way stands 70 mm before the bolt's end.
func TestAccessLooksAtTheShapeAndNotAtTheBox(t *testing.T) {
	for _, v := range []struct {
		schema ifc.Schema
		unit   ifc.Unit
		place  ifc.Frame
	}{
		{ifc.IFC4, ifc.MM, here}, {ifc.IFC2X3, ifc.Metre, standing}, {ifc.IFC4X3, ifc.Inch, turned}, {ifc.IFC4, ifc.Foot, farAway},
	} {
		for _, c := range []struct {
			name string
			at   ifc.Frame
			want []float64
		}{
			{"past", ifc.At(1000, 500, 300).TurnZ(45).Shift(0, 400, 0), nil},
			{"before", ifc.At(1000, 500, 370).TurnZ(45).Shift(0, -100, 0), []float64{70}},
		} {
			b := ifc.New(v.schema, v.unit, ifc.Placed(v.place))
			b.Add(ifc.Element{Class: "IfcSlab", Name: "SL-1", At: here, Material: "Concrete C32/40", Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(2000, 1000, 200))}})
			b.Add(ifc.Element{
				Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "HB1 M20", At: here,
				Body: []ifc.Solid{ifc.Rod(ifc.Straight(ifc.V(1000, 500, 300), ifc.V(1000, 500, 50)), 20)},
			})
			b.Add(ifc.Element{Class: "IfcBeam", Name: "BR-1", At: c.at, Material: "Concrete C32/40", Body: []ifc.Solid{ifc.Block(ifc.V(-2000, 0, 0), ifc.V(2000, 200, 300))}})
			path := filepath.Join(t.TempDir(), "scene.ifc")
			if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			_, run, err := check.Run([]string{path}, check.Options{Workers: 2, Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			var got []float64
			for _, f := range run.Findings {
				for _, in := range f.Instances {
					if f.Rule == "access" {
						got = append(got, in.Measured)
					}
				}
			}
			if len(got) != len(c.want) || len(got) > 0 && (got[0] < c.want[0]-0.2 || got[0] > c.want[0]+0.2) {
				t.Errorf("%v, %s: found %v, want %v", v.schema, c.name, got, c.want)
			}
		}
	}
}
